"""Whether a text of a drawing stands over another or over a line."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import pairwise

from parametric_wall.drawings.placing.boxes import Box, Segment, text_box
from parametric_wall.drawings.sheet import Line, Mark, Text

CELL = 10.0
"""Marks are compared with those in the same squares of so much paper, mm."""

Cell = tuple[int, int]


def clash(marks: Iterable[Mark]) -> bool:
    """Whether any text meets another text or a line; all in mm of paper."""
    texts: dict[Cell, list[Box]] = defaultdict(list)
    lines: list[Segment] = []
    for mark in marks:
        if isinstance(mark, Line):
            points = (*mark.points, mark.points[0]) if mark.closed else mark.points
            lines += pairwise(points)
        elif isinstance(mark, Text):
            box = text_box(mark.text, mark.at, mark.height, mark.anchor, mark.turn_deg)
            cells = tuple(_cells(*box.bounds()))
            if any(box.meets(other) for cell in cells for other in texts.get(cell, ())):
                return True
            for cell in cells:
                texts[cell].append(box)
    return any(_crosses(line, texts) for line in lines)


def _crosses(line: Segment, texts: dict[Cell, list[Box]]) -> bool:
    (x0, y0), (x1, y1) = line
    bounds = min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)
    return any(box.crossed(line) for cell in _cells(*bounds) for box in texts.get(cell, ()))


def _cells(x0: float, y0: float, x1: float, y1: float) -> Iterator[Cell]:
    """The squares that a box has a part of."""
    for i in range(int(x0 // CELL), int(x1 // CELL) + 1):
        for j in range(int(y0 // CELL), int(y1 // CELL) + 1):
            yield i, j
