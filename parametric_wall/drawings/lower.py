"""Views put on paper: every mark of theirs as lines, areas and texts in mm of paper."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import cos, pi, radians, sin

from parametric_wall.drawings.dimension_lines import (
    dimension_ends,
    dimension_marks,
    leader_end,
    measured_text,
    upright,
    usual_place,
)
from parametric_wall.drawings.hatching import hatch_lines
from parametric_wall.drawings.sheet import Area, Line, Mark, Point, Sheet, Text
from parametric_wall.drawings.view import (
    Dimension,
    Label,
    Page,
    Placed,
    Region,
    Stroke,
    Symbol,
    Use,
)

DOT = 0.4
"""Radius of the dot at which a leader begins, mm of paper."""
UNBOUNDED = frozenset({"earth", "gravel"})
"""Hatches of what has no edge of its own: others have their outline drawn."""

Place = Callable[[Point], Point]


def lower(page: Page) -> Sheet:
    """A page's views as a sheet."""
    marks = tuple(mark for placed in page.views for mark in view_marks(placed))
    told = " ".join(placed.view.told for placed in page.views)
    return Sheet(page.name, page.title, told, page.width, page.height, marks)


def view_marks(placed: Placed) -> Iterator[Mark]:
    """The marks of a view, in the order in which they are drawn."""
    view, (x0, y0) = placed.view, placed.at
    symbols = {symbol.name: symbol for symbol in view.symbols}

    def place(point: Point) -> Point:
        return x0 + point[0] / view.scale, y0 + point[1] / view.scale

    for mark in view.marks:
        match mark:
            case Stroke() | Region():
                yield from _plain(mark, place)
            case Label():
                yield from label_on_paper(mark, place)
            case Dimension():
                yield from dimension_on_paper(mark, place)
            case Use():
                yield from _used(mark, symbols[mark.symbol], place)


def _plain(mark: Stroke | Region, place: Place) -> Iterator[Mark]:
    if isinstance(mark, Stroke):
        yield Line(mark.layer, tuple(map(place, mark.points)), mark.closed)
        return
    outline = tuple(map(place, mark.outline))
    for ends in hatch_lines(outline, mark.hatch):
        yield Line("hatch", ends)
    if mark.hatch not in UNBOUNDED:
        yield Line(mark.layer, outline, closed=True)


def label_on_paper(label: Label, place: Place) -> Iterator[Mark]:
    """A label's leader and text."""
    text = Text(
        label.layer, place(label.at), label.text, label.height, label.anchor, label.turn_deg
    )
    if label.leader:
        points = tuple(map(place, label.leader))
        x, y = points[0]
        turns = (i * pi / 6.0 for i in range(12))
        yield Area(label.layer, tuple((x + DOT * cos(t), y + DOT * sin(t)) for t in turns))
        yield Line(label.layer, (*points, leader_end(text, points[-1])))
    yield text


def dimension_on_paper(dim: Dimension, place: Place) -> Iterator[Mark]:
    """A dimension's lines, then its text."""
    true = dimension_ends(dim.start, dim.end, dim.through, dim.turn_deg)
    start, end, through = place(dim.start), place(dim.end), place(dim.through)
    ends = dimension_ends(start, end, through, dim.turn_deg)
    at = usual_place(ends, dim.turn_deg) if dim.text_at is None else place(dim.text_at)
    words = measured_text(true.length)
    text = Text(dim.layer, at, words, dim.height, "middle", upright(dim.turn_deg))
    yield from dimension_marks(dim.layer, (start, end), ends, dim.turn_deg, text)


def _used(use: Use, symbol: Symbol, place: Place) -> Iterator[Mark]:
    c, s = cos(radians(use.turn_deg)), sin(radians(use.turn_deg))
    hand = -1.0 if use.mirrored else 1.0

    def there(point: Point) -> Point:
        x, y = point[0] * hand, point[1]
        return place((use.at[0] + x * c - y * s, use.at[1] + x * s + y * c))

    for mark in symbol.marks:
        yield from _plain(mark, there)
