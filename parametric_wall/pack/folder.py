"""A folder of results that is either wholly new or wholly as it was.

Everything is written into a hidden folder beside the results first. Only when all
of it is there does it take the place of the older files, and older files that this
build did not make again are removed, so that nothing old looks current. A file that
no build is known to have written is neither replaced nor removed: the build is refused.

A build holds a lock on its folder, which ends with its process: a second build into it
is refused, and what a killed one left there is known by that no process holds it.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import tempfile
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from parametric_wall.errors import Fault, JobError, OutputError

RECORD, FINDINGS = "verification.json", "findings.json"
DAYS, BILL_CSV, BILL_XLSX = "days.json", "bill.csv", "bill.xlsx"
CUT_LISTS = frozenset({"cut-list.csv", "cut-list-laying.csv", "cut-list-lengths.csv"})
ORDERS = frozenset({"order.json", "order.csv", DAYS, BILL_CSV, BILL_XLSX})
FIXED_NAMES = CUT_LISTS | ORDERS | {"setting-out.json", "take-off.json", FINDINGS, RECORD}
STAGE = ".part-"
LEFT_BEHIND = re.compile(re.escape(STAGE) + r"[a-z0-9_]{8}")
"""A stage's name, as `tempfile` makes it."""
MODEL_SUFFIXES = (".step", ".stl", ".glb")
DAYS_CHART, STILL, PAGE = "-days.svg", "-still.svg", ".html"
NAMED_SUFFIXES = (*MODEL_SUFFIXES, PAGE, DAYS_CHART, STILL)
RECORD_KEYS = frozenset({"job", "rows", "files", "digest"})
FINDINGS_KEYS = frozenset({"job", "findings"})


@dataclass(frozen=True, slots=True)
class Kind:
    """Results that belong together; those of another kind in the same folder are let be.

    Attributes:
        record: the file that lists the others; it goes first and comes last.
        keys: that its object has.
        suffixes: of files whose names are not the same for every job.
    """

    record: str
    keys: frozenset[str]
    suffixes: tuple[str, ...]


BUILD = Kind(RECORD, RECORD_KEYS, (*MODEL_SUFFIXES, PAGE, ".svg"))
DRAWINGS = Kind("drawings.json", frozenset({"job", "sheets", "files"}), (".svg", ".pdf", ".dxf"))
PACK = Kind("pack.json", frozenset({"job", "sections", "files"}), (".pdf", ".html", ".svg"))


def names_of(name: str, papers: Iterable[str] = ()) -> frozenset[str]:
    """Every name that a file of a job's results can have, those papers among them."""
    return FIXED_NAMES | {name + suffix for suffix in NAMED_SUFFIXES} | set(papers)


def folder_of(out: str) -> Path:
    """The folder that a command was told to write to.

    Raises:
        JobError: it was told none, or a file.
    """
    if not out.strip():
        raise JobError([Fault("--out", "", "names no folder", "use . for the one you are in")])
    if Path(out).is_file():
        raise JobError([Fault("--out", out, "names a file", "give a folder")])
    return Path(out)


def keep(job: str, out: Path, name: str) -> None:
    """See that no result takes the place of the job file itself.

    Raises:
        OutputError: one would.
    """
    own = out / Path(job).name
    if own.name in names_of(name) and own.exists() and own.samefile(job):
        raise OutputError(f"{job}: a result would take its place: choose another folder")


@contextmanager
def staged(
    folder: Path,
    names: frozenset[str],
    removed: Callable[[list[str]], object] = lambda _: None,
    kind: Kind = BUILD,
) -> Iterator[Path]:
    """A hidden folder to write into; its files replace those of `folder` at the end.

    Args:
        folder: where the results go.
        names: every name that a file of the job's results can have.
        removed: told at the end which older results were removed and not made again.
        kind: of the results.

    Raises:
        OutputError: the folder cannot be written to, or the disk is full, or a file
            that no build wrote stands in the way, or another build is writing there.
            What was there before is untouched.
    """
    made: list[Path] = []
    stage: Path | None = None
    try:
        made = [path for path in (folder, *folder.parents) if not path.exists()]
        folder.mkdir(parents=True, exist_ok=True)
        with _held(folder) as held:
            # What stands in the way is told before the work is done.
            _older(folder, names, kind)
            if held:
                _clear(folder)
            stage = Path(tempfile.mkdtemp(prefix=STAGE, dir=folder))
            yield stage
            with _uninterrupted():
                gone = _replace(stage, folder, names, kind)
        removed(gone)
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


@contextmanager
def _held(folder: Path) -> Iterator[bool]:
    """Hold a folder against other builds; False where the system knows no such lock."""
    try:
        import fcntl
    except ImportError:
        yield False
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        yield _locked(folder, lambda: fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB))
    finally:
        os.close(handle)


def _locked(folder: Path, lock: Callable[[], None]) -> bool:
    """Whether the lock could be had; some network folders know none."""
    try:
        lock()
    except BlockingIOError:
        raise OutputError(
            f"{folder}: another build is writing here: wait for it, or choose another folder"
        ) from None
    except OSError:
        return False
    return True


def _clear(folder: Path) -> None:
    """Remove the stages that killed builds left: the folder is held, so nobody writes there."""
    for path in folder.iterdir():
        if LEFT_BEHIND.fullmatch(path.name) and path.is_dir() and not path.is_symlink():
            shutil.rmtree(path, ignore_errors=True)


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


def _replace(stage: Path, folder: Path, names: frozenset[str], kind: Kind) -> list[str]:
    """Let the new files take the place of the older ones; put those back if that fails.

    Gives the names of the older ones that no new one replaced.

    The older record goes first and the new one comes last: whatever stops this, a
    folder between the two has none, and does not look whole.
    """
    new = sorted((p.name for p in stage.iterdir()), key=lambda n: n == kind.record)
    older = sorted(_older(folder, names, kind), key=lambda n: n != kind.record)
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
    return sorted(set(older) - set(new))


def _older(folder: Path, names: frozenset[str], kind: Kind) -> set[str]:
    """Names of the files of a kind that were left: of this job, or of the one recorded.

    Raises:
        OutputError: a file has one of the names, and nothing says that a build wrote it.
    """
    recorded = _recorded(folder, kind)
    # A record can be anybody's: what it lists is ours only if a build can have written it.
    ours = {n for n in recorded if Path(n).name == n and n.endswith(kind.suffixes)}
    here = {p.name for p in folder.iterdir() if p.is_symlink() or not p.is_dir()}
    strange = (here & names) - recorded
    if load_findings(folder) is not None:
        strange -= {FINDINGS}
    if strange:
        raise OutputError(
            f"{folder}: nothing here says that a build wrote {', '.join(sorted(strange))}: choose "
            "another folder, or remove what an earlier build left"
        )
    return here & (names | ours)


def _recorded(folder: Path, kind: Kind) -> set[str]:
    """Names of the files that a folder's record lists, and its own; none where it is none."""
    record = _object(folder / kind.record, kind.keys)
    files = record["files"] if record else None
    if not isinstance(files, list):
        return set()
    listed = {str(f["name"]) for f in files if isinstance(f, dict) and "name" in f}
    return listed | {kind.record}


def load_findings(folder: Path) -> dict[str, Any] | None:
    """The findings that a build left in a folder; None where there are none."""
    return _object(folder / FINDINGS, FINDINGS_KEYS)


def _object(path: Path, keys: frozenset[str]) -> dict[str, Any] | None:
    """A file's JSON object that has these keys; None where it is no such thing."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return None
    return found if isinstance(found, dict) and keys <= found.keys() else None


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
