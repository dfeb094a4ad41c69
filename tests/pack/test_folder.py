"""A folder of results is wholly new or wholly as it was, whatever happens in between."""

from __future__ import annotations

import errno
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Self

import pytest

from parametric_wall.errors import JobError, OutputError
from parametric_wall.pack.folder import (
    FIXED_NAMES,
    RECORD,
    folder_of,
    names_of,
    staged,
    write,
    write_new,
)


def record_of(*names: str) -> bytes:
    """A record as a build leaves it, of files of these names."""
    files = [{"name": name, "sha256": ""} for name in names]
    return json.dumps({"job": "wall", "rows": [], "files": files, "digest": ""}).encode()


OLDER = {
    "old.step": b"older model",
    "findings.json": b"older findings",
    "take-off.json": b"older take-off",
    RECORD: record_of("old.step", "findings.json", "take-off.json"),
}
NEWER = {
    "new.step": b"newer model",
    "findings.json": b"newer findings",
    RECORD: record_of("new.step", "findings.json"),
}
FOREIGN = {
    "notes.txt": b"mine",
    "new.stl.bak": b"mine",
    "photo.glb.png": b"mine",
    "x.step": b"mine",
}


def fill(folder: Path, files: dict[str, bytes]) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in files.items():
        (folder / name).write_bytes(data)


def contents(folder: Path) -> dict[str, bytes | None]:
    """Every file of a folder with its bytes, every folder with None; hidden ones too."""
    return {p.name: p.read_bytes() if p.is_file() else None for p in folder.iterdir()}


def build(
    folder: Path, files: dict[str, bytes] = NEWER, error: type[BaseException] | None = None
) -> None:
    """Write some files as a build does; where there is an error, it comes after them."""
    with staged(folder, names_of("new")) as stage:
        for file, data in files.items():
            write(stage / file, data)
        if error is not None:
            raise error


def test_into_a_folder_that_is_not_there(tmp_path: Path) -> None:
    build(tmp_path / "a" / "b")
    assert contents(tmp_path / "a" / "b") == NEWER


def test_the_newer_files_take_the_place_of_the_older_ones(tmp_path: Path) -> None:
    fill(tmp_path, OLDER)
    build(tmp_path)
    assert contents(tmp_path) == NEWER


def test_what_is_not_ours_stays(tmp_path: Path) -> None:
    fill(tmp_path, OLDER | FOREIGN)
    (tmp_path / "drawings").mkdir()
    build(tmp_path)
    assert contents(tmp_path) == NEWER | FOREIGN | {"drawings": None}


def test_nothing_is_visible_before_all_is_there(tmp_path: Path) -> None:
    fill(tmp_path, OLDER)
    with staged(tmp_path, names_of("new")) as stage:
        write(stage / "new.step", b"newer model")
        shown = {n: data for n, data in contents(tmp_path).items() if not n.startswith(".")}
    assert shown == OLDER


def test_older_results_that_are_not_made_again_are_told(tmp_path: Path) -> None:
    fill(tmp_path, OLDER | FOREIGN)
    told: list[str] = []
    with staged(tmp_path, names_of("new"), told.extend) as stage:
        write(stage / "findings.json", b"newer findings")
        assert told == []
    assert told == ["old.step", "take-off.json", RECORD]


def test_nothing_is_told_where_nothing_was_removed(tmp_path: Path) -> None:
    told: list[list[str]] = []
    with staged(tmp_path, names_of("new"), told.append) as stage:
        write(stage / "findings.json", b"newer findings")
    assert told == [[]]


@pytest.mark.parametrize("name", sorted(names_of("new")))
@pytest.mark.parametrize("older", [OLDER, {}], ids=["beside older results", "alone"])
def test_a_file_that_no_build_wrote_is_kept(
    tmp_path: Path, name: str, older: dict[str, bytes]
) -> None:
    """Whether the build would have written over it or only removed it."""
    listed = record_of(*sorted(older.keys() - {name, RECORD}))
    files = {**older, **({RECORD: listed} if older else {}), name: b"mine"}
    fill(tmp_path, files)
    with pytest.raises(OutputError, match=f"a build wrote .*{name}.*: choose another folder"):
        build(tmp_path, {"findings.json": b"stopped"})
    assert contents(tmp_path) == files


