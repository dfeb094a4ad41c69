"""Laps, and bonds in the awkward places."""

from __future__ import annotations

from parametric_wall.job.cutting import CRITERIA
from parametric_wall.setting_out.bond import Course, Span, Unit, lap
from parametric_wall.setting_out.pairs import Wants, shortlist

BLOCK = Unit(length=440, joint=10, min_lap=56, min_cut=110, min_closer=50)


def test_perps_that_run_on_have_a_negative_lap() -> None:
    span = Span(0.0, 890.0, ("free", "free"))
    course = Course(span, (440.0,), 10.0, (440.0, 440.0), 440.0)
    assert lap(course, course) == -10.0


def test_a_lap_is_the_overlap_of_block_on_block() -> None:
    span = Span(0.0, 890.0, ("free", "free"))
    whole = Course(span, (440.0,), 10.0, (440.0, 440.0), 440.0)
    halves = Course(span, (440.0,), 10.0, (215.0, 440.0, 215.0), 215.0)
    assert lap(whole, halves) == 215.0


def wants(count: int, joints: tuple[float, float] | None = None) -> Wants:
    return Wants(count, None, False, joints, True, 10.0, CRITERIA)


def free(length: float) -> Span:
    return Span(0.0, length, ("free", "free"))


def test_one_course_needs_no_lap() -> None:
    found = shortlist(BLOCK, free(3590), free(3590), wants(1), fine=False)
    assert found[0].courses[0].pieces == (440.0,) * 8


def test_a_run_shorter_than_the_smallest_piece_has_no_bond() -> None:
    assert shortlist(BLOCK, free(100), free(100), wants(2), fine=True) == ()


def test_a_long_run_bonds_in_half_bond_with_perps_a_little_wider() -> None:
    best = shortlist(BLOCK, free(399_990), free(399_990), wants(6, (6, 15)), fine=False)[0]
    assert best.lap > 200
    assert len(best.cut) <= 12


def test_a_run_a_few_millimetres_off_takes_wider_perps_and_no_cut() -> None:
    """Between existing walls, eight blocks and nine perps: 8 x 440 + 9 x 10 = 3610, and 9 more."""
    span = Span(0.0, 3619.0, ("joint", "joint"))
    best = shortlist(BLOCK, span, span, wants(1, (6, 15)), fine=False)[0]
    assert best.courses[0].pieces == (440.0,) * 8
    assert best.courses[0].joint == 11.0


def test_a_closed_perp_range_leaves_the_cut() -> None:
    span = Span(0.0, 3619.0, ("joint", "joint"))
    best = shortlist(BLOCK, span, span, wants(1), fine=False)[0]
    assert best.courses[0].joint == 10.0
    assert best.cut
