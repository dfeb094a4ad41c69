"""Small tables beside a drawing, as texts in columns."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from parametric_wall.drawings.lettering import width
from parametric_wall.drawings.placing.beside import HEIGHT
from parametric_wall.drawings.placing.boxes import boxes
from parametric_wall.drawings.placing.clear import segments
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Label, Symbol, View, ViewMark

ROW = 4.4
"""From row to row, mm of paper."""
GAP = 4.0
"""Between two columns, mm of paper."""
OFF = 10.0
"""From a drawing to a table beside it, mm of paper."""
WIDE = 150.0
"""A drawing wider than this has its tables below, mm of paper."""
ROWS_BELOW, ROWS_BESIDE = 8, 30
"""Rows of a table before it goes on in the next columns."""

Row = tuple[str, ...]


def with_table(
    drawn: Sequence[ViewMark],
    symbols: Sequence[Symbol],
    heads: Row,
    rows: Sequence[Row],
    scale: float,
) -> tuple[ViewMark, ...]:
    """A drawing with a table: beside it, or below where it is wide.

    Args:
        drawn: the drawing.
        symbols: of its pieces.
        heads: of the columns.
        rows: a text a column; figures stand at the right of theirs.
        scale: mm of the wall on 1 mm of paper.
    """
    x0, y0, x1, y1 = extent(drawn, symbols, scale)
    if x1 - x0 > WIDE:
        return (*drawn, *_table(heads, rows, (x0, y0 - OFF), ROWS_BELOW, scale))
    return (*drawn, *_table(heads, rows, (x1 + OFF, y1 - ROW), ROWS_BESIDE, scale))


def extent(
    drawn: Sequence[ViewMark], symbols: Sequence[Symbol], scale: float
) -> tuple[float, float, float, float]:
    """The paper that a drawing takes: x0, y0, x1, y1, mm."""
    points = [p for line in segments(drawn, scale, symbols) for p in line]
    texts = boxes(View("", "", "", scale, (), tuple(drawn)))
    points += [corner for box in texts for corner in box.corners]
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _table(heads: Row, rows: Sequence[Row], at: Point, most: int, scale: float) -> Iterator[Label]:
    """A table whose head stands on its base line at a point, mm of paper."""
    x, top = at
    wide = [max(width(row[k], HEIGHT) for row in (heads, *rows)) for k in range(len(heads))]
    for part in _parts(rows, most):
        for down, row in enumerate((heads, *part)):
            yield from _row(row, rows[0], wide, (x, top - ROW * down), scale)
        x += sum(wide) + GAP * len(wide) + GAP


def _parts(rows: Sequence[Row], most: int) -> Iterator[Sequence[Row]]:
    for start in range(0, len(rows), most):
        yield rows[start : start + most]


def _row(row: Row, like: Row, wide: Sequence[float], at: Point, scale: float) -> Iterator[Label]:
    x, y = at
    for k, text in enumerate(row):
        figure = like[k].lstrip("+-−").replace(".", "").isdigit()
        where = x + wide[k] if figure else x
        point = (where * scale, y * scale)
        yield Label("text", point, text, HEIGHT, "end" if figure else "start")
        x += wide[k] + GAP
