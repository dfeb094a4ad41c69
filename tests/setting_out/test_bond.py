"""The bond of single runs: against brute force on a grid, and in the awkward places."""

from __future__ import annotations

from itertools import product

import pytest

from parametric_wall.setting_out.bond import Course, Span, Unit, bond, lap

BLOCK = Unit(length=440, joint=10, min_lap=56, min_cut=110, min_closer=50, step=1 / 2)
GRID = 10


def every_course(unit: Unit, span: Span) -> list[Course]:
    """Every legal course of at most four blocks on the grid."""
    length = span.end - span.start
    sizes = [*range(GRID, int(unit.length) + 1, GRID)]
    low, high = (unit.min_closer if m == "butt" else unit.min_cut for m in span.meets)
    found = []
    for count in range(1, 4):
        for row in product(sizes, repeat=count - 1):
            last = length - sum(row) - (count - 1) * unit.joint
            pieces = (*row, last)
            if last < high or last > unit.length or pieces[0] < low:
                continue
            if all(p >= unit.min_cut for p in pieces[1:-1]):
                found.append(Course(span, unit.joint, tuple(map(float, pieces)), 0.0))
    return found


@pytest.mark.parametrize("length", [150, 230, 440, 450, 500, 560, 670, 780, 900, 1010])
@pytest.mark.parametrize("meets", [("free", "free"), ("joint", "free")])
def test_a_bond_is_found_just_where_brute_force_finds_one(length, meets) -> None:
    span = Span(10.0 if meets[0] == "joint" else 0.0, float(length), meets)
    courses = every_course(BLOCK, span)
    possible = any(lap(a, b) >= BLOCK.min_lap for a in courses for b in courses)
    found = bond(BLOCK, span, span, 2, fine=True)
    assert (found is not None) == possible


@pytest.mark.parametrize("core", [60, 110, 240, 330, 450, 560, 700])
def test_a_bond_between_two_corners(core: int) -> None:
    """One end goes through and the other butts, and the next course the other way round."""
    t = 140.0
    odd = Span(-t, core - 10.0, ("through", "butt"))
    even = Span(10.0, core + t, ("butt", "through"))
    pairs = [(a, b) for a in every_course(BLOCK, odd) for b in every_course(BLOCK, even)]
    possible = any(lap(a, b) >= BLOCK.min_lap for a, b in pairs)
    assert (bond(BLOCK, odd, even, 2, fine=True) is not None) == possible


def test_one_course_needs_no_lap() -> None:
    span = Span(0.0, 3590.0, ("free", "free"))
    found = bond(BLOCK, span, span, 1)
    assert found is not None
    assert found.courses[0].pieces == (440.0,) * 8
    assert found.laps == ()


def test_perps_that_run_on_have_a_negative_lap() -> None:
    span = Span(0.0, 890.0, ("free", "free"))
    course = Course(span, 10.0, (440.0, 440.0), 440.0)
    assert lap(course, course) == -10.0


def test_a_lap_is_the_overlap_of_block_on_block() -> None:
    span = Span(0.0, 890.0, ("free", "free"))
    whole = Course(span, 10.0, (440.0, 440.0), 440.0)
    halves = Course(span, 10.0, (215.0, 440.0, 215.0), 215.0)
    assert lap(whole, halves) == 215.0


def test_a_run_shorter_than_the_smallest_piece_has_no_bond() -> None:
    span = Span(0.0, 100.0, ("free", "free"))
    assert bond(BLOCK, span, span, 2, fine=True) is None


def test_a_long_run_bonds() -> None:
    span = Span(0.0, 399_990.0, ("free", "free"))
    found = bond(BLOCK, span, span, 6)
    assert found is not None
    assert found.misses == 0
    assert min(found.laps) == 215.0
