"""Gauges of blocks of two heights: 65 and 140 gauge 75 and 150 with beds of 10 (textbook)."""

from __future__ import annotations

import pytest

from parametric_wall.checks.limits import block_mass, lift_courses
from parametric_wall.job.read import loads
from parametric_wall.reference.en1996 import overlap_min


def wall(height: str, heights: str = "[140, 65]", bond: str = ""):
    return loads(
        f"""
title = "two heights"
[block]
length_mm = 440
width_mm = 140
heights_mm = {heights}
[bond]
{bond}
[base]
level_mm = 0
[[walls]]
name = "w"
plan = {{ shape = "straight", length_mm = 3590 }}
height = {{ {height} }}
"""
    ).walls[0]


def test_gauge_rod_marks_of_140_and_65_in_turn() -> None:
    gauge = wall("courses = 4").gauge
    assert gauge.gauges == (150, 75)
    assert [gauge.course_base(n) for n in (1, 2, 3, 4, 5)] == [0, 150, 225, 375, 450]
    assert (gauge.masonry_top, gauge.stacked) == (450, 410)


def test_three_courses_of_65_gauge_as_one_of_215_and_two_of_them_as_one_of_140() -> None:
    """3 x 75 is 225, 2 x 75 is 150: why these heights are made."""
    tops = [
        wall(f"courses = {n}", "[65, 140, 215]", f"course_heights_mm = [{h}]").gauge.masonry_top
        for n, h in ((3, 65), (1, 215), (2, 65), (1, 140))
    ]
    assert tops == [225, 225, 150, 150]


def test_the_stated_order_is_laid_from_the_bottom_and_again() -> None:
    gauge = wall("courses = 5", bond="course_heights_mm = [140, 140, 65]").gauge
    assert gauge.heights == (140, 140, 65, 140, 140)


@pytest.mark.parametrize(
    ("finished", "courses", "bed"), [(450, 4, 10), (462, 4, 13), (600, 5, 10), (590, 5, 8)]
)
def test_a_finished_height_is_met_with_equal_beds(finished: int, courses: int, bed: int) -> None:
    gauge = wall(f"finished_mm = {finished}").gauge
    assert (gauge.courses, gauge.met) == (courses, True)
    assert gauge.bed == pytest.approx(bed)
    assert gauge.finished == pytest.approx(finished)


def test_a_height_that_does_not_gauge_names_the_nearest_two() -> None:
    """Three courses reach 345 + 3 x 15 = 390, four begin at 410 + 4 x 6 = 434."""
    gauge = wall("finished_mm = 410").gauge
    assert not gauge.met
    assert (gauge.below, gauge.above) == pytest.approx((390, 434))


def test_lap_mass_and_lifts_go_by_the_tallest() -> None:
    spec = wall("courses = 9", "[65, 215]")
    assert spec.rules.min_lap == overlap_min(215) == 86
    assert block_mass(spec.block) == pytest.approx(0.44 * 0.14 * 0.215 * 2000)
    assert lift_courses(spec) == 6
