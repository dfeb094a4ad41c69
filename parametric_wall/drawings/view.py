"""A view: a drawing in mm of the wall, x to the right and y up, made for one scale.

Places are true sizes; heights of text and gaps of dimensions are mm of paper, since a
view's words must be as large on every scale. A view knows no paper: `place` puts it on
one, and a format for designers takes it as it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from parametric_wall.drawings.sheet import Anchor, Point

Hatch = Literal["none", "block", "concrete", "earth", "gravel", "cut"]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points, mm; closed where the last joins the first."""

    layer: str
    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Region:
    """An outline, mm, with the hatch of what it is cut through."""

    layer: str
    outline: tuple[Point, ...]
    hatch: Hatch


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text.

    Attributes:
        layer: its layer.
        at: where it stands, mm.
        text: what it says.
        height: of a capital letter, mm of paper.
        anchor: which part of its base line stands at `at`.
        turn_deg: anticlockwise.
        leader: a line from there to the text, through these points, mm; none if empty.
    """

    layer: str
    at: Point
    text: str
    height: float = 2.5
    anchor: Anchor = "start"
    turn_deg: float = 0.0
    leader: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Dimension:
    """A distance measured between two points.

    Attributes:
        layer: its layer.
        start: first point measured, mm.
        end: second point measured, mm.
        through: a point that the dimension line goes through, mm.
        turn_deg: direction measured in, anticlockwise from x.
        text_at: middle of the text's base line, mm, where it does not fit between the
            arrows; a leader goes from the dimension line to it. None for the usual place.
        height: of a capital letter, mm of paper.
    """

    layer: str
    start: Point
    end: Point
    through: Point
    turn_deg: float = 0.0
    text_at: Point | None = None
    height: float = 2.5


@dataclass(frozen=True, slots=True)
class Symbol:
    """A piece drawn once and used often; its name says what it is and its size.

    Attributes:
        name: stable, letters, digits, "-" and "_" only.
        marks: in its own axes, mm.
    """

    name: str
    marks: tuple[Stroke | Region, ...]


@dataclass(frozen=True, slots=True)
class Use:
    """A symbol in its place: first mirrored in its own x if so, then turned, then moved."""

    layer: str
    symbol: str
    at: Point
    turn_deg: float = 0.0
    mirrored: bool = False


ViewMark = Stroke | Region | Label | Dimension | Use


@dataclass(frozen=True, slots=True)
class View:
    """One drawing of the wall.

    Attributes:
        name: stable, for references and file names.
        title: what it shows.
        told: the same in words, for who cannot see it.
        scale: mm of the wall on 1 mm of paper; 20 for 1:20.
        symbols: those that `marks` use, each once.
        marks: in the order in which they are drawn.
    """

    name: str
    title: str
    told: str
    scale: float
    symbols: tuple[Symbol, ...]
    marks: tuple[ViewMark, ...]


@dataclass(frozen=True, slots=True)
class Placed:
    """A view on paper: `at` is where its (0, 0) stands, mm of paper."""

    view: View
    at: Point


@dataclass(frozen=True, slots=True)
class Page:
    """A sheet of paper with its views, before they are lowered to lines and texts.

    Attributes:
        name: for files and references, stable.
        title: what it shows.
        width: mm of paper.
        height: mm of paper.
        views: none over another.
    """

    name: str
    title: str
    width: float
    height: float
    views: tuple[Placed, ...]
