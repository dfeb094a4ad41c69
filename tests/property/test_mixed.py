"""What must hold of every wall of mixed lengths, told from its placed pieces."""

from __future__ import annotations

import copy
import json
import subprocess
import sys
from collections import Counter
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from helpers_mixed import alike, faults, rows_of
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from strategies import jobs, mixed_lengths

from parametric_wall.checks.check import check
from parametric_wall.checks.finding import stops
from parametric_wall.errors import JobError
from parametric_wall.export.records import setting_out_record
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.block import Block
from parametric_wall.job.read import load, loads, validate
from parametric_wall.job.resolve import JobSpec, resolve
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.cutting import cut_units
from parametric_wall.takeoff.quantities import quantities

ROOT = Path(__file__).parents[2]


@st.composite
def mixed_jobs(draw: st.DrawFn) -> dict[str, Any]:
    table = draw(jobs())
    draw(mixed_lengths(table))
    return table


def laid_out(table: dict[str, Any]) -> tuple[JobSpec, SettingOut]:
    """A drawn job, where it can be resolved and bonded."""
    try:
        spec = resolve(validate(table))
    except JobError:
        assume(False)
    laid = set_out(spec)
    assume(not laid.walls[0].unbonded)
    return spec, laid


@settings(max_examples=120, deadline=None)
@given(mixed_jobs())
def test_no_rule_of_the_bond_is_broken(table: dict[str, Any]) -> None:
    spec, laid = laid_out(table)
    assert list(faults(spec.walls[0], laid.walls[0])) == []


@settings(max_examples=60, deadline=None)
@given(mixed_jobs())
def test_more_alike_than_asked_is_told(table: dict[str, Any]) -> None:
    spec, laid = laid_out(table)
    told = {f.where for f in check(spec, laid) if f.code == "more-alike"}
    most = spec.walls[0].bond.most_alike
    rows = rows_of(laid.walls[0])
    over = {name: sum(alike(spec.walls[0], r) > most for r in of) for name, of in rows.items()}
    assert told == {f"wall/{name}" for name, count in over.items() if count}
    assert over == {run.run.name: run.bond.misses for run in laid.walls[0].bonded}


def of_family(block: Block) -> str:
    """What follows the length of one block in its name: its size, and the family it is of."""
    lengths = "/".join(f"{x:g}" for x in block.lengths)
    mix = "" if block.mix is None else " mix " + ":".join(map(str, block.mix))
    return f"{block.width_mm:g}x{block.height_mm:g} of {lengths}{mix}"


@settings(max_examples=60, deadline=None)
@given(mixed_jobs())
def test_what_is_bought_holds_what_is_laid_and_no_less_than_the_bound(
    table: dict[str, Any],
) -> None:
    spec, laid = laid_out(table)
    block = spec.walls[0].block
    (found,) = laid.mixtures
    used: Counter[float] = Counter()
    for unit in cut_units(spec, laid):
        if unit.unit.startswith("block"):
            length = float(unit.unit.split()[1].split("x")[0])
            used[length] += 1
            rest = length - sum(p.length for p in unit.pieces)
            assert rest >= spec.job.cutting.loss * (len(unit.pieces) - 1) - TOLERANCE.coincident
    for row in (row for rows in rows_of(laid.walls[0]).values() for row in rows):
        used.update(x for x in row.lengths if x in block.lengths)
    assert dict(zip(found.lengths, found.used, strict=True)) == {x: used[x] for x in found.lengths}
    ((_, certificate),) = laid.certificates
    assert certificate.bound <= certificate.blocks == sum(used.values())
    lines = {q.item: q for q in quantities(spec, laid)}
    for length, count in used.items():
        assert lines[f"blocks, {length:g}x{of_family(block)}"].net == count
    if block.mix is None:
        assert found.packs == 0
        return
    packed = dict(zip(block.lengths, block.mix, strict=True))
    assert all(used[x] <= found.packs * n for x, n in packed.items())
    assert any(used[x] > (found.packs - 1) * n for x, n in packed.items())
    assert found.least <= found.packs
    assert sum(found.left_over) == found.packs * sum(block.mix) - sum(used.values())


