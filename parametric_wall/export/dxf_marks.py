"""Marks of views as entities of a DXF: each as what it is, not as lines only."""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, radians, sin
from typing import TYPE_CHECKING, Any

from parametric_wall.drawings.dimension_lines import dimension_ends
from parametric_wall.drawings.hatching import HATCHES, Family
from parametric_wall.drawings.layers import LAYERS
from parametric_wall.drawings.lower import UNBOUNDED, dimension_on_paper, label_on_paper
from parametric_wall.drawings.sheet import Area, Line, Mark, Point, Text
from parametric_wall.drawings.view import Dimension, Hatch, Label, Region, Stroke, Symbol, Use, View
from parametric_wall.export.dxf_style import STYLE, plain, style_name

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts import BaseLayout

ALIGNED = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}
PATTERNS: dict[Hatch, tuple[str, float]] = {
    "block": ("ANSI31", 2.0 / 3.175),
    "cut": ("ANSI37", 2.0 / 3.175),
    "concrete": ("CONCRETE", 1.0),
    "earth": ("EARTH", 0.1),
    "gravel": ("GRAVEL", 1.0),
}
"""The usual name of each hatch, and the size of the pattern of that name that looks like it:
some readers know patterns by name only."""
SAME = 256
"""The colour of a layer."""


class Draughtsman:
    """Draws views into a document; a symbol is drawn once, as a block."""

    def __init__(self, doc: Drawing) -> None:
        self.doc = doc
        self.space = doc.modelspace()
        self._blocks: dict[tuple[Symbol, float], str] = {}

    def draw(self, view: View, at: Point) -> None:
        """Draw a view with its (0, 0) at a point, mm."""
        symbols = {symbol.name: symbol for symbol in view.symbols}
        for mark in view.marks:
            match mark:
                case Stroke() | Region():
                    _plain(self.space, mark, at, view.scale)
                case Label():
                    marks = label_on_paper(mark, lambda p: (p[0] / view.scale, p[1] / view.scale))
                    _lowered(self.space, marks, at, view.scale)
                case Dimension():
                    self._dimension(mark, at, view.scale)
                case Use():
                    self._use(mark, symbols[mark.symbol], at, view.scale)

    def title(self, text: Text, scale: float) -> None:
        """Write a text; where it stands is mm of the wall, its height mm of paper."""
        _text(self.space, text, text.at, scale)

    def _use(self, use: Use, symbol: Symbol, at: Point, scale: float) -> None:
        look = {"layer": use.layer, "rotation": use.turn_deg, "xscale": -1 if use.mirrored else 1}
        place = at[0] + use.at[0], at[1] + use.at[1]
        self.space.add_blockref(self._block(symbol, scale), place, look)

    def _block(self, symbol: Symbol, scale: float) -> str:
        """The name of a symbol's block; hatches and dashes make it another on another scale."""
        key = symbol, scale if any(map(_as_on_paper, symbol.marks)) else 0.0
        if key not in self._blocks:
            from ezdxf.enums import InsertUnits

            name, i = symbol.name, 1
            while name in self.doc.blocks:
                name, i = f"{symbol.name}_{i + 1}", i + 1
            block = self.doc.blocks.new(name)
            block.units = InsertUnits.Millimeters
            for mark in symbol.marks:
                _plain(block, mark, (0.0, 0.0), scale)
            self._blocks[key] = name
        return self._blocks[key]

    def _dimension(self, dim: Dimension, at: Point, scale: float) -> None:
        """A dimension that is one, and beside it how it looks, as every reader may show it."""
        ends = dimension_ends(dim.start, dim.end, dim.through, dim.turn_deg)
        marks = tuple(dimension_on_paper(dim, lambda p: (p[0] / scale, p[1] / scale)))
        text = marks[-1]
        assert isinstance(text, Text)
        made: Any = self.space.add_linear_dim(
            base=_moved(ends.end, at),
            p1=_moved(dim.start, at),
            p2=_moved(dim.end, at),
            angle=dim.turn_deg,
            dimstyle=style_name(scale),
            dxfattribs={"layer": dim.layer},
        ).dimension
        block = self.doc.blocks.new_anonymous_block(type_char="D")
        _lowered(block, marks, at, scale)
        made.dxf.geometry = block.name
        made.dxf.actual_measurement = ends.length
        made.dxf.text_midpoint = _moved(_middle(text, scale), at)
        if dim.text_at is not None:
            made.dxf.dimtype |= 128  # Its text stands where it was put.
        made.dxf.text = ""  # What is measured.


