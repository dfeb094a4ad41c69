"""Clear places for texts inside a drawing: off its lines and off one another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from parametric_wall.drawings.dimension_lines import dimension_ends
from parametric_wall.drawings.hatching import hatch_lines
from parametric_wall.drawings.placing.boxes import Box, Segment, text_box
from parametric_wall.drawings.sheet import Anchor, Point
from parametric_wall.drawings.view import Dimension, Label, Region, Stroke, Symbol, Use, ViewMark
from parametric_wall.geometry import direction

AIR = 0.7
"""About a text, mm of paper."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a text could stand: its anchor, mm of the wall, and how it is turned."""

    at: Point
    anchor: Anchor = "middle"
    turn_deg: float = 0.0


def clear_label(
    text: str,
    spots: Iterable[Spot],
    scale: float,
    lines: Sequence[Segment],
    taken: Sequence[Box],
    *,
    height: float = 2.5,
    layer: str = "text",
) -> Label | None:
    """The text at the first spot where it meets nothing; None where there is none.

    Args:
        text: what it says.
        spots: where it could stand, the best first.
        scale: mm of the wall on 1 mm of paper.
        lines: of the drawing, mm of paper.
        taken: boxes of the texts that stand, mm of paper.
        height: of a capital letter, mm of paper.
        layer: its layer.
    """
    for spot in spots:
        box = _aired(text, spot, height, scale)
        if not any(box.meets(other) for other in taken) and not _crossed(box, lines):
            return Label(layer, spot.at, text, height, spot.anchor, spot.turn_deg)
    return None


def label_box(label: Label, scale: float) -> Box:
    """The paper that a label takes, mm."""
    at = label.at[0] / scale, label.at[1] / scale
    return text_box(label.text, at, label.height, label.anchor, label.turn_deg)


def segments(
    marks: Iterable[ViewMark], scale: float, symbols: Sequence[Symbol] = ()
) -> tuple[Segment, ...]:
    """All lines of a drawing, those of hatches and extension lines included, mm of paper."""
    known = {symbol.name: symbol for symbol in symbols}
    return tuple(line for mark in marks for line in _on_paper(mark, scale, known))


def _on_paper(mark: ViewMark, scale: float, symbols: dict[str, Symbol]) -> Iterator[Segment]:
    for a, b in _segments(mark, symbols):
        yield (a[0] / scale, a[1] / scale), (b[0] / scale, b[1] / scale)
    if isinstance(mark, Region):
        outline = tuple((x / scale, y / scale) for x, y in mark.outline)
        yield from hatch_lines(outline, mark.hatch)


def _segments(mark: ViewMark, symbols: dict[str, Symbol]) -> Iterator[tuple[Point, Point]]:
    match mark:
        case Stroke():
            yield from pairwise((*mark.points, mark.points[0]) if mark.closed else mark.points)
        case Region():
            yield from pairwise((*mark.outline, mark.outline[0]))
        case Dimension():
            ends = dimension_ends(mark.start, mark.end, mark.through, mark.turn_deg)
            yield ends.start, ends.end
            yield mark.start, min((ends.start, ends.end), key=lambda p: _apart(p, mark.start))
            yield mark.end, min((ends.start, ends.end), key=lambda p: _apart(p, mark.end))
        case Use():
            for inner in symbols[mark.symbol].marks:
                for a, b in _segments(inner, symbols):
                    yield used(mark, a), used(mark, b)
        case Label():
            yield from pairwise(mark.leader)


def used(use: Use, point: Point) -> Point:
    """A point of a symbol where the symbol is used."""
    c, s = direction(use.turn_deg)
    x, y = (-point[0] if use.mirrored else point[0]), point[1]
    return use.at[0] + c * x - s * y, use.at[1] + s * x + c * y


def _apart(a: Point, b: Point) -> float:
    return (a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2


def _aired(text: str, spot: Spot, height: float, scale: float) -> Box:
    at = spot.at[0] / scale, spot.at[1] / scale
    box = text_box(text, at, height, spot.anchor, spot.turn_deg)
    (c, s), air = direction(spot.turn_deg), AIR
    ways = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    a, b, d, e = (
        (x + air * (i * c - j * s), y + air * (i * s + j * c))
        for (x, y), (i, j) in zip(box.corners, ways, strict=True)
    )
    return Box(text, (a, b, d, e))


def _crossed(box: Box, lines: Sequence[Segment]) -> bool:
    x0, y0, x1, y1 = box.bounds()
    return any(
        max(a[0], b[0]) >= x0
        and min(a[0], b[0]) <= x1
        and max(a[1], b[1]) >= y0
        and min(a[1], b[1]) <= y1
        and box.crossed((a, b))
        for a, b in lines
    )