@settings(max_examples=40, deadline=None)
@given(mixed_jobs())
def test_a_job_is_always_the_same_wall_and_another_seed_is_legal(
    table: dict[str, Any],
) -> None:
    spec, laid = laid_out(table)
    assert setting_out_record(spec, laid) == setting_out_record(spec, set_out(spec))
    other = copy.deepcopy(table)
    other["bond"]["seed"] += 1
    changed = resolve(validate(other))
    assert list(faults(changed.walls[0], set_out(changed).walls[0])) == []


def long_wall(length: int, seed: int = 1, mix: str = "[1, 2, 1]", adjust: str = "true") -> JobSpec:
    return loads(
        f"""
title = "long"
[block]
lengths_mm = [190, 290, 390]
mix = {mix}
width_mm = 100
height_mm = 140
[bond]
seed = {seed}
adjust = {adjust}
[[walls]]
name = "w"
plan = {{ shape = "straight", length_mm = {length} }}
height = {{ courses = 6 }}
"""
    )


@pytest.mark.parametrize("mix", ["[1, 2, 1]", "[1, 1, 1]", "[3, 2, 1]", "[1, 2, 3]"])
@pytest.mark.parametrize("length", [19990, 19965, 20025])
def test_a_long_wall_keeps_to_its_mix(length: int, mix: str) -> None:
    """In twenty metres and six courses no pack more than two are bought for nothing."""
    laid = set_out(long_wall(length, mix=mix))
    (found,) = laid.mixtures
    assert sum(found.cut) == 0
    assert found.shares == pytest.approx(found.asked, abs=0.02)
    assert found.packs <= sum(found.used) / sum(found.mix) + 2


def test_with_the_nominal_perp_the_packs_of_a_long_wall_are_proven() -> None:
    """Each course is 20 m of blocks and perps; a pack of 1, 2 and 1 lays 1.2 m: 100 packs."""
    (found,) = set_out(long_wall(19990, adjust="false")).mixtures
    assert (found.packs, found.least, found.left_over) == (100, 100, (0, 0, 0))


def test_no_course_is_the_one_two_below_and_another_seed_lays_another_wall() -> None:
    laid = [set_out(long_wall(5990, seed)) for seed in (1, 2)]
    rows = [[tuple(r.lengths) for r in rows_of(one.walls[0])["r1"]] for one in laid]
    assert rows[0] != rows[1]
    for courses in rows:
        assert all(a != b for a, b in pairwise(courses))
        assert all(a != b for a, b in zip(courses, courses[2:], strict=False))


def test_the_same_bytes_in_another_process_whatever_its_hashes() -> None:
    path = ROOT / "examples" / "cottage-border.toml"
    code = (
        "import sys; from parametric_wall import load, set_out; "
        "from parametric_wall.export.records import json_bytes, setting_out_record; "
        "s = load(sys.argv[1]); out = json_bytes(setting_out_record(s, set_out(s))); "
        "sys.stdout.buffer.write(out)"
    )
    said = [
        subprocess.run(
            [sys.executable, "-c", code, str(path)],
            check=True,
            capture_output=True,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
        ).stdout
        for seed in ("0", "12345")
    ]
    assert said[0] == said[1]
    spec = load(path)
    assert json.loads(said[0]) == json.loads(json.dumps(setting_out_record(spec, set_out(spec))))


@pytest.mark.cad
@settings(max_examples=20, deadline=None)
@given(mixed_jobs())
def test_the_proof_agrees(table: dict[str, Any]) -> None:
    from parametric_wall.solid.model import model_of
    from parametric_wall.verify.proof import FileMeasures, prove

    spec, laid = laid_out(table)
    assume(not stops(check(spec, laid)))
    proof = prove(spec, laid, model_of(laid), FileMeasures())
    assert all(row.agrees for row in proof.rows)
    assert proof.agrees