def test_models_that_a_crash_left_without_a_record_are_to_be_removed(tmp_path: Path) -> None:
    left = {"new.step": b"newer model"}
    fill(tmp_path, left)
    with pytest.raises(OutputError, match=r"new\.step: choose another folder, or remove what"):
        build(tmp_path)
    assert contents(tmp_path) == left


@pytest.mark.parametrize(
    ("data", "ours"),
    [
        ({"job": "wall", "findings": []}, True),
        ({"findings": []}, False),
        ({"job": "wall"}, False),
        (["job", "findings"], False),
    ],
)
def test_findings_alone_are_known_by_what_they_hold(
    tmp_path: Path, data: object, ours: bool
) -> None:
    older = {"findings.json": json.dumps(data).encode()}
    fill(tmp_path, older)
    if ours:
        build(tmp_path)
        assert contents(tmp_path) == NEWER
    else:
        with pytest.raises(OutputError, match="nothing here says"):
            build(tmp_path)
        assert contents(tmp_path) == older


def test_a_file_that_comes_in_meanwhile_is_kept(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="nothing here says"), staged(tmp_path, names_of("new")):
        (tmp_path / "new.step").write_bytes(b"mine")
    assert contents(tmp_path) == {"new.step": b"mine"}


EMPTY_RECORD = {"job": "wall", "rows": [], "digest": ""}
STRANGE_RECORDS = {
    "files of other programs": [{"name": "notes.txt"}, {"name": "photo.glb.png"}],
    "a way out": [{"name": "../outside.step"}, {"name": "/outside.step"}],
    "a folder": [{"name": "drawings"}, {"name": "models.step"}],
    "no names": [{}, 3, None],
}


@pytest.mark.parametrize("kind", STRANGE_RECORDS)
def test_a_record_that_anybody_wrote_deletes_nothing(tmp_path: Path, kind: str) -> None:
    folder, outside = tmp_path / "out", tmp_path / "outside.step"
    outside.write_bytes(b"mine")
    record = EMPTY_RECORD | {"files": STRANGE_RECORDS[kind]}
    fill(folder, FOREIGN | {RECORD: json.dumps(record).encode()})
    (folder / "drawings").mkdir()
    (folder / "models.step").mkdir()
    build(folder)
    assert contents(folder) == NEWER | FOREIGN | {"drawings": None, "models.step": None}
    assert outside.read_bytes() == b"mine"


NO_RECORDS = {
    "nothing": b"",
    "no text": b"\xff\xfe",
    "half": b"{",
    "deep": b"[" * 200_000,
    "a list": b"[1, 2]",
    "text": b'"text"',
    "no list": json.dumps(EMPTY_RECORD | {"files": 3}).encode(),
    "no record of ours": b'{"files": []}',
}


@pytest.mark.parametrize("kind", NO_RECORDS)
def test_what_is_no_record_is_kept(tmp_path: Path, kind: str) -> None:
    older = FOREIGN | {RECORD: NO_RECORDS[kind]}
    fill(tmp_path, older)
    with pytest.raises(OutputError, match=f"a build wrote {RECORD}"):
        build(tmp_path)
    assert contents(tmp_path) == older


def full_disk(*_: object, **__: object) -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


ERRORS = [KeyboardInterrupt, SystemExit, RuntimeError, MemoryError, ImportError]


@pytest.mark.parametrize("error", ERRORS)
@pytest.mark.parametrize("older", [OLDER, {}], ids=["over older files", "into an empty folder"])
def test_whatever_is_raised_in_between_changes_nothing(
    tmp_path: Path, error: type[BaseException], older: dict[str, bytes]
) -> None:
    fill(tmp_path, older)
    with pytest.raises(error):
        build(tmp_path, {"new.step": b"half"}, error)
    assert contents(tmp_path) == older


