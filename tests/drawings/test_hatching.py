"""Hatches: lines within an outline, against the area that they cover and against shapely.

Lines at 45 degrees for a cut are ISO 128-3 (from memory). Lines so far apart, summed, give
the area (Cavalieri's principle).
"""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from shapely import LineString, Polygon, make_valid

from parametric_wall.drawings.hatching import HATCHES, hatch_lines
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Hatch

L_SHAPE = ((0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (20.0, 20.0), (20.0, 50.0), (0.0, 50.0))
RING = (
    *((0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0), (0.0, 0.0)),
    *((10.0, 10.0), (10.0, 30.0), (50.0, 30.0), (50.0, 10.0), (10.0, 10.0)),
)
"""Once round the outside, in along a line, once round the inside and back."""
HATCHED: list[Hatch] = ["block", "cut", "concrete", "earth", "gravel"]


def total(outline: tuple[Point, ...], hatch: Hatch) -> float:
    return sum(math.dist(a, b) for a, b in hatch_lines(outline, hatch))


@pytest.mark.parametrize(("outline", "area"), [(L_SHAPE, 1800.0), (RING, 1600.0)])
def test_lines_cover_the_area(outline: tuple[Point, ...], area: float) -> None:
    assert total(outline, "block") * 2.0 == pytest.approx(area, rel=0.02)
    assert total(outline, "cut") * 2.0 == pytest.approx(2.0 * area, rel=0.02)


@pytest.mark.parametrize("hatch", HATCHED)
def test_dashes_are_drawn_for_their_share(hatch: Hatch) -> None:
    large = ((0.0, 0.0), (600.0, 0.0), (600.0, 400.0), (0.0, 400.0))
    share = sum((f.dash[0] / sum(f.dash) if f.dash else 1.0) / f.spacing for f in HATCHES[hatch])
    assert total(large, hatch) == pytest.approx(share * 600.0 * 400.0, rel=0.02)


@pytest.mark.parametrize("hatch", HATCHED)
@pytest.mark.parametrize("outline", [L_SHAPE, RING])
def test_every_line_is_inside(outline: tuple[Point, ...], hatch: Hatch) -> None:
    inside = Polygon(outline).buffer(0)
    if outline is RING:
        inside = Polygon(RING[:5], [RING[5:]])
    grown = inside.buffer(1e-6)
    for ends in hatch_lines(outline, hatch):
        assert grown.covers(LineString(ends))


@example(
    [(5.0, 0.0625), (5.0, 0.0625), (5.0, 0.05078125), (12.0, 0.34375), (16.0, 0.0625)], "block"
)
@given(
    st.lists(st.tuples(st.floats(5, 40), st.floats(0.05, 0.35)), min_size=3, max_size=12),
    st.sampled_from(HATCHED),
)
def test_of_any_outline(spokes: list[tuple[float, float]], hatch: Hatch) -> None:
    """Stars about a point: outlines with corners in and out, some of which cross themselves.

    What an outline goes round twice is outside: so is it read by `make_valid`.
    """
    whole = sum(turn for _, turn in spokes)
    at, outline = 0.0, []
    for radius, turn in spokes:
        outline.append((100 + radius * math.cos(at), 100 + radius * math.sin(at)))
        at += turn / whole * math.tau
    drawn = Polygon(outline)
    shape = make_valid(drawn)
    grown = shape.buffer(1e-6)
    lines = list(hatch_lines(tuple(outline), hatch))
    assert all(grown.covers(LineString(ends)) for ends in lines)
    if hatch == "block":
        spread = drawn.length * 2.0  # One line more or less along the edge.
        assert abs(sum(math.dist(*ends) for ends in lines) * 2.0 - shape.area) <= spread


def test_lines_of_a_cut_run_at_45_degrees() -> None:
    for (x0, y0), (x1, y1) in hatch_lines(L_SHAPE, "block"):
        assert y1 - y0 == pytest.approx(x1 - x0, abs=1e-9)


def test_nothing_is_drawn_where_nothing_is_cut() -> None:
    assert list(hatch_lines(L_SHAPE, "none")) == []


def test_pieces_side_by_side_share_their_lines() -> None:
    """A wall hatched piece by piece looks as if hatched as one."""
    parts = [((x, 0.0), (x + 20.0, 0.0), (x + 20.0, 30.0), (x, 30.0)) for x in (0.0, 20.0)]
    offsets = [
        {
            round((y - x) / math.sqrt(2) / 2.0 % 1.0, 6) % 1.0
            for (x, y), _ in hatch_lines(p, "block")
        }
        for p in parts
    ]
    assert offsets == [{0.0}, {0.0}]
