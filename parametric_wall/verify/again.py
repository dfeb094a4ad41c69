"""Measures the files of a built folder again, and says what is no longer as it was."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from parametric_wall.digest import digest_of, sha256
from parametric_wall.errors import OutputError
from parametric_wall.takeoff.components import COMPONENTS, SPLIT
from parametric_wall.verify.proof import FileMeasures, Row, read_back
from parametric_wall.verify.report import row_of

MODELS = (".step", ".stl", ".glb")


@dataclass(frozen=True, slots=True)
class Again:
    """What was found.

    Attributes:
        rows: the recorded rows, with the files' columns measured now.
        faults: what is wrong, in words; empty when all is as it was.
    """

    rows: tuple[Row, ...]
    faults: tuple[str, ...]

    @property
    def agrees(self) -> bool:
        """Whether nothing was changed and every row still agrees."""
        return not self.faults and all(r.agrees for r in self.rows)


def verify_folder(folder: Path, record: Mapping[str, Any]) -> Again:
    """Measure the files of a folder again.

    Args:
        folder: a built folder.
        record: its verification record.

    Raises:
        OutputError: the record is not one of this package's.
    """
    try:
        before = [row_of(r) for r in record["rows"]]
        listed = {str(f["name"]): str(f["sha256"]) for f in record["files"]}
        faults = [] if record["digest"] == digest_of(record) else ["the record was changed"]
        sound = bool(record["agrees"])
    except (KeyError, TypeError, AttributeError) as error:
        raise OutputError(f"{folder}: the verification record is incomplete: {error}") from error
    if not sound:
        faults.append("the measurements disagreed when the folder was built")
    faults += [f for name, sha in listed.items() for f in _changed(folder / name, sha)]
    paths = {Path(n).suffix: folder / n for n in listed if Path(n).suffix in MODELS}
    here = {suffix: path for suffix, path in paths.items() if path.is_file()}
    try:
        measured = read_back(here)
    except OutputError as error:
        return Again(tuple(before), (*faults, str(error)))
    rows = tuple(_measured_now(r, measured) for r in before)
    faults += [f"{r.component}: the files no longer agree" for r in rows if not r.agrees]
    return Again(rows, tuple(faults))


def _changed(path: Path, sha: str) -> list[str]:
    if not path.is_file():
        return [f"{path.name} is missing"]
    if sha256(path.read_bytes()) != sha:
        return [f"{path.name} was changed after it was written"]
    return []


def _measured_now(row: Row, files: FileMeasures) -> Row:
    """A recorded row with what the files hold now."""
    kinds = next((c.kinds for c in COMPONENTS if c.name == row.component), None)
    if kinds is None:
        kinds = tuple(k for k in SPLIT if row.component == f"of these, {k}s") or None
    step = None if files.step is None else files.step.volumes
    if kinds is None:  # The total.
        return replace(
            row,
            step=None if step is None else sum(step.values()),
            mesh=None if files.glb is None else sum(files.glb.values()),
            stl=files.stl,
        )
    if not kinds:  # The trench is dug, and in no file.
        return row
    return replace(
        row,
        step=None if step is None else sum(step.get(k, 0.0) for k in kinds),
        mesh=None if files.glb is None else sum(files.glb.get(k, 0.0) for k in kinds),
    )
