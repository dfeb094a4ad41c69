"""How much paper the texts of a view take: a turned box each, in mm of paper from its (0, 0)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

from parametric_wall.drawings import lettering
from parametric_wall.drawings.dimension_lines import (
    dimension_ends,
    measured_text,
    upright,
    usual_place,
)
from parametric_wall.drawings.sheet import Anchor, Point
from parametric_wall.drawings.view import Dimension, Label, View
from parametric_wall.geometry import TOLERANCE, direction

Segment = tuple[Point, Point]

SLACK = TOLERANCE.coincident

BEFORE: dict[Anchor, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""How much of a text stands before the point at which it is anchored."""


@dataclass(frozen=True, slots=True)
class Box:
    """The paper that one text takes, mm.

    Attributes:
        text: what it says.
        corners: anticlockwise, the first where its base line begins, but lower.
    """

    text: str
    corners: tuple[Point, Point, Point, Point]

    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y."""
        xs, ys = zip(*self.corners, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    def meets(self, other: Box) -> bool:
        """Whether two boxes overlap; boxes that only touch do not."""
        return not _apart(self.corners, other.corners)

    def crossed(self, line: Segment) -> bool:
        """Whether a line goes through the box; along its edge it does not."""
        return not _apart(self.corners, line)


def _apart(a: tuple[Point, ...], b: tuple[Point, ...]) -> bool:
    """Whether a straight line parts two convex outlines; the first is a rectangle."""
    for k in (0, 1):  # Along x and y first: that parts most of them.
        ours, others = [p[k] for p in a], [p[k] for p in b]
        if max(ours) <= min(others) + SLACK or max(others) <= min(ours) + SLACK:
            return True
    (ax, ay), (bx, by), (cx, cy) = a[0], a[1], a[2]
    axes = [(bx - ax, by - ay), (cx - bx, cy - by)]
    axes += [(q[1] - p[1], p[0] - q[0]) for p, q in pairwise(b)]
    return any(_parted(axis, a, b) for axis in axes)


def _parted(axis: Point, a: tuple[Point, ...], b: tuple[Point, ...]) -> bool:
    x, y = axis
    ours, others = [x * p + y * q for p, q in a], [x * p + y * q for p, q in b]
    slack = SLACK * hypot(x, y)
    return max(ours) <= min(others) + slack or max(others) <= min(ours) + slack


def text_box(text: str, at: Point, height: float, anchor: Anchor, turn_deg: float = 0.0) -> Box:
    """The box of a text that stands at a point of the paper.

    Figures stand on the base line; other letters reach below it. All in mm of paper.
    """
    wide = lettering.width(text, height)
    plain = all(c.isdigit() or c in ". " for c in text)
    low = -0.02 * height if plain else -lettering.DEPTH * height
    high = height if plain else lettering.rise(text, height)
    left = -BEFORE[anchor] * wide
    (x, y), (c, s) = at, direction(turn_deg)

    def corner(along: float, up: float) -> Point:
        return x + c * along - s * up, y + s * along + c * up

    right = left + wide
    return Box(
        text, (corner(left, low), corner(right, low), corner(right, high), corner(left, high))
    )


def boxes(view: View) -> tuple[Box, ...]:
    """The boxes of all texts of a view, dimensions' and labels', in mm of paper."""
    return tuple(_boxes(view))


def _boxes(view: View) -> Iterator[Box]:
    for mark in view.marks:
        if isinstance(mark, Label):
            x, y = mark.at[0] / view.scale, mark.at[1] / view.scale
            yield text_box(mark.text, (x, y), mark.height, mark.anchor, mark.turn_deg)
        elif isinstance(mark, Dimension):
            yield dimension_box(mark, view.scale)


def dimension_box(dimension: Dimension, scale: float) -> Box:
    """The box of a dimension's text, mm of paper."""
    measured = (dimension.start, dimension.end, dimension.through)
    start, end, through = ((x / scale, y / scale) for x, y in measured)
    ends = dimension_ends(start, end, through, dimension.turn_deg)
    at = usual_place(ends, dimension.turn_deg)
    if dimension.text_at is not None:
        at = dimension.text_at[0] / scale, dimension.text_at[1] / scale
    text = measured_text(ends.length * scale)
    return text_box(text, at, dimension.height, "middle", upright(dimension.turn_deg))
