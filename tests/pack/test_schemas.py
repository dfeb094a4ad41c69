"""The JSON schemas say what job files and written files are, and what they are not."""

from __future__ import annotations

import copy
import datetime as dt
import json
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from helpers_cli import JOB, TOO_TALL
from jsonschema import Draft202012Validator

from parametric_wall.errors import JobError
from parametric_wall.job.read import load, loads
from parametric_wall.job.resolve import JobSpec
from parametric_wall.job.starter import STARTER
from parametric_wall.pack.build import build
from parametric_wall.pack.schemas import schema

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
WRITTEN = ["setting-out", "take-off", "order", "days", "findings", "verification"]


def faults(what: str, record: Any) -> list[str]:
    found = Draft202012Validator(schema(what)).iter_errors(record)
    return [f"{error.json_path}: {error.message}" for error in found]


def as_json(value: Any) -> Any:
    """A TOML table as JSON has it: dates are text there."""
    if isinstance(value, dict):
        return {key: as_json(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [as_json(inner) for inner in value]
    return value.isoformat() if isinstance(value, dt.date) else value


@pytest.mark.parametrize("what", ["job", "rates", "price", "options", *WRITTEN])
def test_it_is_a_schema(what: str) -> None:
    Draft202012Validator.check_schema(schema(what))


def test_there_is_none_for_other_files() -> None:
    with pytest.raises(JobError, match="has no schema"):
        schema("cut-list")


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
def test_every_example_is_a_job(path: Path) -> None:
    table = tomllib.loads(path.read_text(encoding="utf-8"))
    assert faults("job", as_json(table)) == []


def test_the_file_to_start_from_is_a_job() -> None:
    assert faults("job", as_json(tomllib.loads(STARTER))) == []


def test_figures_do_in_place_of_a_size() -> None:
    table = tomllib.loads(JOB)
    table["block"] = {"length_mm": 440, "width_mm": 140, "height_mm": 140}
    assert faults("job", table) == []


def test_the_heights_of_a_family_do_in_place_of_a_height() -> None:
    table = tomllib.loads(JOB)
    table["block"] = {"length_mm": 440, "width_mm": 140, "heights_mm": [65, 140]}
    assert faults("job", table) == []


def test_mixed_lengths_do_in_place_of_a_length() -> None:
    table = tomllib.loads(JOB)
    table["block"] = {"lengths_mm": [190, 390], "mix": [1, 2], "width_mm": 140, "height_mm": 140}
    assert faults("job", table) == []


WRONG: dict[str, Callable[[dict[str, Any]], None]] = {
    "no title": lambda job: job.pop("title"),
    "no walls": lambda job: job.update(walls=[]),
    "an unknown key": lambda job: job.update(colour="red"),
    "text for a number": lambda job: job["walls"][0]["plan"].update(length_mm="1790"),
    "out of range": lambda job: job["walls"][0]["plan"].update(length_mm=99),
    "half a course": lambda job: job["walls"][0]["height"].update(courses=1.5),
    "a path for a name": lambda job: job["walls"][0].update(name="../wall"),
    "an unknown shape": lambda job: job["walls"][0]["plan"].update(shape="arc"),
    "an unknown word": lambda job: job.update(bond={"wish": "fifth"}),
    "an empty block": lambda job: job.update(block={}),
    "a block without a height": lambda job: job.update(block={"length_mm": 440, "width_mm": 140}),
    "a family of one": lambda job: job.update(
        block={"length_mm": 440, "width_mm": 140, "heights_mm": [140]}
    ),
    "a length and several": lambda job: job.update(
        block={"length_mm": 440, "lengths_mm": [190, 440], "width_mm": 140, "height_mm": 65}
    ),
    "several lengths and heights": lambda job: job.update(
        block={"lengths_mm": [190, 440], "width_mm": 140, "heights_mm": [65, 140]}
    ),
    "a mix of one length": lambda job: job.update(
        block={"length_mm": 440, "mix": [1, 2], "width_mm": 140, "height_mm": 65}
    ),
    "a height and a family": lambda job: job.update(
        block={"length_mm": 440, "width_mm": 140, "height_mm": 65, "heights_mm": [65, 140]}
    ),
}


@pytest.mark.parametrize("kind", WRONG)
def test_what_the_reader_refuses_the_schema_refuses(kind: str) -> None:
    table = copy.deepcopy(tomllib.loads(JOB))
    WRONG[kind](table)
    assert faults("job", table) != []


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A planter with weep holes, cuts and findings, built."""
    path = tmp_path_factory.mktemp("planter")
    spec = loads(STARTER, name="planter")
    assert build(spec, path).good
    return path


@pytest.mark.cad
@pytest.mark.parametrize("what", WRITTEN)
def test_a_written_file_is_what_its_schema_says(folder: Path, what: str) -> None:
    record = json.loads((folder / f"{what}.json").read_bytes())
    assert faults(what, record) == []


@pytest.mark.cad
@pytest.mark.parametrize("what", WRITTEN)
def test_a_schema_names_every_key_of_its_file(folder: Path, what: str) -> None:
    record = json.loads((folder / f"{what}.json").read_bytes())
    assert set(schema(what)["properties"]) == set(record)
    assert set(schema(what)["required"]) == set(record)
    for key in record:
        less = {name: value for name, value in record.items() if name != key}
        assert faults(what, less) != []


@pytest.mark.cad
@pytest.mark.parametrize("what", ["setting-out", "take-off", "days", "findings"])
def test_a_file_is_not_what_another_schema_says(folder: Path, what: str) -> None:
    record = json.loads((folder / "verification.json").read_bytes())
    assert faults(what, record) != []


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
def test_findings_of_any_job_are_what_their_schema_says(path: Path, tmp_path: Path) -> None:
    assert faults("findings", findings(load(path))) == []
    assert faults("findings", stopped(loads(TOO_TALL), tmp_path)) == []


def findings(spec: JobSpec) -> Any:
    from parametric_wall.checks.check import check
    from parametric_wall.export.finding_records import findings_record
    from parametric_wall.export.records import json_bytes
    from parametric_wall.setting_out.set_out import set_out

    return json.loads(json_bytes(findings_record(spec, check(spec, set_out(spec)))))


def stopped(spec: JobSpec, folder: Path) -> Any:
    """The findings that a job leaves that is not to be built."""
    assert build(spec, folder).proof is None
    return json.loads((folder / "findings.json").read_bytes())


def test_the_invented_price_list_is_one() -> None:
    path = EXAMPLES[0].parent / "prices" / "rates-invented.toml"
    table = tomllib.loads(path.read_text(encoding="utf-8"))
    assert faults("rates", table) == []
    for wrong in ({"currency": 1}, {"vat_percent": -1}, {"vat_on": "lots"}, {"rates": [{}]}):
        assert faults("rates", table | wrong) != []
    for figure in ("1.5", -1, 1e9):
        rows = [{"item": "a", "unit": "nr", "rate": figure}]
        assert faults("rates", table | {"rates": rows}) != []
