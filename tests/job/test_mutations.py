"""Good jobs with single values changed: each is built, or has faults in plain words."""

from __future__ import annotations

import copy
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric_wall.checks.check import check
from parametric_wall.checks.finding import stops
from parametric_wall.errors import Fault, JobError
from parametric_wall.export import finding_records, records
from parametric_wall.export.take_off import take_off_record
from parametric_wall.job.read import validate
from parametric_wall.job.resolve import JobSpec, resolve
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.cutting import cut_units
from parametric_wall.takeoff.quantities import quantities

FILES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
EXAMPLES = [tomllib.loads(path.read_text(encoding="utf-8")) for path in FILES]
FOREIGN = ("Input should", "pydantic", "Traceback")

NUMBERS = st.sampled_from((-1, 0, 1, 60, 61, 99.9, 100, 140, 200, 333.3, 440, 999, 1e-9, 2e6))
ODD = st.sampled_from((None, True, "", "left", "back", [], {}, float("nan"), float("inf"), 10**30))


def leaves(table: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """The way to every single value of a table."""
    if isinstance(table, dict | list):
        items = table.items() if isinstance(table, dict) else enumerate(table)
        for key, value in items:
            yield from leaves(value, (*path, key))
    else:
        yield path


@st.composite
def mutated(draw: st.DrawFn) -> dict[str, Any]:
    table = copy.deepcopy(draw(st.sampled_from(EXAMPLES)))
    for _ in range(draw(st.integers(1, 3))):
        *parents, last = draw(st.sampled_from(list(leaves(table))))
        here: Any = table
        for key in parents:
            here = here[key]
        here[last] = draw(values(here[last]))
    return table


def values(now: Any) -> st.SearchStrategy[Any]:
    if isinstance(now, bool) or not isinstance(now, int | float) or not abs(now) < 1e9:
        return ODD
    near = st.sampled_from((0.1, 0.5, 0.9, 1.1, 2, 3)).map(lambda factor: now * factor)
    return st.one_of(NUMBERS, st.integers(1, 2000), near, near.map(round), ODD)


def outcome(table: dict[str, Any]) -> JobSpec | tuple[Fault, ...]:
    try:
        return resolve(validate(table), "job")
    except JobError as error:
        return error.faults


def test_there_are_examples_to_change() -> None:
    assert len(EXAMPLES) >= 8


@settings(max_examples=300, deadline=None)
@given(mutated())
def test_a_changed_job_is_set_out_or_has_faults(table: dict[str, Any]) -> None:
    spec = outcome(table)
    if not isinstance(spec, JobSpec):
        assert all(fault.path and fault.problem for fault in spec)
        assert not [f for f in spec if any(word in f.problem for word in FOREIGN)]
        return
    laid = set_out(spec)
    found = check(spec, laid)
    # Every figure is a number, and every text can be written.
    assert records.json_bytes(finding_records.findings_record(spec, found))
    assert records.json_bytes(records.setting_out_record(spec, laid))
    if not stops(found):
        lines, cuts = quantities(spec, laid), cut_units(spec, laid)
        assert records.json_bytes(take_off_record(spec, laid, lines, cuts))
        assert all(line.net >= 0 for line in lines)


@pytest.mark.parametrize("table", EXAMPLES, ids=[path.stem for path in FILES])
@pytest.mark.parametrize("value", [float("nan"), "text", True, {}], ids=str)
def test_every_number_of_an_example_is_looked_at(table: dict[str, Any], value: Any) -> None:
    """No figure of a job file can be anything but a number, and each fault has its own path."""
    for path in leaves(table):
        changed = copy.deepcopy(table)
        here: Any = changed
        for key in path[:-1]:
            here = here[key]
        if isinstance(here[path[-1]], bool) or not isinstance(here[path[-1]], int | float):
            continue
        here[path[-1]] = value
        found = outcome(changed)
        assert not isinstance(found, JobSpec)
        assert ".".join(map(str, path)) in [fault.path for fault in found]