@pytest.mark.parametrize("error", ERRORS)
def test_folders_made_for_nothing_are_removed(tmp_path: Path, error: type[BaseException]) -> None:
    (tmp_path / "kept").mkdir()
    with pytest.raises(error):
        build(tmp_path / "kept" / "a" / "b", {"new.step": b"half"}, error)
    assert contents(tmp_path / "kept") == {}


def test_a_full_disk_is_told_and_changes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fill(tmp_path, OLDER)
    monkeypatch.setattr(os, "fsync", full_disk)
    with pytest.raises(OutputError, match=r"cannot be written: No space left on device"):
        build(tmp_path)
    assert contents(tmp_path) == OLDER


def test_a_disk_too_full_for_a_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tempfile, "mkdtemp", full_disk)
    with pytest.raises(OutputError, match="No space left on device"):
        build(tmp_path / "a" / "b")
    assert contents(tmp_path) == {}


def test_an_error_of_the_system_without_a_text_is_told_too(tmp_path: Path) -> None:
    with (
        pytest.raises(OutputError, match="cannot be written: something"),
        staged(tmp_path, names_of("new")),
    ):
        raise OSError("something")


MOVES = len(OLDER) + len(NEWER)
"""Every older file goes aside, every newer one comes in."""


@pytest.mark.parametrize("stop_at", range(MOVES))
@pytest.mark.parametrize("error", [OSError(errno.EACCES, "Permission denied"), KeyboardInterrupt()])
def test_files_that_change_places_go_back_where_one_of_them_cannot(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stop_at: int, error: BaseException
) -> None:
    fill(tmp_path, OLDER | FOREIGN)
    moved = counted_moves(monkeypatch, stop_at, error)
    with pytest.raises((OutputError, KeyboardInterrupt)):
        build(tmp_path)
    assert len(moved) == stop_at
    assert contents(tmp_path) == OLDER | FOREIGN


def counted_moves(
    monkeypatch: pytest.MonkeyPatch, stop_at: int, error: BaseException
) -> list[tuple[Path, Path]]:
    """Raise an error at one of the moves, and only there; gives those made until then."""
    moved: list[tuple[Path, Path]] = []
    replace = Path.replace

    def count(source: Path, target: Path) -> Path:
        if len(moved) == stop_at:
            monkeypatch.setattr(Path, "replace", replace)
            raise error
        moved.append((source, target))
        return replace(source, target)

    monkeypatch.setattr(Path, "replace", count)
    return moved


