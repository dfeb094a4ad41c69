"""What must hold of every wall of blocks of several heights."""

from __future__ import annotations

from collections import Counter
from itertools import cycle, islice, pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from strategies import jobs, laid_out, the_closed_form_meets_the_count

from parametric_wall.checks.check import check
from parametric_wall.checks.finding import stops
from parametric_wall.geometry import TOLERANCE
from parametric_wall.reference.en1996 import overlap_min
from parametric_wall.setting_out.bond import lap
from parametric_wall.takeoff.cutting import cut_units
from parametric_wall.takeoff.quantities import quantities

HEIGHTS = (65, 102.5, 140, 190, 215)


@st.composite
def family_jobs(draw: st.DrawFn) -> dict:
    """A job whose block has two or three heights, laid in turn or in an order of its own."""
    table = draw(jobs())
    several = st.lists(st.sampled_from(HEIGHTS), min_size=2, max_size=3, unique=True)
    heights = draw(several)
    table["block"]["heights_mm"] = heights
    if draw(st.booleans()):
        order = draw(st.lists(st.sampled_from(heights), min_size=1, max_size=4))
        table["bond"]["course_heights_mm"] = order
    return table


@settings(max_examples=60, deadline=None)
@given(family_jobs())
def test_the_closed_form_meets_the_count(table: dict) -> None:
    spec, laid = laid_out(table)
    the_closed_form_meets_the_count(spec.walls[0], laid.walls[0])


@settings(max_examples=60, deadline=None)
@given(family_jobs())
def test_every_course_has_blocks_of_its_own_height_on_the_course_below(table: dict) -> None:
    spec, laid = laid_out(table)
    order = table["bond"].get("course_heights_mm", table["block"]["heights_mm"])
    heights = tuple(islice(cycle(order), spec.walls[0].gauge.courses))
    base, bed = spec.walls[0].gauge.base, spec.walls[0].joints.bed_mm
    for piece in laid.walls[0].pieces:
        if piece.kind == "block":
            under = sum(heights[: piece.course - 1]) + (piece.course - 1) * bed
            low, high = piece.at.z, piece.at.z + max(z for _, z in piece.shape.section)
            assert low == pytest.approx(base + under + bed)
            assert high - low == pytest.approx(heights[piece.course - 1])


@settings(max_examples=60, deadline=None)
@given(family_jobs())
def test_laps_keep_to_the_rule_of_the_tallest(table: dict) -> None:
    _, laid = laid_out(table)
    least = overlap_min(max(table["block"]["heights_mm"])) - TOLERANCE.coincident
    for run in laid.walls[0].bonded:
        assert all(lap(a, b) >= least for a, b in pairwise(run.bond.courses))


@settings(max_examples=60, deadline=None)
@given(family_jobs())
def test_a_piece_is_cut_from_a_block_of_its_own_height(table: dict) -> None:
    spec, laid = laid_out(table)
    heights = spec.walls[0].gauge.heights
    units = [u for u in cut_units(spec, laid) if u.unit.startswith("block")]
    for unit in units:
        assert {f"{heights[p.course - 1]:g}" for p in unit.pieces} == {unit.unit.split("x")[-1]}
        rest = spec.walls[0].block.longest - sum(p.length for p in unit.pieces)
        assert rest >= spec.job.cutting.loss * (len(unit.pieces) - 1) - TOLERANCE.coincident


@settings(max_examples=60, deadline=None)
@given(family_jobs())
def test_blocks_are_counted_and_certified_by_height(table: dict) -> None:
    spec, laid = laid_out(table)
    heights = spec.walls[0].gauge.heights
    bought = Counter(u.unit.removeprefix("block ") for u in cut_units(spec, laid))
    block = spec.walls[0].block
    for piece in laid.walls[0].pieces:
        if piece.kind == "block" and not piece.cut:
            bought[block.name_at(heights[piece.course - 1])] += 1
    lines = {q.item: q.net for q in quantities(spec, laid)}
    assert {name for name, _ in laid.certificates} == {block.name_at(h) for h in heights}
    for name, found in laid.certificates:
        assert found.bound <= found.blocks == bought[name] == lines[f"blocks, {name}"]


@pytest.mark.cad
@settings(max_examples=25, deadline=None)
@given(family_jobs())
def test_the_proof_agrees(table: dict) -> None:
    from parametric_wall.solid.model import model_of
    from parametric_wall.verify.proof import FileMeasures, prove

    spec, laid = laid_out(table)
    assume(not stops(check(spec, laid)))
    proof = prove(spec, laid, model_of(laid), FileMeasures())
    assert all(row.agrees for row in proof.rows)
    assert proof.agrees
