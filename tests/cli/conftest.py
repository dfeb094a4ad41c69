"""The command as it is run, in this process; and a folder that it built, once for all."""

from __future__ import annotations

import io
import shutil
import signal
import sys
from pathlib import Path

import pytest
from helpers_cli import ALL, JOB, TOO_TALL, Command, Ran, contents

from parametric_wall import cli


@pytest.fixture
def wall(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    """Run the command with some words; it always ends by itself, never with a traceback."""

    def run(*words: str | Path, stdin: bytes = b"") -> Ran:
        monkeypatch.setattr(sys, "argv", ["parametric-wall", *map(str, words)])
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(stdin)))
        before = {s: signal.getsignal(s) for s in (signal.SIGTERM, signal.SIGINT)}
        capsys.readouterr()
        try:
            with pytest.raises(SystemExit) as stopped:
                cli.run()
        finally:
            for number, handler in before.items():
                signal.signal(number, handler)
        out, err = capsys.readouterr()
        assert isinstance(stopped.value.code, int)
        return Ran(stopped.value.code, out, err)

    return run


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job file without a fault."""
    path = tmp_path / "wall.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


@pytest.fixture
def too_tall(tmp_path: Path) -> Path:
    """A job file without a fault, of a wall that is not to be built."""
    (tmp_path / "tall").mkdir()
    path = tmp_path / "tall" / "wall.toml"
    path.write_text(TOO_TALL, encoding="utf-8")
    return path


@pytest.fixture(scope="session")
def built_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the results of the job."""
    from parametric_wall.job.read import loads
    from parametric_wall.pack.build import build

    folder = tmp_path_factory.mktemp("built")
    assert build(loads(JOB, name="wall"), folder).good
    assert set(contents(folder)) == ALL
    return folder


@pytest.fixture
def built(built_once: Path, tmp_path: Path) -> Path:
    """A copy of that folder, to be changed."""
    return Path(shutil.copytree(built_once, tmp_path / "built"))
