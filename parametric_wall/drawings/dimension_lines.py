"""A dimension as it stands on paper, drawn as ISO 129-1 has it. All in mm of paper.

Extension lines begin a little off what is measured and go a little past the dimension
line, which ends in oblique strokes; the text stands above it, to be read from below or
from the right. One that does not fit stands where it was put: over the dimension line
drawn on, or at the end of a leader.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, hypot, radians, sin

from parametric_wall.drawings.lettering import width
from parametric_wall.drawings.sheet import Line, Mark, Point, Text

GAP = 1.0
"""From what is measured to its extension line."""
PAST = 1.5
"""An extension line goes this far past the dimension line."""
STROKE = 1.0
"""An oblique stroke goes this far to either side, along the dimension line and across."""
ABOVE = 0.8
"""From the dimension line to the text's base line."""
LEANING = 31.0
"""A line that leans over from upright by no more degrees, as a coping's thickness may, is
read as if it did not."""
CLEAR = 0.7
"""A leader ends this far from its text."""


def measured_text(value: float) -> str:
    """A length in mm as the cut lists have it: to a tenth, without a needless nought."""
    return f"{value:.1f}".removesuffix(".0")


@dataclass(frozen=True, slots=True)
class Ends:
    """A dimension line between its two ends.

    Attributes:
        start: under or over the first point measured.
        end: under or over the second.
        along: direction from start to end, of length 1.
        length: between them.
    """

    start: Point
    end: Point
    along: Point
    length: float


def dimension_ends(start: Point, end: Point, through: Point, turn_deg: float) -> Ends:
    """Where a dimension line begins and ends; any unit, the same as of the points."""
    c, s = cos(radians(turn_deg)), sin(radians(turn_deg))

    def foot(point: Point) -> Point:
        along = (point[0] - through[0]) * c + (point[1] - through[1]) * s
        return through[0] + along * c, through[1] + along * s

    a, b = foot(start), foot(end)
    length = (b[0] - a[0]) * c + (b[1] - a[1]) * s
    return Ends(a, b, (c, s), length) if length >= 0.0 else Ends(b, a, (c, s), -length)


def upright(turn_deg: float) -> float:
    """The direction of a line's text, to be read from below or from the right.

    A line that leans a little over from upright, as square to a fall, is read as an
    upright one is.
    """
    turn = turn_deg % 180.0
    return turn - 180.0 if turn > 90.0 + LEANING else turn


def usual_place(ends: Ends, turn_deg: float) -> Point:
    """The middle of the text's base line where it stands over the middle of its line."""
    middle = (ends.start[0] + ends.end[0]) / 2.0, (ends.start[1] + ends.end[1]) / 2.0
    turn = radians(upright(turn_deg))
    return middle[0] - ABOVE * sin(turn), middle[1] + ABOVE * cos(turn)


def leader_end(text: Text, come_from: Point) -> Point:
    """Where a line that comes to a text ends, a little before it."""
    long = width(text.text, text.height)
    c, s = cos(radians(text.turn_deg)), sin(radians(text.turn_deg))
    middle = {"start": long / 2.0, "middle": 0.0, "end": -long / 2.0}[text.anchor]
    half = text.height / 2.0
    centre = text.at[0] + middle * c - half * s, text.at[1] + middle * s + half * c
    dx, dy = come_from[0] - centre[0], come_from[1] - centre[1]
    u, v = dx * c + dy * s, dy * c - dx * s
    reach = max(abs(u) / (long / 2.0 + CLEAR), abs(v) / (half + CLEAR), 1.0)
    return centre[0] + dx / reach, centre[1] + dy / reach


def dimension_marks(
    layer: str, measured: tuple[Point, Point], ends: Ends, turn_deg: float, text: Text
) -> Iterator[Mark]:
    """The lines and the text of one dimension.

    Args:
        layer: its layer.
        measured: the two points.
        ends: of its line.
        turn_deg: direction measured in.
        text: in its place.
    """
    for point in measured:
        yield from _extension(layer, point, ends)
    yield from _line(layer, ends, text)
    (cx, cy) = _turned(ends.along, upright(turn_deg) - turn_deg)
    for x, y in (ends.start, ends.end):
        dx, dy = STROKE * (cx - cy), STROKE * (cy + cx)
        yield Line(layer, ((x - dx, y - dy), (x + dx, y + dy)))
    yield text


def _turned(way: Point, turn_deg: float) -> Point:
    c, s = cos(radians(turn_deg)), sin(radians(turn_deg))
    return way[0] * c - way[1] * s, way[0] * s + way[1] * c


def _extension(layer: str, point: Point, ends: Ends) -> Iterator[Line]:
    """From a point measured to past the dimension line; none where it lies on it."""
    (c, s) = ends.along
    off = (ends.start[0] - point[0]) * -s + (ends.start[1] - point[1]) * c
    if -GAP < off < GAP:
        return
    side = 1.0 if off > 0.0 else -1.0
    near, far = side * GAP, off + side * PAST
    yield Line(layer, tuple((point[0] - d * s, point[1] + d * c) for d in (near, far)))


def _line(layer: str, ends: Ends, text: Text) -> Iterator[Line]:
    """The dimension line: as far as its text reaches that stands over it, else with a leader."""
    (c, s) = ends.along
    u = (text.at[0] - ends.start[0]) * c + (text.at[1] - ends.start[1]) * s
    v = (text.at[1] - ends.start[1]) * c - (text.at[0] - ends.start[0]) * s
    low, high = 0.0, ends.length
    over = -ABOVE - text.height - CLEAR < v < ABOVE + CLEAR
    if over:
        half = width(text.text, text.height) / 2.0
        low, high = min(low, u - half), max(high, u + half)
    x, y = ends.start
    yield Line(layer, ((x + low * c, y + low * s), (x + high * c, y + high * s)))
    if not over:
        middle = x + ends.length / 2.0 * c, y + ends.length / 2.0 * s
        if hypot(text.at[0] - middle[0], text.at[1] - middle[1]) > text.height + CLEAR:
            yield Line(layer, (middle, leader_end(text, middle)))