def test_the_older_record_goes_first_and_the_newer_comes_last(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever stops the machine itself: a folder between two builds has no record."""
    fill(tmp_path, OLDER)
    moved = counted_moves(monkeypatch, MOVES + 1, AssertionError())
    build(tmp_path)
    assert len(moved) == MOVES
    assert moved[0][0] == tmp_path / RECORD
    assert moved[-1][1] == tmp_path / RECORD


@pytest.mark.skipif(os.name != "posix", reason="signals are those of POSIX")
@pytest.mark.parametrize("stop_at", range(MOVES))
def test_an_interrupt_waits_while_files_change_places(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stop_at: int
) -> None:
    fill(tmp_path, OLDER)
    replace, moves = Path.replace, iter(range(MOVES))

    def interrupted(source: Path, target: Path) -> Path:
        if next(moves) == stop_at:
            os.kill(os.getpid(), signal.SIGINT)
        return replace(source, target)

    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        monkeypatch.setattr(Path, "replace", interrupted)
        build(tmp_path)
        assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
    finally:
        signal.signal(signal.SIGINT, before)
    assert contents(tmp_path) == NEWER


def test_a_folder_in_a_results_place_stays_and_is_told(tmp_path: Path) -> None:
    fill(tmp_path, OLDER)
    (tmp_path / "new.step").mkdir()
    (tmp_path / "new.step" / "mine.txt").write_bytes(b"mine")
    with pytest.raises(OutputError, match="cannot be written"):
        build(tmp_path)
    assert contents(tmp_path) == OLDER | {"new.step": None}
    assert contents(tmp_path / "new.step") == {"mine.txt": b"mine"}


def test_a_file_in_the_folders_place(tmp_path: Path) -> None:
    fill(tmp_path, {"out": b"mine"})
    for folder in (tmp_path / "out", tmp_path / "out" / "deeper"):
        with pytest.raises(OutputError, match="cannot be written"):
            build(folder)
    assert contents(tmp_path) == {"out": b"mine"}


@pytest.mark.skipif(os.name != "posix", reason="links need rights elsewhere")
def test_a_link_in_a_results_place_is_replaced_and_its_file_kept(tmp_path: Path) -> None:
    fill(tmp_path, {"mine.step": b"mine"})
    fill(tmp_path / "out", {RECORD: record_of("new.step")})
    (tmp_path / "out" / "new.step").symlink_to(tmp_path / "mine.step")
    build(tmp_path / "out")
    assert contents(tmp_path / "out") == NEWER
    assert not (tmp_path / "out" / "new.step").is_symlink()
    assert (tmp_path / "mine.step").read_bytes() == b"mine"


@pytest.mark.skipif(os.name != "posix", reason="links need rights elsewhere")
def test_a_link_to_nowhere_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "out").symlink_to(tmp_path / "nowhere")
    with pytest.raises(OutputError, match="cannot be written"):
        build(tmp_path / "out")
    assert (tmp_path / "out").is_symlink()


def test_a_folder_that_goes_away_meanwhile_is_told(tmp_path: Path) -> None:
    folder = tmp_path / "out"
    with pytest.raises(OutputError, match="cannot be written"), staged(folder, names_of("new")):
        shutil.rmtree(folder)
    assert contents(tmp_path) == {}


def test_a_job_knows_the_names_of_its_results() -> None:
    models = {"wall.step", "wall.stl", "wall.glb"}
    named = FIXED_NAMES | models | {"wall.html", "wall-days.svg", "wall-still.svg"}
    assert names_of("wall") == named
    assert names_of("wall", {"wall-bearing-w.svg": b""}) == named | {"wall-bearing-w.svg"}


PLOT = "new-bearing-w.svg"


def plotted(folder: Path, plots: set[str]) -> None:
    with staged(folder, names_of("new", plots)) as stage:
        for file in (*NEWER, *plots):
            write(stage / file, b"newer")


def test_an_older_plot_that_is_not_made_again_is_removed(tmp_path: Path) -> None:
    fill(tmp_path, {PLOT: b"older", "mine.svg": b"mine", RECORD: record_of(PLOT)})
    plotted(tmp_path, set())
    assert PLOT not in contents(tmp_path)
    assert contents(tmp_path)["mine.svg"] == b"mine"


def test_an_older_plot_is_replaced(tmp_path: Path) -> None:
    fill(tmp_path, {PLOT: b"older", RECORD: record_of(PLOT)})
    plotted(tmp_path, {PLOT})
    assert contents(tmp_path)[PLOT] == b"newer"


def test_a_file_in_a_plots_place_that_no_build_wrote_is_kept(tmp_path: Path) -> None:
    fill(tmp_path, {PLOT: b"mine"})
    with pytest.raises(OutputError, match=f"nothing here says that a build wrote {PLOT}"):
        plotted(tmp_path, {PLOT})
    assert contents(tmp_path) == {PLOT: b"mine"}


def test_a_new_file_is_never_written_over_one(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    write_new(path, b"first")
    with pytest.raises(OutputError, match="exists already"):
        write_new(path, b"second")
    assert contents(tmp_path) == {"job.toml": b"first"}


@pytest.mark.skipif(os.name != "posix", reason="links need rights elsewhere")
def test_a_new_file_is_not_written_through_a_link(tmp_path: Path) -> None:
    (tmp_path / "job.toml").symlink_to(tmp_path / "nowhere")
    with pytest.raises(OutputError, match="exists already"):
        write_new(tmp_path / "job.toml", b"first")
    assert not (tmp_path / "nowhere").exists()


class Full:
    """A file that takes nothing."""

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        pass

    write: Callable[..., None] = staticmethod(full_disk)


def test_half_a_new_file_is_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def opened(path: Path, mode: str) -> Full:
        os.close(os.open(path, os.O_CREAT | os.O_EXCL if "x" in mode else os.O_RDONLY))
        return Full()

    monkeypatch.setattr(Path, "open", opened)
    with pytest.raises(OSError, match="No space left"):
        write_new(tmp_path / "job.toml", b"first")
    assert contents(tmp_path) == {}


KILLED = """
import os, signal, sys
from pathlib import Path
from parametric_wall.pack.folder import names_of, staged, write

with staged(Path(sys.argv[1]), names_of("new")) as stage:
    write(stage / "new.step", b"half")
    os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.mark.skipif(os.name != "posix", reason="locks are those of POSIX")
def test_what_a_killed_build_left_is_removed_by_the_next(tmp_path: Path) -> None:
    fill(tmp_path, OLDER | FOREIGN)
    killed = subprocess.run([sys.executable, "-c", KILLED, str(tmp_path)], check=False)
    assert killed.returncode == -signal.SIGKILL
    left = contents(tmp_path).keys() - (OLDER | FOREIGN).keys()
    assert len(left) == 1
    build(tmp_path)
    assert contents(tmp_path) == NEWER | FOREIGN


@pytest.mark.skipif(os.name != "posix", reason="locks are those of POSIX")
def test_only_folders_named_as_a_build_names_them_are_removed(tmp_path: Path) -> None:
    names = (".part-mine", ".part-ABCDEFGH", "part-abcd1234", ".part-abcd1234.old")
    for name in names:
        (tmp_path / name).mkdir()
    outside = tmp_path.parent / f"{tmp_path.name}-outside"
    outside.mkdir()
    (outside / "mine.txt").write_bytes(b"mine")
    (tmp_path / ".part-abcd1234").symlink_to(outside)
    (tmp_path / ".part-abcd5678").write_bytes(b"mine")
    build(tmp_path)
    kept = dict.fromkeys((*names, ".part-abcd1234"), None) | {".part-abcd5678": b"mine"}
    assert contents(tmp_path) == NEWER | kept
    assert contents(outside) == {"mine.txt": b"mine"}


@pytest.mark.skipif(os.name != "posix", reason="locks are those of POSIX")
@pytest.mark.parametrize("older", [OLDER, {}], ids=["over older files", "into an empty folder"])
def test_a_second_build_at_the_same_moment_is_refused(
    tmp_path: Path, older: dict[str, bytes]
) -> None:
    fill(tmp_path, older)
    with staged(tmp_path, names_of("new")) as stage:
        write(stage / "new.step", b"newer model")
        with pytest.raises(OutputError, match="another build is writing here"):
            build(tmp_path, {"other.step": b"other"})
        for file, data in NEWER.items():
            write(stage / file, data)
    assert contents(tmp_path) == NEWER
    build(tmp_path)
    assert contents(tmp_path) == NEWER


@pytest.mark.skipif(os.name != "posix", reason="locks are those of POSIX")
def test_where_a_folder_cannot_be_locked_it_is_built_and_nothing_is_removed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unknown(*_: object) -> None:
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    (tmp_path / ".part-abcd1234").mkdir()
    monkeypatch.setattr("fcntl.flock", unknown)
    build(tmp_path)
    assert contents(tmp_path) == NEWER | {".part-abcd1234": None}


def test_a_file_is_no_folder_to_write_to(tmp_path) -> None:
    (tmp_path / "a.toml").write_text("")
    with pytest.raises(JobError, match="names a file"):
        folder_of(str(tmp_path / "a.toml"))
