"""Main sizes of a still picture: overall length, depth and height, with their lines and texts."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from parametric_wall.drawings.still.plane import Box
from parametric_wall.drawings.still.projection import Projection
from parametric_wall.geometry import Point, Point3

PEN, FINE = 0.3, 0.18
CAPITAL = 2.6
"""mm on paper: height of a capital letter."""
OUT, PAST, GAP, TICK = 8.0, 1.6, 1.2, 1.5
"""mm on paper: from the wall to the line, past the line, before the wall, half a tick."""
LETTER = 0.78
"""Width of a figure, of the height of a capital: generous, for any plain face."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line on paper between two points."""

    a: Point
    b: Point
    pen: float = PEN

    def moved(self, shift: Point) -> Stroke:
        """The same, moved."""
        return replace(self, a=_sum(self.a, shift), b=_sum(self.b, shift))

    def corners(self) -> tuple[Point, ...]:
        """Its ends."""
        return self.a, self.b


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text, its base line halved at a point; turned anticlockwise."""

    at: Point
    text: str
    turn_deg: float
    capital: float = CAPITAL

    def moved(self, shift: Point) -> Text:
        """The same, moved."""
        return replace(self, at=_sum(self.at, shift))

    def corners(self) -> tuple[Point, ...]:
        """The corners of the room that it takes."""
        half = len(self.text) * LETTER * self.capital / 2
        turn = math.radians(self.turn_deg)
        c, s = math.cos(turn), math.sin(turn)
        low, high = -0.3 * self.capital, 1.15 * self.capital
        return tuple(
            (self.at[0] + c * x - s * y, self.at[1] + s * x + c * y)
            for x, y in ((-half, low), (half, low), (half, high), (-half, high))
        )


Dimension = tuple[tuple[Stroke, ...], Text]


@dataclass(frozen=True, slots=True)
class Overall:
    """What is dimensioned, in the drawing's axes, mm.

    Attributes:
        plan: of the masonry.
        around: the same with the existing walls: the lines stand outside.
        depth: whether its size across is a main one.
        height: over ground, of the wall at that corner.
        post: the corner of the plan beside which the height stands.
        beside: how thick the existing wall beside that corner is.
    """

    plan: Box
    around: Box
    depth: bool
    height: float
    post: Point
    beside: float = 0.0


def dimensions(
    overall: Overall,
    projection: Projection,
    scale: float,
    right: bool,
) -> Iterator[Dimension]:
    """Strokes and text of every main size, on paper, its lowest left point not yet moved.

    Args:
        overall: what is dimensioned.
        projection: how it is seen.
        scale: paper mm a mm.
        right: whether it is seen from the front right.
    """
    x0, y0, x1, y1 = overall.plan
    left, front, far_right, _ = overall.around
    ends = ((x0, y0, 0.0), (x1, y0, 0.0))
    yield _dimension(ends, (0.0, -1.0, 0.0), x1 - x0, projection, scale, y0 - front)
    if overall.depth:
        x, out = (x1, 1.0) if right else (x0, -1.0)
        ends = ((x, y0, 0.0), (x, y1, 0.0))
        yield _dimension(
            ends,
            (out, 0.0, 0.0),
            y1 - y0,
            projection,
            scale,
            far_right - x1 if right else x0 - left,
        )
    x, y = overall.post
    upright = ((x, y, 0.0), (x, y, overall.height))
    out = -1.0 if right else 1.0
    yield _dimension(upright, (out, 0.0, 0.0), overall.height, projection, scale, overall.beside)


def _dimension(
    ends: tuple[Point3, Point3],
    out: Point3,
    size: float,
    projection: Projection,
    scale: float,
    beside: float,
) -> Dimension:
    """One size: a line beside its two ends, out along an axis past what stands beside, mm."""
    a, b = (_scaled(projection.paper(end), scale) for end in ends)
    way = projection.paper(out)
    along = (b[0] - a[0], b[1] - a[1])
    length = math.hypot(*along)
    # So far out that the line stands OUT from its ends, square to itself.
    square = abs(way[0] * along[1] - way[1] * along[0]) / length
    step = (way[0] / square, way[1] / square)
    past = OUT + beside * square * scale

    def out_by(p: Point, mm: float) -> Point:
        return p[0] + step[0] * mm, p[1] + step[1] * mm

    p, q = out_by(a, past), out_by(b, past)
    strokes = [Stroke(p, q)]
    strokes += [Stroke(out_by(end, GAP), out_by(end, past + PAST), FINE) for end in (a, b)]
    tick = _tick((along[0] / length, along[1] / length), step)
    strokes += [Stroke((x - tick[0], y - tick[1]), (x + tick[0], y + tick[1])) for x, y in (p, q)]
    return tuple(strokes), _text(p, q, step, size)


def _tick(unit: Point, step: Point) -> Point:
    """Half a tick: at 45 degrees to the line, on the side away from the extension lines."""
    (x, y), half = unit, TICK * math.sqrt(0.5)
    ways = (((x - y) * half, (x + y) * half), ((x + y) * half, (y - x) * half))
    return min(ways, key=lambda way: abs(way[0] * step[0] + way[1] * step[1]))


def _text(p: Point, q: Point, step: Point, size: float) -> Text:
    """Beyond the line, seen from what it measures; read from below or from the right."""
    turn = math.degrees(math.atan2(q[1] - p[1], q[0] - p[0]))
    if turn <= -89.9 or turn > 90.1:
        turn += 180 if turn < 0 else -180
    up = (-math.sin(math.radians(turn)), math.cos(math.radians(turn)))
    middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
    said = f"{size:.0f} mm"
    half = len(said) * LETTER * CAPITAL / 2
    if 2 * half + 2 * TICK > math.dist(p, q):
        # Too short a line for it: level, past the line's middle and clear of its ends.
        way = math.copysign(abs(q[0] - p[0]) / 2 + half + PAST + TICK, step[0])
        return Text((middle[0] + way, middle[1] - CAPITAL / 2), said, 0.0)
    over = up[0] * step[0] + up[1] * step[1] > 0
    move = 0.45 * CAPITAL if over else -1.45 * CAPITAL
    at = (middle[0] + up[0] * move, middle[1] + up[1] * move)
    return Text(at, said, turn)


def _sum(a: Point, b: Point) -> Point:
    return a[0] + b[0], a[1] + b[1]


def _scaled(p: Point, scale: float) -> Point:
    return p[0] * scale, p[1] * scale
