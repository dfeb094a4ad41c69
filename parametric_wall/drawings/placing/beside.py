"""Dimensions and marks in rows beside a drawing, outside the box that holds all of it.

What stands beside one side keeps to that side, so that nothing meets anything by the
way it is placed: the marks nearest, turned off the outline, then the rows of dimensions.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Literal

from parametric_wall.drawings.dimension_lines import ABOVE
from parametric_wall.drawings.lettering import DEPTH, RISE, width
from parametric_wall.drawings.placing.boxes import boxes
from parametric_wall.drawings.placing.dimensioning import FIRST, Along, Span, spans
from parametric_wall.drawings.sheet import Anchor, Point
from parametric_wall.drawings.view import Label, Stroke, View, ViewMark
from parametric_wall.geometry import TOLERANCE

Side = Literal["below", "above", "left", "right"]
LEVEL: tuple[Side, ...] = ("below", "above")
UPRIGHT: tuple[Side, ...] = ("right", "left")
MEASURED: tuple[Side, ...] = ("below", "right")
"""Where the sizes of a plan stand."""

HEIGHT = 2.5
"""Of a capital letter, mm of paper."""
OFF = 3.0
"""From the box to a mark beside it, mm of paper."""
GAP = 0.3
"""Between two marks beside one another, and from a mark to a line, mm of paper."""

SLOT = HEIGHT * (RISE + DEPTH) + GAP
"""What a mark takes across its line of text, mm of paper."""

Measured = tuple[Point, Point]
"""Two points that a dimension is taken between, mm."""


@dataclass(frozen=True, slots=True)
class Frame:
    """The box of a drawing, mm, and the scale it is drawn to."""

    x0: float
    y0: float
    x1: float
    y1: float
    scale: float

    def along(self, side: Side, first: float = FIRST) -> Along:
        """A side of it as an outline; places along it are x or y."""
        if side in ("below", "above"):
            y, hand = (self.y0, -1) if side == "below" else (self.y1, 1)
            return Along((0.0, y), 0.0, hand, self.scale, first)
        x, hand = (self.x0, 1) if side == "left" else (self.x1, -1)
        return Along((x, 0.0), 90.0, hand, self.scale, first)


@dataclass(frozen=True, slots=True)
class Mark:
    """What a piece is called, and the point of it that the name's line comes from, mm."""

    at: Point
    text: str


def frame_of(points: Sequence[Point], scale: float) -> Frame:
    """The box that holds all points."""
    xs, ys = zip(*points, strict=True)
    return Frame(min(xs), min(ys), max(xs), max(ys), scale)


def place(side: Side, point: Point) -> float:
    """Where a point is along a side."""
    return point[0] if side in ("below", "above") else point[1]


def beside(
    frame: Frame,
    side: Side,
    rows: Sequence[Sequence[Measured]],
    marks: Sequence[Mark] = (),
    first: float = FIRST,
) -> tuple[ViewMark, ...]:
    """Marks and rows of dimensions beside one side of a drawing.

    Args:
        frame: the box of the drawing.
        side: which side of it.
        rows: points to dimension between, the first row the nearest.
        marks: names of pieces.
        first: from the box to the first row, mm of paper, where there are no marks.
    """
    measured = [part for row in rows for part in _rows_apart(side, row)]
    lines = [place(side, point) for row in measured for pair in row for point in pair]
    along = frame.along(side, first)
    if marks:
        reach = OFF + max(width(mark.text, HEIGHT) for mark in marks)
        first = reach + (OFF if along.outward else OFF + ABOVE + HEIGHT)
        along = frame.along(side, first)
    found = spans(along, [[_span(side, pair) for pair in row] for row in measured])
    points = [pair for row in measured for pair in row]
    dimensions = tuple(
        replace(one, start=a, end=b) for one, (a, b) in zip(found.dimensions, points, strict=True)
    )
    return (*dimensions, *_marks(frame, side, marks, lines))


@dataclass(slots=True)
class SideText:
    """What is to stand beside one side of a drawing.

    Attributes:
        rows: of dimensions by their order, the least the nearest.
        marks: names of pieces.
    """

    rows: dict[int, list[Measured]] = field(default_factory=lambda: defaultdict(list))
    marks: list[Mark] = field(default_factory=list)


