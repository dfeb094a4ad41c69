"""Builds a job into a folder: models, setting-out, quantities, findings and their proof."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeGuard

from parametric_wall.checks.check import check
from parametric_wall.checks.finding import Finding, stops
from parametric_wall.digest import sha256
from parametric_wall.errors import OutputError
from parametric_wall.export import records
from parametric_wall.export.finding_records import findings_record
from parametric_wall.export.page import page_bytes
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.prices import PriceList
from parametric_wall.pack.folder import (
    FINDINGS,
    PAGE,
    RECORD,
    STILL,
    load_findings,
    names_of,
    staged,
    write,
)
from parametric_wall.pack.papers import papers
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.quantities import Quantity, quantities

if TYPE_CHECKING:
    from parametric_wall.verify.proof import Proof
    from parametric_wall.verify.report import ProofRecord

Progress = Callable[[str], None]

MOST = 1e100
"""No quantity of any unit comes near this; beyond it sums would overflow."""


@dataclass(frozen=True, slots=True)
class Built:
    """What a build gave. Where a finding stops the job there is no proof and no model.

    Attributes:
        spec: the job.
        laid: its setting-out.
        findings: all of them.
        lines: the take-off.
        proof: of the quantities.
        files: names of what was written.
        removed: names of older results in the folder that were removed and not made again.
    """

    spec: JobSpec
    laid: SettingOut
    findings: tuple[Finding, ...]
    lines: tuple[Quantity, ...]
    proof: Proof | None
    files: tuple[str, ...]
    removed: tuple[str, ...] = ()

    @property
    def good(self) -> bool:
        """Whether nothing stops the job and the proof agrees."""
        return self.proof is not None and self.proof.agrees and not stops(self.findings)


def build(
    spec: JobSpec,
    folder: Path,
    suffixes: tuple[str, ...] | None = None,
    progress: Progress = lambda _: None,
    load_kernel: Callable[[], None] = lambda: None,
    prices: PriceList | None = None,
) -> Built:
    """Build a job into a folder.

    Args:
        spec: the job.
        folder: where the results go.
        suffixes: of the models and of the page to write; all by default.
        progress: told what is being done.
        load_kernel: called before the kernel is first used; a program of one purpose can
            load it faster than a plain import does.
        prices: rates for the items of the bill.

    Raises:
        JobError: a rate is for another unit, or the days are past counting.
        OutputError: the results cannot be written; older ones are untouched.
    """
    progress("setting out")
    laid = set_out(spec)
    findings = check(spec, laid)
    found = records.json_bytes(findings_record(spec, findings))
    removed: list[str] = []
    if stops(findings):
        with staged(folder, names_of(spec.name), removed.extend) as stage:
            write(stage / FINDINGS, found)
        return Built(spec, laid, findings, (), None, (FINDINGS,), tuple(removed))
    lines = quantities(spec, laid)
    written = {FINDINGS: found, **papers(spec, laid, lines, prices)}
    if suffixes is None or PAGE in suffixes:
        picture = written[f"{spec.name}{STILL}"]
        written[f"{spec.name}{PAGE}"] = page_bytes(spec, laid, findings, lines, picture)
    with staged(folder, names_of(spec.name, written), removed.extend) as stage:
        for name, data in written.items():
            write(stage / name, data)
        progress("loading the CAD kernel")
        load_kernel()
        proof = _models(spec, laid, stage, suffixes, progress)
        names = tuple(sorted(p.name for p in stage.iterdir()))
        write(stage / RECORD, records.json_bytes(_record(spec, proof, stage, names)))
    return Built(spec, laid, findings, lines, proof, (*names, RECORD), tuple(removed))


def _models(
    spec: JobSpec,
    laid: SettingOut,
    stage: Path,
    suffixes: tuple[str, ...] | None,
    progress: Progress,
) -> Proof:
    """Write the models and prove them. The kernel is loaded only here."""
    from parametric_wall.export.formats import FORMATS
    from parametric_wall.solid.model import model_of
    from parametric_wall.verify.proof import prove, read_back

    model = model_of(laid)
    paths = {}
    for form in FORMATS:
        if suffixes is None or form.suffix in suffixes:
            progress(f"writing {model.count} pieces as {form.name}")
            paths[form.suffix] = stage / f"{spec.name}{form.suffix}"
            write(paths[form.suffix], form.write(model))
    progress("reading the files back and measuring them")
    files = read_back(paths, model)
    progress("proving that nothing overlaps and no gap is left")
    return prove(spec, laid, model, files)


def _record(spec: JobSpec, proof: Proof, stage: Path, names: tuple[str, ...]) -> ProofRecord:
    from parametric_wall.verify.report import FileRecord, proof_record

    files: list[FileRecord] = [
        {"name": n, "sha256": sha256((stage / n).read_bytes())} for n in names
    ]
    return proof_record(spec.name, spec.job.title, proof, files)


def load_record(folder: Path) -> dict[str, object]:
    """The verification record of a built folder.

    Raises:
        OutputError: there is none, or it cannot be read, or is not one.
    """
    path = folder / RECORD
    try:
        text = path.read_text(encoding="utf-8")
        record = json.loads(text, parse_float=_float, parse_constant=_float, parse_int=_int)
    except FileNotFoundError:
        refused = load_findings(folder)
        if refused is not None and refused.get("stops") is True:
            hint = f"the job was refused when it was built, as {FINDINGS} says: no model to verify"
        else:
            hint = "build a job into this folder first"
        raise OutputError(f"{folder}: has no {RECORD}; {hint}") from None
    except RecursionError:
        raise OutputError(f"{path}: is nested too deeply to be a record") from None
    except (OSError, ValueError) as error:
        raise OutputError(f"{path}: cannot be read: {error}") from error
    if not _is_record(record):
        raise OutputError(f"{path}: is not a verification record")
    return record


def _float(text: str) -> float:
    number = float(text)
    if not abs(number) < MOST:
        msg = f"{text} is no quantity"
        raise ValueError(msg)
    return number


def _int(text: str) -> int:
    _float(text)
    return int(text)


def _is_record(record: Any) -> TypeGuard[dict[str, object]]:
    """Whether this is built like a record; what its numbers say is not looked at."""
    if not isinstance(record, dict):
        return False
    rows, files = record.get("rows"), record.get("files")
    if not isinstance(rows, list) or not isinstance(files, list):
        return False
    named = [(row, "component") for row in rows] + [(file, "name") for file in files]
    return all(isinstance(item, dict) and isinstance(item.get(key), str) for item, key in named)
