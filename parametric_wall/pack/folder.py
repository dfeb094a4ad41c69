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
from contextlib import contextmanager
from pathlib import Path

from parametric_wall.errors import OutputError

RECORD = "verification.json"
FIXED_NAMES = frozenset(
    {"setting-out.json", "take-off.json", "cut-list.csv", "findings.json", RECORD}
)


@contextmanager
def staged(folder: Path) -> Iterator[Path]:
    """A hidden folder to write into; its files replace those of `folder` at the end.

    Raises:
        OutputError: the folder cannot be written to, or the disk is full. What was
            there before is untouched.
    """
    made = not folder.exists()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        stage = Path(tempfile.mkdtemp(prefix=".part-", dir=folder))
    except OSError as error:
        raise OutputError(f"{folder}: cannot be written to: {error.strerror}") from error
    try:
        yield stage
        with _uninterrupted():
            _replace(stage, folder)
    except OSError as error:
        raise OutputError(f"{folder}: could not write the results: {error.strerror}") from error
    finally:
        shutil.rmtree(stage, ignore_errors=True)
        if made and folder.exists() and not any(folder.iterdir()):
            folder.rmdir()


def write(path: Path, data: bytes) -> None:
    """Write a file of the stage, down to the disk."""
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _replace(stage: Path, folder: Path) -> None:
    new = sorted(stage.iterdir(), key=lambda p: p.name == RECORD)  # The record comes last.
    names = {p.name for p in new}
    for name in _older(folder) - names:
        (folder / name).unlink(missing_ok=True)
    for path in new:
        path.replace(folder / path.name)


def _older(folder: Path) -> set[str]:
    """Names of the files that an earlier build left."""
    names = {n for n in FIXED_NAMES if (folder / n).is_file()}
    try:
        listed = json.loads((folder / RECORD).read_text(encoding="utf-8"))["files"]
        found = {str(f["name"]) for f in listed}
    except (OSError, ValueError, KeyError, TypeError):
        found = set()
    return names | {n for n in found if Path(n).name == n and (folder / n).is_file()}


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
