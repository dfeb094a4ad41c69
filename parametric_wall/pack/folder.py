"""A folder of results that is either wholly new or wholly as it was.

Everything is written into a hidden folder beside the results first. Only when all
of it is there does it take the place of the older files, and older files that this
build did not make again are removed, so that nothing old looks current.
"""

from __future__ import annotations

import json
import os
import shutil
import signal
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from parametric_wall.errors import OutputError

RECORD = "verification.json"
FIXED_NAMES = frozenset(
    {"setting-out.json", "take-off.json", "cut-list.csv", "findings.json", RECORD}
)
MODEL_SUFFIXES = (".step", ".stl", ".glb")


def names_of(name: str) -> frozenset[str]:
    """Every name that a file of a job's results can have."""
    return FIXED_NAMES | {name + suffix for suffix in MODEL_SUFFIXES}


@contextmanager
def staged(folder: Path, name: str) -> Iterator[Path]:
    """A hidden folder to write into; its files replace those of `folder` at the end.

    Args:
        folder: where the results go.
        name: the job's.

    Raises:
        OutputError: the folder cannot be written to, or the disk is full. What was
            there before is untouched.
    """
    made: list[Path] = []
    stage: Path | None = None
    try:
        made = [path for path in (folder, *folder.parents) if not path.exists()]
        folder.mkdir(parents=True, exist_ok=True)
        stage = Path(tempfile.mkdtemp(prefix=".part-", dir=folder))
        yield stage
        with _uninterrupted():
            _replace(stage, folder, name)
    except OSError as error:
        reason = error.strerror or error
        raise OutputError(f"{folder}: the results cannot be written: {reason}") from error
    finally:
        with _uninterrupted():
            if stage is not None:
                shutil.rmtree(stage, ignore_errors=True)
            with suppress(OSError):  # Where something stands in it, it stays.
                for path in made:
                    path.rmdir()


def write(path: Path, data: bytes) -> None:
    """Write a file of the stage, down to the disk."""
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def write_new(path: Path, data: bytes) -> None:
    """Write a file where none is: the whole of it, or nothing.

    Raises:
        OutputError: there is one already; it is left as it is.
        OSError: it cannot be written.
    """
    try:
        file = path.open("xb")
    except FileExistsError:
        raise OutputError(f"{path}: exists already, and is left as it is") from None
    try:
        with file:
            file.write(data)
    except BaseException:
        path.unlink()
        raise


def _replace(stage: Path, folder: Path, name: str) -> None:
    """Let the new files take the place of the older ones; put those back if that fails.

    The older record goes first and the new one comes last: whatever stops this, a
    folder between the two has none, and does not look whole.
    """
    new = sorted((p.name for p in stage.iterdir()), key=lambda n: n == RECORD)
    older = sorted(_older(folder, names_of(name)), key=lambda n: n != RECORD)
    aside = stage / "older"
    aside.mkdir()
    moves = [(folder / n, aside / n) for n in older] + [(stage / n, folder / n) for n in new]
    done: list[tuple[Path, Path]] = []
    try:
        for source, target in moves:
            source.replace(target)
            done.append((source, target))
    except BaseException:
        for source, target in reversed(done):
            target.replace(source)
        raise


def _older(folder: Path, names: frozenset[str]) -> set[str]:
    """Names of the files that an earlier build left: of this job, or of the one recorded."""
    try:
        listed = json.loads((folder / RECORD).read_text(encoding="utf-8"))["files"]
        recorded = {str(f["name"]) for f in listed}
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        recorded = set()
    # A record can be anybody's: what it lists is ours only if a build can have written it.
    ours = {n for n in recorded if Path(n).name == n and n.endswith(MODEL_SUFFIXES)}
    here = {p.name for p in folder.iterdir() if p.is_symlink() or not p.is_dir()}
    return here & (names | ours)


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Hold back Ctrl-C for the moment in which files change places."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
