"""Rows of copings against brute force, and the facts of a single row."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric_wall.setting_out.along import Stretch, fill

GRID = 50


def brute_force(stretch: Stretch, zones: tuple[tuple[float, float], ...]) -> int | None:
    """Fewest cuts of any row whose pieces are multiples of the grid; None where none fits."""
    sizes = range(GRID, int(stretch.unit) + 1, GRID)
    best = None
    for count in range(1, 6):
        for row in product(sizes, repeat=count):
            joints = [sum(row[: i + 1]) + i * stretch.joint for i in range(count - 1)]
            if sum(row) + (count - 1) * stretch.joint != stretch.length:
                continue
            if row[0] < stretch.first or row[-1] < stretch.last:
                continue
            if any(x < stretch.least for x in row[1:-1]):
                continue
            if any(low < joint < high for joint in joints for low, high in zones):
                continue
            cuts = sum(x < stretch.unit for x in row)
            best = cuts if best is None else min(best, cuts)
    return best


@settings(max_examples=60, deadline=None)
@given(
    st.integers(2, 18),
    st.lists(st.tuples(st.integers(0, 900), st.integers(20, 120)), max_size=3),
)
def test_never_more_cuts_than_brute_force_on_a_coarser_grid(
    length: int, zones: list[tuple[int, int]]
) -> None:
    stretch = Stretch(length * GRID, 200, GRID, 100, 100, 100)
    blocked = tuple((float(a), float(a + w)) for a, w in sorted(zones))
    lengths = fill(stretch, blocked)
    expected = brute_force(stretch, blocked)
    if expected is not None:
        assert lengths
        assert sum(x < 200 for x in lengths) <= expected
    if lengths:
        assert sum(lengths) + (len(lengths) - 1) * GRID == pytest.approx(stretch.length)
        assert min(lengths) >= 100
        assert max(lengths) <= 200
        at = 0.0
        for x in lengths[:-1]:
            at += x
            assert not any(low < at < high for low, high in blocked)
            at += GRID


def test_a_mitred_end_is_never_whole() -> None:
    stretch = Stretch(610, 600, 10, 150, 150, 300, (True, False))
    lengths = fill(stretch, ())
    assert sum(lengths) == 600
    assert len(lengths) == 2


def test_nothing_fits_between_one_unit_and_two_slivers() -> None:
    assert fill(Stretch(700, 600, 10, 400, 400, 400), ()) == ()
