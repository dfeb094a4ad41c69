"""Units and mortar per square metre.

Sources: estimating notes (two documents) for 60 (59.26) bricks to the m2 and 63 with 5 %
waste, 0.025 m3 of mortar with waste and frogs, and 119 or 120 bricks to the m2 of a wall of one
brick; 10 blocks of 440 x 215 to the m2; notes of quantity surveyors that call a wall of one
brick 225 thick. n = 1e6 / ((l + 10) (h + 10)) and mortar = t - n l h t elsewhere (closed form).
"""

from __future__ import annotations

import math

import pytest

from parametric_wall.job.read import loads
from parametric_wall.order.wet import makings
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.closed_form import blocks_by_area, closed_form
from parametric_wall.takeoff.counted import counted
from parametric_wall.takeoff.quantities import waste


def wall(length: float, width: float, height: float, run: float, courses: int):
    """A straight wall from an existing wall to a stop end: as many joints as blocks."""
    return loads(
        f"""
title = "square metres"
[block]
length_mm = {length}
width_mm = {width}
height_mm = {height}
[base]
level_mm = 0
[[walls]]
name = "w"
plan = {{ shape = "straight", length_mm = {run} }}
height = {{ courses = {courses} }}
start = {{ kind = "abutment" }}
"""
    )


@pytest.mark.parametrize(
    ("size", "per_m2", "mortar_m3_m2"),
    [
        ((215, 102.5, 65), 59.259, 0.017615),
        ((440, 100, 215), 9.877, 0.006568),
        ((440, 140, 215), 9.877, 0.009195),
        ((440, 215, 215), 9.877, 0.014121),
        ((440, 215, 100), 20.202, 0.023889),
        ((290, 140, 140), 22.222, 0.013689),
        ((390, 90, 190), 12.500, 0.006637),
    ],
)
def test_units_and_mortar_to_the_square_metre(size, per_m2, mortar_m3_m2) -> None:
    length, _, height = size
    courses, blocks = 1, 40
    run = blocks * (length + 10)
    spec = wall(*size, run, courses)
    area = run * courses * (height + 10) / 1e6
    assert blocks_by_area(spec.walls[0]) / area == pytest.approx(per_m2, abs=5e-4)
    volumes = counted(set_out(spec).walls[0])
    mortar = volumes["bed"] + volumes["perp"]
    assert mortar / 1e9 / area == pytest.approx(mortar_m3_m2, abs=5e-7)
    closed = closed_form(spec.walls[0])
    assert closed["blocks and perps"] == pytest.approx(volumes["block"] + volumes["perp"])


def test_sixty_three_bricks_are_ordered_for_a_square_metre() -> None:
    """Estimating notes: 1 / (0.225 x 0.075) = 59.26; + 5 % = 62.2; 63 to order."""
    per_m2 = 1 / (0.225 * 0.075)
    assert per_m2 == pytest.approx(59.26, abs=5e-3)
    assert math.ceil(per_m2 * (1 + waste("block") / 100)) == 63


def test_mortar_stays_within_the_published_figures_with_their_waste() -> None:
    """Half brick: 0.025 m3 to the m2 with waste and frogs; 440 x 215 x 100: 0.0056 to 0.007."""
    for size, least, most in (
        ((215, 102.5, 65), 0.0176, 0.025),
        ((440, 100, 215), 0.0056, 0.007),
    ):
        spec = wall(*size, 40 * (size[0] + 10), 1)
        area = 40 * (size[0] + 10) * (size[2] + 10) / 1e6
        (mortar, *_) = makings(spec, set_out(spec))
        assert least < mortar.net_m3 / area < most
        assert mortar.net_m3 / area < mortar.made_m3 / area < most + 0.0005


def test_a_wall_of_one_brick_has_twice_as_many() -> None:
    """Published as 119 and as 120: twice 59.26, and twice 60."""
    spec = wall(215, 102.5, 65, 40 * 225, 1)
    per_m2 = blocks_by_area(spec.walls[0]) / (40 * 0.225 * 0.075)
    assert math.ceil(2 * per_m2) == 119
    assert 2 * math.ceil(per_m2) == 120


def test_ten_blocks_to_the_square_metre_on_the_safe_side() -> None:
    spec = wall(440, 100, 215, 40 * 450, 1)
    assert math.ceil(blocks_by_area(spec.walls[0]) / (40 * 0.45 * 0.225)) == 10


def test_volumes_are_of_the_built_thickness_and_not_the_co_ordinating_one() -> None:
    """A wall of one brick is built 215 thick; from 225 it would be 4.7 % more."""
    spec = wall(440, 215, 215, 40 * 450, 1)
    area = 40 * 0.45 * 0.225
    built = closed_form(spec.walls[0])
    thick = (built["blocks and perps"] + built["beds"]) / 1e9 / area
    assert thick == pytest.approx(0.215)
    assert 0.225 / thick - 1 == pytest.approx(0.047, abs=5e-4)
