"""A sheet: marks on layers, in paper mm, x to the right and y up. No file format."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True)
class Line:
    """A line through points; closed where the last joins the first."""

    layer: str
    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Area:
    """A filled outline."""

    layer: str
    outline: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text.

    Attributes:
        layer: its layer.
        at: where its base line begins, is halved, or ends, by `anchor`.
        text: what it says.
        height: of a capital letter, paper mm.
        anchor: which part of it stands at `at`.
        turn_deg: turned so far, anticlockwise.
    """

    layer: str
    at: Point
    text: str
    height: float = 2.5
    anchor: Anchor = "start"
    turn_deg: float = 0.0


Mark = Line | Area | Text


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet or plot.

    Attributes:
        name: for files and references, stable.
        title: what it shows.
        told: the same in words, for who cannot see it.
        width: paper mm.
        height: paper mm.
        marks: in the order in which they are drawn.
    """

    name: str
    title: str
    told: str
    width: float
    height: float
    marks: tuple[Mark, ...]
