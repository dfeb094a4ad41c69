"""Hatches: what a section cut through is made of, told by lines.

Lines at 45 degrees stand for a cut in general (ISO 128-3). What each material has beyond
that is common practice in building drawings; legible in black and white. mm of paper.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, cos, floor, radians, sin

from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Hatch


@dataclass(frozen=True, slots=True)
class Family:
    """Parallel lines: one goes through `base`, the others stand beside it.

    Attributes:
        turn_deg: of the lines, anticlockwise from x.
        spacing: from line to line, mm of paper.
        shift: each line's dashes are this much further on than its neighbour's.
        dash: drawn and left out in turn; empty for whole lines.
        base: a point on the first line, where its dashes begin.
    """

    turn_deg: float
    spacing: float
    shift: float = 0.0
    dash: tuple[float, ...] = ()
    base: Point = (0.0, 0.0)


_ROW = 2.6
_SIDE = _ROW / sin(radians(60.0))

HATCHES: dict[Hatch, tuple[Family, ...]] = {
    "none": (),
    "block": (Family(45.0, 2.0),),
    "cut": (Family(45.0, 2.0), Family(135.0, 2.0)),
    "concrete": (Family(45.0, 3.0), Family(45.0, 3.0, 0.0, (1.5, 1.0), (0.0, 2.121))),
    "earth": (
        Family(45.0, 6.0, 0.0, (6.0, 2.0)),
        Family(45.0, 6.0, 0.0, (6.0, 2.0), (0.0, 1.4)),
        Family(45.0, 6.0, 0.0, (6.0, 2.0), (0.0, 2.8)),
    ),
    # Small triangles, row upon row.
    "gravel": tuple(
        Family(turn, _ROW, _SIDE / 2.0, (_SIDE / 3.0, _SIDE * 2.0 / 3.0), base)
        for turn, base in ((0.0, (0.0, 0.0)), (60.0, (0.0, 0.0)), (120.0, (_SIDE / 3.0, 0.0)))
    ),
}
"""Of each material: how the lines run."""


def hatch_lines(outline: tuple[Point, ...], hatch: Hatch) -> Iterator[tuple[Point, Point]]:
    """The lines of a hatch that lie within an outline, both in mm of paper.

    What an outline goes round twice is outside (even and odd), so a ring may be one
    outline that goes in along a line and comes back on it.
    """
    for family in HATCHES[hatch]:
        yield from _family_lines(outline, family)


def _family_lines(outline: tuple[Point, ...], family: Family) -> Iterator[tuple[Point, Point]]:
    c, s = cos(radians(family.turn_deg)), sin(radians(family.turn_deg))
    bx, by = family.base
    # Axes along and across the lines, from the base.
    turned = [((x - bx) * c + (y - by) * s, (y - by) * c - (x - bx) * s) for x, y in outline]
    low, high = min(v for _, v in turned), max(v for _, v in turned)
    for row in range(ceil(low / family.spacing), floor(high / family.spacing) + 1):
        v = row * family.spacing
        for start, end in _within(turned, v):
            for a, b in _dashes(start, end, row * family.shift, family.dash):
                yield (
                    (bx + a * c - v * s, by + a * s + v * c),
                    (bx + b * c - v * s, by + b * s + v * c),
                )


def _within(outline: list[Point], v: float) -> Iterator[tuple[float, float]]:
    """Where a line across an outline is inside it."""
    crossings = []
    for (u1, v1), (u2, v2) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (v1 <= v) != (v2 <= v):  # A corner on the line belongs to one side of it.
            crossings.append(u1 + (u2 - u1) * (v - v1) / (v2 - v1))
    crossings.sort()
    yield from zip(crossings[::2], crossings[1::2], strict=True)


def _dashes(
    start: float, end: float, shift: float, dash: tuple[float, ...]
) -> Iterator[tuple[float, float]]:
    if not dash:
        if end > start:
            yield start, end
        return
    period, on = sum(dash), dash[0]
    first = shift + floor((start - shift) / period) * period
    for i in range(ceil((end - first) / period)):
        a, b = max(start, first + i * period), min(end, first + i * period + on)
        if b > a:
            yield a, b