def _as_on_paper(mark: Stroke | Region) -> bool:
    """Whether something about a mark is to be as large on every paper."""
    hatched = isinstance(mark, Region) and mark.hatch != "none"
    return hatched or bool(LAYERS[mark.layer].dash)


def _middle(text: Text, scale: float) -> Point:
    """The middle of a text that is anchored in the middle of its base line, mm of the wall."""
    half, turn = text.height / 2.0, radians(text.turn_deg)
    return (text.at[0] - half * sin(turn)) * scale, (text.at[1] + half * cos(turn)) * scale


def _moved(point: Point, at: Point) -> Point:
    return point[0] + at[0], point[1] + at[1]


def _plain(space: BaseLayout, mark: Stroke | Region, at: Point, scale: float) -> None:
    if isinstance(mark, Stroke):
        _line(space, mark.layer, [_moved(p, at) for p in mark.points], mark.closed, scale)
        return
    outline = [_moved(p, at) for p in mark.outline]
    if HATCHES[mark.hatch]:
        _hatch(space, outline, mark.hatch, scale)
    if mark.hatch not in UNBOUNDED:
        _line(space, mark.layer, outline, closed=True, scale=scale)


def _line(space: BaseLayout, layer: str, points: list[Point], closed: bool, scale: float) -> None:
    look: dict[str, Any] = {"layer": layer}
    if LAYERS[layer].dash:
        look["ltscale"] = scale
    space.add_lwpolyline(points, close=closed, dxfattribs=look)


def _hatch(space: BaseLayout, outline: list[Point], hatch: Hatch, scale: float) -> None:
    made = space.add_hatch(color=SAME, dxfattribs={"layer": "hatch"})
    lines = [_pattern_line(family, scale) for family in HATCHES[hatch]]
    name, size = PATTERNS[hatch]
    made.set_pattern_fill(name, color=SAME, style=0, definition=lines)
    made.dxf.pattern_scale = size * scale  # For readers that have one of this name.
    made.paths.add_polyline_path(outline, is_closed=True)


def _pattern_line(family: Family, scale: float) -> tuple[float, Point, Point, list[float]]:
    """Of a hatch: direction, a point, from line to line, dashes; mm of the wall."""
    turn = radians(family.turn_deg)
    along, across = family.shift * scale, family.spacing * scale
    step = along * cos(turn) - across * sin(turn), along * sin(turn) + across * cos(turn)
    dashes = [scale * (d if i % 2 == 0 else -d) for i, d in enumerate(family.dash)]
    return family.turn_deg, (family.base[0] * scale, family.base[1] * scale), step, dashes


def _lowered(space: BaseLayout, marks: Iterable[Mark], at: Point, scale: float) -> None:
    """Marks in mm of paper, drawn in mm of the wall."""

    def true(point: Point) -> Point:
        return point[0] * scale + at[0], point[1] * scale + at[1]

    for mark in marks:
        match mark:
            case Text():
                _text(space, mark, true(mark.at), scale)
            case Line():
                _line(space, mark.layer, list(map(true, mark.points)), mark.closed, scale)
            case Area():
                made = space.add_hatch(color=SAME, dxfattribs={"layer": mark.layer})
                made.paths.add_polyline_path(list(map(true, mark.outline)), is_closed=True)


def _text(space: BaseLayout, text: Text, at: Point, scale: float) -> None:
    from ezdxf.enums import TextEntityAlignment

    look = {"layer": text.layer, "style": STYLE, "rotation": text.turn_deg}
    made = space.add_text(plain(text.text), height=text.height * scale, dxfattribs=look)
    made.set_placement(at, align=TextEntityAlignment[ALIGNED[text.anchor]])
