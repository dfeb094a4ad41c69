"""Copings: volumes, falls, pieces and overhangs. Sources named at each test."""

from __future__ import annotations

import math

import pytest

from parametric_wall.checks.check import check
from parametric_wall.geometry import signed_area
from parametric_wall.job.read import loads
from parametric_wall.setting_out.along import Stretch, fill
from parametric_wall.setting_out.set_out import set_out


def job(coping: str, block: str = "440x140x140", length: float = 20_000, courses: int = 4):
    return loads(
        f"""
title = "copings"
[block]
size = "{block}"
[coping]
{coping}
[[walls]]
name = "w"
plan = {{ shape = "straight", length_mm = {length} }}
height = {{ courses = {courses} }}
"""
    )


def test_volume_of_a_once_weathered_coping() -> None:
    """Computed: 0.6 x 0.275 x (0.060 + 0.050) / 2 = 0.009075 m3, less grooves of 0.0000624."""
    text = (
        'size = "600x275x60"\nprofile = "weathered"\nfall = { to = "front", mm = 10, in_mm = 275 }'
    )
    lay = job(text).walls[0].coping
    assert 600 * signed_area(lay.section(10)) / 1e9 == pytest.approx(0.009075, rel=1e-12)
    drip = "\ndrip = { width_mm = 13, depth_mm = 8, distance_mm = 20 }"
    grooved = job(text + drip).walls[0].coping
    less = 600 * (signed_area(lay.section(10)) - signed_area(grooved.section(10))) / 1e9
    assert less == pytest.approx(2 * 0.0000624, rel=1e-9)


def test_a_fall_of_1_in_40_over_150_is_3_75() -> None:
    """BS 5642-2 and practice (from memory): weathering of at least 1:40."""
    text = (
        'length_mm = 600\nwidth_mm = 150\nthickness_mm = 50\nprofile = "weathered"\n'
        'fall = { to = "front", mm = 1, in_mm = 40 }'
    )
    assert job(text, block="440x100x140").walls[0].coping.weathering == pytest.approx(3.75)


def test_the_wedge_bed_of_a_slab_bedded_10_in_220() -> None:
    """Computed: 10 at the low edge is 16.4 at the high edge of a wall of 140."""
    lay = job('size = "600x220x65"\nfall = { to = "front", mm = 10, in_mm = 220 }').walls[0].coping
    low, high = (z for _, z in lay.bed_section(10)[3:1:-1])
    assert low == pytest.approx(10)
    assert high == pytest.approx(16.4, abs=0.05)


def test_a_bedded_slab_is_rotated_and_keeps_its_size() -> None:
    lay = job('size = "600x220x65"\nfall = { to = "back", mm = 10, in_mm = 220 }').walls[0].coping
    a, b, c, d = lay.section(10)
    sides = [math.dist(a, b), math.dist(b, c), math.dist(c, d), math.dist(d, a)]
    assert sides == pytest.approx([220, 65, 220, 65])
    assert signed_area(lay.section(10)) == pytest.approx(220 * 65)


def test_a_run_through_corner_leaves_a_step_of_10_at_10_in_220() -> None:
    """Computed."""
    spec = loads(
        """
title = "step"
[block]
size = "440x140x140"
[coping]
size = "600x220x65"
corner = "run through"
fall = { to = "front", mm = 10, in_mm = 220 }
[[walls]]
name = "w"
plan = { shape = "legs", legs = [{ length_mm = 3590, turn = "left" }, { length_mm = 2240 }] }
height = { courses = 3 }
"""
    )
    laid = set_out(spec)
    said = next(f for f in check(spec, laid) if f.code == "corner-step")
    assert said.value == pytest.approx(10, abs=0.05)
    # And so it stands in the setting-out: the through coping's high lower arris, at its back,
    # over the butting one's low lower arris, at its front.
    copings = [p for p in laid.walls[0].pieces if p.kind == "coping"]
    through = next(p for p in copings if p.run == 1)
    section = through.shape.section
    assert section[1][1] - section[0][1] == pytest.approx(said.value)


@pytest.mark.parametrize(
    ("run", "pieces"), [(5050, [600] * 8 + [170]), (3700, [600] * 5 + [320, 320])]
)
def test_no_sliver_at_the_end_of_a_row(run: float, pieces: list[float]) -> None:
    """Computed: 5050 is eight and 170; 3700 would be six and a sliver of 40, so the last 650
    are shared (as two of 320, or by any two that are no slivers)."""
    lengths = fill(Stretch(run, 600, 10, 150, 150, 150), ())
    assert len(lengths) == len(pieces)
    assert sum(lengths) == sum(pieces)
    assert sum(x < 600 for x in lengths) == sum(x < 600 for x in pieces)
    assert min(lengths) >= 150


def test_three_of_thirty_four_copings_are_cut_on_20_m() -> None:
    """600 copings over 440 blocks at a clearance of 25 (common practice; counted before)."""
    coped = set_out(job('size = "600x220x65"\noverhang_end_mm = 40', courses=6)).walls[0].coped[0]
    assert len(coped.lengths) == 34
    assert coped.cuts == 3
    assert coped.clearance >= 25


def test_a_150_coping_on_a_100_wall_is_named_as_short_of_every_published_overhang() -> None:
    """BRE text as quoted 45, trade article citing GBG14 50, bricklaying practice 30."""
    spec = job("length_mm = 600\nwidth_mm = 150\nthickness_mm = 50", block="440x100x140")
    found = {f.code: f for f in check(spec, set_out(spec))}
    assert found["coping-overhang"].value == 25
    assert found["coping-overhang"].grade == "look at this"


@pytest.mark.parametrize(("overhang", "grade"), [(25, "look at this"), (35, "worth knowing")])
def test_grades_of_an_overhang(overhang: float, grade: str) -> None:
    width = 100 + 2 * overhang
    spec = job(f"length_mm = 600\nwidth_mm = {width}\nthickness_mm = 50", block="440x100x140")
    found = {f.code: f for f in check(spec, set_out(spec))}
    assert found["coping-overhang"].grade == grade


def test_a_short_row_is_the_same_from_both_ends_where_that_costs_no_cut() -> None:
    """Common practice: over a short wall the copings are set out from the middle."""
    coped = set_out(job('size = "600x220x50"\noverhang_end_mm = 40', length=3140)).walls[0].coped[0]
    assert coped.lengths == coped.lengths[::-1]
    assert coped.cuts == 2
    assert coped.clearance >= 25
