"""Closed pipes, full disks and foreign alphabets at the ends of the command."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import IO, Any

import pytest
from helpers_cli import ALL, RUN, contents

pytestmark = pytest.mark.skipif(os.name != "posix", reason="pipes are those of POSIX")


def run(*words: str | Path, **options: Any) -> subprocess.CompletedProcess[bytes]:
    lines = f"import sys\nsys.argv[0] = 'parametric-wall'\n{RUN}"
    return subprocess.run(
        [sys.executable, "-c", lines, *map(str, words)],
        timeout=120,
        check=False,
        **{"stderr": subprocess.PIPE, **options},
    )


@pytest.fixture
def closed_pipe() -> Any:
    """An end to write to, of a pipe whose reader has gone."""
    reader, writer = os.pipe()
    os.close(reader)
    with os.fdopen(writer, "wb") as stream:
        yield stream


def test_a_reader_that_has_gone_changes_no_verdict(
    job: Path, too_tall: Path, closed_pipe: IO[bytes]
) -> None:
    for path, code in ((job, 0), (too_tall, 1)):
        ran = run("check", path, stdout=closed_pipe)
        assert (ran.returncode, ran.stderr) == (code, b"")


@pytest.mark.cad
def test_a_reader_that_has_gone_stops_no_build(
    job: Path, tmp_path: Path, closed_pipe: IO[bytes]
) -> None:
    out = tmp_path / "out"
    ran = run("build", job, "--out", out, stdout=closed_pipe, stderr=closed_pipe)
    assert ran.returncode == 0
    assert set(contents(out)) == ALL


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no disk that is always full")
def test_what_cannot_be_printed_is_told(job: Path) -> None:
    with Path("/dev/full").open("wb") as full:
        ran = run("check", job, stdout=full)
    assert (ran.returncode, ran.stderr) == (2, b"No space left on device\n")


def test_no_streams_at_all(too_tall: Path) -> None:
    """As where a program without a terminal starts it."""
    lines = f"import sys\nsys.stdout = sys.stderr = sys.stdin = None\n{RUN}"
    for words, code in (((too_tall,), 1), (("-",), 2), (("nowhere.toml", "--json"), 2)):
        command = [sys.executable, "-c", lines, "check", *map(str, words)]
        ran = subprocess.run(command, capture_output=True, timeout=120, check=False)
        assert (ran.returncode, ran.stdout, ran.stderr) == (code, b"", b"")


@pytest.mark.parametrize("alphabet", ["ascii", "cp1252", "utf-8"])
def test_any_alphabet_takes_any_title(job: Path, alphabet: str) -> None:
    title = "Côté 🧱"
    path = job.with_name("côté.toml")
    path.write_bytes(job.read_bytes())
    words = ("check", path, "--with", f'title="{title}"')
    options = {"env": {**os.environ, "PYTHONIOENCODING": alphabet}, "stdout": subprocess.PIPE}
    plain = run(*words, **options)
    assert plain.returncode == 0
    shown = title.encode(alphabet, "backslashreplace")
    assert plain.stdout.splitlines()[0] == shown
    record = run(*words, "--json", **options)
    assert record.returncode == 0
    assert json.loads(record.stdout.decode("utf-8"))["title"] == title


def test_words_that_are_no_text(job: Path) -> None:
    """What a terminal of another alphabet sends."""
    odd = os.fsdecode(b"c\xf4t\xe9")
    for words in (("check", f"{odd}.toml"), ("check", job, "--with", f"title={odd}"), (odd,)):
        ran = run(*words, "--json", stdout=subprocess.PIPE)
        assert ran.returncode == 2
        assert json.loads(ran.stdout)["faults"]
        assert b"Traceback" not in ran.stderr


def test_the_module_is_the_command_too(job: Path) -> None:
    command = [sys.executable, "-m", "parametric_wall", "check", str(job), "--json"]
    ran = subprocess.run(command, capture_output=True, timeout=120, check=False)
    assert ran.returncode == 0
    assert json.loads(ran.stdout)["job"] == "wall"