def around(frame: Frame, texts: Mapping[Side, SideText]) -> tuple[ViewMark, ...]:
    """Everything that stands beside the four sides.

    What stands below and above may be pushed past a corner by its neighbours. What stands
    at the left and the right is then put so much further off, so that they never meet.
    """
    found: list[ViewMark] = []
    for sides in (LEVEL, UPRIGHT):
        for side in (side for side in sides if side in texts):
            rows = [row for _, row in sorted(texts[side].rows.items())]
            found += beside(frame, side, rows, texts[side].marks)
        frame = _past_corners(frame, found)
    return tuple(found)


def _past_corners(frame: Frame, marks: Sequence[ViewMark]) -> Frame:
    """The box of a drawing, made wider by how far texts stand out past its left and right."""
    drawn = boxes(View("", "", "", frame.scale, (), tuple(marks)))
    xs = [x * frame.scale for box in drawn for x, _ in box.corners]
    return replace(frame, x0=min([frame.x0, *xs]), x1=max([frame.x1, *xs]))


def chain(points: Sequence[Point], side: Side) -> list[Measured]:
    """From place to place along a side; of points in one place the nearest to the side counts."""
    outward = 1.0 if side in ("above", "right") else -1.0
    off = 1 if side in ("below", "above") else 0
    kept: list[Point] = []
    for point in sorted(points, key=lambda p: (place(side, p), -outward * p[off])):
        if not kept or place(side, point) - place(side, kept[-1]) > TOLERANCE.coincident:
            kept.append(point)
        elif outward * (point[off] - kept[-1][off]) > 0:
            kept[-1] = point
    return list(pairwise(kept))


def overall(row: Sequence[Measured]) -> list[Measured]:
    """The whole of a chain; nothing where the chain has one part."""
    return [(row[0][0], row[-1][1])] if len(row) > 1 else []


def settled(wants: Sequence[float], wide: float, blocked: Sequence[Span]) -> list[float]:
    """Places for marks of one width, each near where it is wanted, clear of lines and of the rest.

    Args:
        wants: where each is wanted, in order.
        wide: what each takes, its gap included.
        blocked: from where to where something else stands; a line has no width.
    """
    taken = list(blocked)
    found = []
    for want in wants:
        tries = [want, *(end for low, high in taken for end in (low - wide / 2, high + wide / 2))]
        free = (at for at in tries if _clear(at, wide, taken))
        best = min(free, key=lambda at: (abs(at - want), at))
        taken.append((best - wide / 2, best + wide / 2))
        found.append(best)
    return found


def _clear(at: float, wide: float, taken: Sequence[tuple[float, float]]) -> bool:
    low, high, eps = at - wide / 2, at + wide / 2, TOLERANCE.coincident
    return all(high <= a + eps or low >= b - eps for a, b in taken)


def _rows_apart(side: Side, row: Sequence[Measured]) -> list[list[Measured]]:
    """A row, and what would stand over another of it in rows of its own."""
    found: list[list[Measured]] = []
    for pair in sorted((_ordered(side, pair) for pair in row), key=lambda p: _span(side, p)):
        start = place(side, pair[0]) + TOLERANCE.coincident
        room = (part for part in found if place(side, part[-1][1]) <= start)
        part = next(room, None)
        if part is None:
            found.append([pair])
        else:
            part.append(pair)
    return found


def _ordered(side: Side, pair: Measured) -> Measured:
    a, b = pair
    return (a, b) if place(side, a) <= place(side, b) else (b, a)


def _span(side: Side, pair: Measured) -> Span:
    return place(side, pair[0]), place(side, pair[1])


def _marks(
    frame: Frame, side: Side, marks: Sequence[Mark], lines: Sequence[float]
) -> Iterator[ViewMark]:
    """Texts that stand off the side, each with a line to its piece."""
    ordered = sorted(marks, key=lambda mark: place(side, mark.at))
    wants = [place(side, mark.at) for mark in ordered]
    along, m = frame.along(side), frame.scale
    level = side in ("left", "right")
    anchor: Anchor = "end" if side in ("below", "left") else "start"
    for mark, at in zip(ordered, settled(wants, SLOT * m, [(at, at) for at in lines]), strict=True):
        x, y = along.point(at, OFF)
        half = HEIGHT * (RISE - DEPTH) / 2 * m
        foot = (x, y - half) if level else (x + half, y)
        near = along.point(place(side, mark.at), 0.0), along.point(at, OFF - 0.8)
        yield Stroke("text", (mark.at, *near))
        yield Label("text", foot, mark.text, HEIGHT, anchor, 0.0 if level else 90.0)
