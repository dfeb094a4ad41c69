"""Heights that gauge, footing sizes and volumes, girths. Computed, and common practice."""

from __future__ import annotations

import math

import pytest

from parametric_wall.job.read import loads
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.closed_form import closed_form, measure


def height(finished: float, level: float = 0.0):
    return (
        loads(
            f"""
title = "height"
[block]
size = "440x140x140"
[coping]
size = "600x220x50"
[base]
level_mm = {level}
[[walls]]
name = "w"
plan = {{ shape = "straight", length_mm = 3590 }}
height = {{ finished_mm = {finished} }}
"""
        )
        .walls[0]
        .gauge
    )


@pytest.mark.parametrize(("courses", "low", "high"), [(4, 590, 635), (3, 444, 480)])
def test_what_courses_of_140_reach_with_beds_of_6_to_15(courses, low, high) -> None:
    """The masonry and the coping bed; the coping of 50 comes on top."""
    for body in (low, high):
        gauge = height(body + 50)
        assert gauge.courses == courses
        assert gauge.met
        assert gauge.finished == pytest.approx(body + 50)
    for body in (low - 1, high + 1):
        assert not height(body + 50).met


def test_a_height_that_does_not_gauge_names_the_nearest_two() -> None:
    gauge = height(535 + 50)
    assert (gauge.below, gauge.above) == pytest.approx((480 + 50, 590 + 50))


def test_gauge_rod_marks_of_a_215_block() -> None:
    """225, 450, 675 (textbook)."""
    spec = loads(
        'title = "rod"\n[block]\nsize = "440x100x215"\n[base]\nlevel_mm = 0\n[[walls]]\n'
        'name = "w"\nplan = { shape = "straight", length_mm = 3590 }\nheight = { courses = 3 }\n'
    ).walls[0]
    marks = [spec.gauge.course_base(n) for n in (2, 3, 4)]
    assert marks == [225, 450, 675]


def footing(block: str, plan: str, spread: float, depth: float, below: float = 0.0):
    return loads(
        f"""
title = "footing"
[block]
size = "{block}"
[footing]
spread_mm = {spread}
depth_mm = {depth}
below_ground_mm = {below}
[[walls]]
name = "w"
plan = {plan}
height = {{ courses = 2 }}
"""
    )


@pytest.mark.parametrize(
    ("block", "spread", "width"),
    [("440x215x215", 150, 515), ("440x100x215", 150, 400), ("440x140x140", 105, 350)],
)
def test_footing_width_is_the_thickness_and_two_spreads(block, spread, width) -> None:
    spec = footing(block, '{ shape = "straight", length_mm = 2690 }', spread, 150)
    piece = next(p for p in set_out(spec).walls[0].pieces if p.kind == "footing")
    ys = [y for _, y in piece.shape.plan()]
    assert max(ys) - min(ys) == width


def test_the_l_shaped_footing_of_0_54_cubic_metres() -> None:
    """Outside legs 3590 and 2240, t 140, footing 450 x 200, past its free ends by 155:
    centre line 5690, + 310 = 6000; 6.0 x 0.45 x 0.2."""
    plan = '{ shape = "legs", legs = [{ length_mm = 3590, turn = "left" }, { length_mm = 2240 }] }'
    spec = footing("440x140x140", plan, 155, 200)
    assert measure(spec.walls[0]).girth(70) == 5690
    assert closed_form(spec.walls[0])["footing"] / 1e9 == pytest.approx(0.5400, rel=1e-12)
    assert set_out(spec).walls[0].pieces[0].volume / 1e9 == pytest.approx(0.5400, rel=1e-12)


def test_the_trench_of_a_150_block_is_350_wide_and_200_deep() -> None:
    """Common practice: 100 spread each side, first course 50 below ground, 150 of concrete."""
    spec = loads(
        """
title = "trench"
[block]
length_mm = 440
width_mm = 150
height_mm = 140
[footing]
spread_mm = 100
depth_mm = 150
below_ground_mm = 50
[[walls]]
name = "w"
plan = { shape = "straight", length_mm = 2800 }
height = { courses = 2 }
"""
    )
    assert closed_form(spec.walls[0])["trench"] == pytest.approx(350 * 200 * 3000)


@pytest.mark.parametrize(
    ("length", "width", "t"), [(1940, 1040, 140), (3590, 2240, 102.5), (3000, 4000, 215)]
)
def test_centre_line_girth_is_the_outside_less_four_thicknesses(length, width, t) -> None:
    """Quantity surveyors' textbooks, for any rectilinear closed plan."""
    spec = loads(
        f"""
title = "girth"
[block]
length_mm = 440
width_mm = {t}
height_mm = 140
[[walls]]
name = "w"
plan = {{ shape = "rectangle", length_mm = {length}, width_mm = {width} }}
height = {{ courses = 1 }}
"""
    ).walls[0]
    assert measure(spec).girth(t / 2) == 2 * (length + width) - 4 * t


@pytest.mark.parametrize(
    ("a", "b", "diagonal"), [(1940, 1040, 2201.2), (3590, 2240, 4231.5), (3000, 4000, 5000)]
)
def test_diagonals_of_the_set_out_corners(a, b, diagonal) -> None:
    spec = footing(
        "440x140x140", f'{{ shape = "rectangle", length_mm = {a}, width_mm = {b} }}', 100, 150
    )
    corners = [(p.x, p.y) for p in spec.walls[0].path.placements()]
    assert math.dist(corners[0], corners[2]) == pytest.approx(diagonal, abs=0.05)
    assert math.dist(corners[0], corners[2]) == pytest.approx(math.dist(corners[1], corners[3]))
