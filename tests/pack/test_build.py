"""Building from a script: what comes back, and what cannot be a job's name."""

from __future__ import annotations

import hashlib
import json
from inspect import ismodule
from pathlib import Path

import pytest
from helpers_cli import ALL, JOB, RECORD, TOO_TALL, contents

import parametric_wall
from parametric_wall.errors import JobError, OutputError
from parametric_wall.pack.build import build, load_record


def test_a_job_that_stops_gives_its_findings_and_no_proof(tmp_path: Path) -> None:
    told: list[str] = []
    built = build(parametric_wall.loads(TOO_TALL), tmp_path, progress=told.append)
    assert (built.good, built.proof, built.lines) == (False, None, ())
    assert built.files == ("findings.json",)
    assert set(contents(tmp_path)) == set(built.files)
    assert told == ["setting out"]


@pytest.mark.cad
def test_a_good_job_gives_its_proof_and_names_its_files(tmp_path: Path) -> None:
    from parametric_wall.verify.again import verify_folder

    built = parametric_wall.build(parametric_wall.loads(JOB, name="wall"), tmp_path)
    assert built.good
    assert set(built.files) == set(contents(tmp_path)) == ALL
    record = load_record(tmp_path)
    listed = {file["name"]: file["sha256"] for file in record["files"]}
    assert listed == {
        name: hashlib.sha256((tmp_path / name).read_bytes()).hexdigest() for name in ALL - {RECORD}
    }
    assert verify_folder(tmp_path, record).agrees


@pytest.mark.cad
def test_public_names_are_no_modules_after_a_build(tmp_path: Path) -> None:
    """A room loaded later takes the place of a name of the package that is its own."""
    parametric_wall.build(parametric_wall.loads(JOB), tmp_path)
    modules = [n for n in parametric_wall.__all__ if ismodule(getattr(parametric_wall, n))]
    assert modules == []


@pytest.mark.cad
def test_a_failure_is_told_to_a_script_as_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from parametric_wall.verify import proof

    def fail(*_: object) -> None:
        raise OutputError("cannot be read back")

    monkeypatch.setattr(proof, "read_back", fail)
    with pytest.raises(OutputError, match="cannot be read back"):
        build(parametric_wall.loads(JOB), tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_no_name_leads_out_of_the_folder(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="cannot be the name of results"):
        build(parametric_wall.loads(JOB, name="../wall"), tmp_path / "out")
    assert contents(tmp_path) == {}


def test_a_record_is_read_as_it_was_written(tmp_path: Path) -> None:
    """Whole numbers and long fractions included: the digest is over their text."""
    record = {"rows": [], "files": [], "a": 0, "b": 0.1 + 0.2, "c": 1e-300, "d": None, "e": -0.0}
    (tmp_path / RECORD).write_text(json.dumps(record), encoding="utf-8")
    assert json.dumps(load_record(tmp_path)) == json.dumps(record)
