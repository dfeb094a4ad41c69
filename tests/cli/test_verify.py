"""Verifying a folder: every change is found, and what is no folder of results is told."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from helpers_cli import ALL, JOB, MODELS, RECORD, Command, contents

from parametric_wall.digest import digest_of
from parametric_wall.export.step import step_bytes
from parametric_wall.job.read import loads
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.solid.model import model_of

pytestmark = pytest.mark.cad


def rewrite(folder: Path, change: Callable[[Any], None], *, digest: bool = False) -> None:
    """Change the record; with the digest, as one does who knows how it is made."""
    path = folder / RECORD
    record = json.loads(path.read_bytes())
    change(record)
    if digest:
        record["digest"] = digest_of(record)
    path.write_bytes(json.dumps(record).encode())


def test_a_built_folder_is_as_it_was(wall: Command, built: Path) -> None:
    before = contents(built)
    plain, record = wall("verify", built), wall("verify", built, "--json")
    assert (plain.code, record.code) == (0, 0)
    assert "as they were built, and the measurements agree" in plain.out
    assert record.json["agrees"]
    assert record.json["faults"] == []
    assert contents(built) == before


def test_the_rows_are_those_of_the_record(wall: Command, built: Path) -> None:
    rows = wall("verify", built, "--json").json["rows"]
    written = json.loads((built / RECORD).read_bytes())["rows"]
    assert [set(row) for row in rows] == [set(row) for row in written]
    for row, before in zip(rows, written, strict=True):
        assert row["component"] == before["component"]
        for key in (key for key in before if key.endswith("_m3")):
            expected = None if before[key] is None else pytest.approx(before[key], rel=1e-6)
            assert row[key] == expected


def test_quiet_says_nothing_where_all_is_as_it_was(wall: Command, built: Path) -> None:
    ran = wall("verify", built, "--quiet")
    assert (ran.code, ran.out, ran.err) == (0, "", "")


@pytest.mark.parametrize("name", sorted(ALL - {RECORD}))
@pytest.mark.parametrize("place", ["first", "middle", "last"])
def test_a_changed_byte_is_found_in_every_file(
    wall: Command, built: Path, name: str, place: str
) -> None:
    path = built / name
    data = bytearray(path.read_bytes())
    at = {"first": 0, "middle": len(data) // 2, "last": len(data) - 1}[place]
    data[at] ^= 1
    path.write_bytes(data)
    ran = wall("verify", built, "--json")
    assert ran.code == 1
    assert not ran.json["agrees"]
    assert f"{name} was changed after it was written" in ran.json["faults"]


@pytest.mark.parametrize("name", sorted(ALL - {RECORD}))
def test_a_missing_file_is_found(wall: Command, built: Path, name: str) -> None:
    (built / name).unlink()
    ran = wall("verify", built, "--quiet")
    assert ran.code == 1
    assert f"NOT AS BUILT: {name} is missing" in ran.out


@pytest.mark.parametrize("name", sorted(MODELS))
@pytest.mark.parametrize("data", [b"", b"solid wall", bytes(1000)], ids=len)
def test_a_model_that_is_none_is_found(wall: Command, built: Path, name: str, data: bytes) -> None:
    (built / name).write_bytes(data)
    ran = wall("verify", built, "--json")
    assert ran.code == 1
    assert f"{name} was changed after it was written" in ran.json["faults"]


@pytest.mark.parametrize("name", sorted(MODELS))
def test_a_model_cut_short_is_found(wall: Command, built: Path, name: str) -> None:
    data = (built / name).read_bytes()
    (built / name).write_bytes(data[: len(data) * 2 // 3])
    ran = wall("verify", built, "--json")
    assert ran.code == 1
    assert f"{name} was changed after it was written" in ran.json["faults"]


def test_another_good_model_in_its_place_is_found(wall: Command, built: Path) -> None:
    """Even where the record was made to fit: its volumes are not those of the wall."""
    other = step_bytes(model_of(set_out(loads(JOB.replace("1790", "2240"), name="wall"))))
    (built / "wall.step").write_bytes(other)
    changed = wall("verify", built, "--json").json["faults"]
    assert "wall.step was changed after it was written" in changed

    def fit(record: Any) -> None:
        for file in record["files"]:
            if file["name"] == "wall.step":
                file["sha256"] = hashlib.sha256(other).hexdigest()

    rewrite(built, fit, digest=True)
    ran = wall("verify", built, "--json")
    assert ran.code == 1
    assert "blocks and perps: the files no longer agree" in ran.json["faults"]


def first_row(record: Any) -> Any:
    return next(row for row in record["rows"] if row["step_m3"])


EDITS: dict[str, Callable[[Any], None]] = {
    "a quantity": lambda r: first_row(r).update(closed_form_m3=1.0),
    "a whole number": lambda r: first_row(r).update(closed_form_m3=1),
    "a quantity left out": lambda r: first_row(r).update(counted_m3=None),
    "what a file was found to hold": lambda r: first_row(r).update(step_m3=1.0),
    "a row left out": lambda r: r["rows"].pop(),
    "a verdict": lambda r: r.update(agrees=False),
    "a file left out": lambda r: r["files"].pop(),
    "a tolerance": lambda r: r.update(tolerance_relative=1.0),
    "the title": lambda r: r.update(title="Another wall"),
    "something more": lambda r: r.update(checked_by="nobody"),
}


@pytest.mark.parametrize("kind", EDITS)
def test_an_edited_record_is_found(wall: Command, built: Path, kind: str) -> None:
    rewrite(built, EDITS[kind])
    ran = wall("verify", built, "--json")
    assert ran.code == 1
    assert "the record was changed" in ran.json["faults"]


def all_columns(record: Any) -> None:
    row = first_row(record)
    row.update({key: 1.0 for key, value in row.items() if key.endswith("_m3") and value})


def test_numbers_that_agree_with_each_other_and_not_with_the_files(
    wall: Command, built: Path
) -> None:
    rewrite(built, all_columns, digest=True)
    ran = wall("verify", built, "--json")
    assert ran.code == 1
    assert any("the files no longer agree" in fault for fault in ran.json["faults"])


def test_a_folder_without_a_record(wall: Command, built: Path, tmp_path: Path) -> None:
    (built / RECORD).unlink()
    (tmp_path / "file").write_bytes(b"mine")
    for folder in (built, tmp_path / "nowhere"):
        ran = wall("verify", folder, "--json")
        assert ran.code == 2
        assert "build a job into this folder first" in ran.json["faults"][0]["problem"]
    assert wall("verify", tmp_path / "file").code == 2


def test_a_folder_of_a_refused_job_says_so(wall: Command, too_tall: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert wall("build", too_tall, "--out", out).code == 1
    ran = wall("verify", out, "--json")
    assert ran.code == 2
    assert "the job was refused when it was built" in ran.json["faults"][0]["problem"]


GARBAGE = {
    "nothing": b"",
    "not text": b"\xff\xfe\x00",
    "not JSON": b"{'agrees': True}",
    "a list": b"[]",
    "null": b"null",
    "no rows": b"{}",
    "rows of nothing": b'{"rows": [null], "files": [], "agrees": true, "digest": ""}',
    "rows without columns": b'{"rows": [{"component": "soil"}], "files": [], "digest": ""}',
    "rows of text": b'{"rows": "all", "files": "all", "agrees": true, "digest": ""}',
    "names of numbers": b'{"rows": [], "files": [{"name": 3, "sha256": ""}], "digest": ""}',
    "not a number": b'{"rows": [], "files": [], "agrees": NaN, "digest": ""}',
    "without end": b'{"rows": [], "files": [], "agrees": 1e999, "digest": ""}',
    "many digits": b'{"rows": [], "files": [], "agrees": ' + b"9" * 400 + b"}",
    "too many digits": b'{"rows": [], "files": [], "agrees": ' + b"9" * 9000 + b"}",
    "deep": b"[" * 200_000,
}


@pytest.mark.parametrize("kind", GARBAGE)
def test_a_record_that_is_none(wall: Command, built: Path, kind: str) -> None:
    (built / RECORD).write_bytes(GARBAGE[kind])
    ran = wall("verify", built, "--json")
    assert ran.code == 2
    problem = ran.json["faults"][0]["problem"]
    assert str(built) in problem
    assert "the program failed" not in problem


VALUES = ['"text"', "[]", "{}", "null", "true", "1e99", "-1", "1e-300", "12345678901234567890"]


@pytest.mark.parametrize("column", ["closed_form_m3", "step_m3", "mesh_rounding_m3", "component"])
@pytest.mark.parametrize("value", VALUES)
def test_any_value_in_a_record_is_told_without_a_failure(
    wall: Command, built: Path, column: str, value: str
) -> None:
    rewrite(built, lambda r: first_row(r).update({column: json.loads(value)}))
    ran = wall("verify", built, "--json")
    assert ran.code in (1, 2)
    assert ran.json["faults"]
    assert "the program failed" not in ran.out


def test_a_record_that_points_out_of_its_folder(wall: Command, built: Path) -> None:
    outside = built.parent / "outside.step"
    outside.write_bytes((built / "wall.step").read_bytes())
    rewrite(built, lambda r: r["files"].append({"name": "../outside.step", "sha256": ""}))
    before = contents(built.parent)
    assert wall("verify", built).code == 1
    assert contents(built.parent) == before
