"""Sheets of paper, and drawings in rows on them. All in mm of paper.

Sheets are those of ISO 216, with the margins of ISO 5457.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parametric_wall.drawings.clashes import clash
from parametric_wall.drawings.lower import lower, view_marks
from parametric_wall.drawings.placing.boxes import text_box
from parametric_wall.drawings.sheet import Area, Line
from parametric_wall.drawings.title_strip import CAPTION, STRIP, caption_width
from parametric_wall.drawings.view import Page, Placed, View

MARGIN, FILING = 10.0, 20.0
"""Outside the frame, and at its left where sheets are filed."""
AIR = 4.0
"""Between two drawings, and from a drawing to the frame."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper."""

    name: str
    width: float
    height: float

    @property
    def room(self) -> tuple[float, float]:
        """What a drawing with its caption may take."""
        wide = self.width - FILING - MARGIN - 2 * AIR
        return wide, self.height - 2 * MARGIN - STRIP - 2 * AIR


A4 = (Paper("A4", 297.0, 210.0), Paper("A4", 210.0, 297.0))
A3 = (Paper("A3", 420.0, 297.0), Paper("A3", 297.0, 420.0))


@dataclass(frozen=True, slots=True)
class Fitted:
    """A view on its sheet, and the paper that it takes.

    Attributes:
        view: at its scale.
        paper: the sheet.
        bounds: of the view about its (0, 0): x0, y0, x1, y1.
        part: which of how many parts of a drawing it is.
    """

    view: View
    paper: Paper
    bounds: tuple[float, float, float, float]
    part: tuple[int, int] = (1, 1)

    @property
    def height(self) -> float:
        """With its caption."""
        return self.bounds[3] - self.bounds[1] + CAPTION

    @property
    def width(self) -> float:
        """Of the view alone."""
        return self.bounds[2] - self.bounds[0]

    @property
    def column(self) -> float:
        """What it takes of a row, with its caption; a part has a row to itself."""
        wide = self.paper.room[0]
        caption = caption_width(self.view.title, self.view.scale)
        return wide if self.part[1] > 1 else min(max(self.width, caption), wide)

    @property
    def fits(self) -> bool:
        """Whether it has room on its sheet."""
        wide, high = self.paper.room
        return self.width <= wide and self.height <= high

    @property
    def clear(self) -> bool:
        """Whether no text of it stands over another or over a line."""
        return not clash(view_marks(Placed(self.view, (0.0, 0.0))))


Row = tuple[Fitted, ...]


def rows(drawings: Sequence[Fitted]) -> tuple[Row, ...]:
    """Drawings of one paper from the left to the right, then in the next row."""
    found: list[Row] = []
    for one in drawings:
        row = found[-1] if found else ()
        if row and sum(o.column + AIR for o in row) + one.column <= one.paper.room[0]:
            found[-1] = (*row, one)
        else:
            found.append((one,))
    return tuple(found)


def row_height(row: Row) -> float:
    """Of the highest drawing in it."""
    return max(one.height for one in row)


def fit_together(drawings: Sequence[Fitted]) -> bool:
    """Whether drawings of one paper have room on one sheet."""
    high = sum(row_height(row) + AIR for row in rows(drawings)) - AIR
    return all(one.fits for one in drawings) and high <= drawings[0].paper.room[1]


def sheets_of(fitted: Sequence[Fitted]) -> Iterator[tuple[Fitted, ...]]:
    """Drawings that follow one another on one sheet, where they have its paper and scale."""
    sheet: tuple[Fitted, ...] = ()
    for one in fitted:
        alike = sheet and sheet[0].paper == one.paper and sheet[0].view.scale == one.view.scale
        if sheet and not (alike and fit_together((*sheet, one))):
            yield sheet
            sheet = ()
        sheet = (*sheet, one)
    if sheet:
        yield sheet


def bounds(view: View) -> tuple[float, float, float, float]:
    """The paper that a view takes about its (0, 0): x0, y0, x1, y1, mm."""
    sheet = lower(Page(view.name, view.title, 0.0, 0.0, (Placed(view, (0.0, 0.0)),)))
    xs: list[float] = []
    ys: list[float] = []
    for mark in sheet.marks:
        if isinstance(mark, Line):
            points: tuple[tuple[float, float], ...] = mark.points
        elif isinstance(mark, Area):
            points = mark.outline
        else:
            points = text_box(mark.text, mark.at, mark.height, mark.anchor, mark.turn_deg).corners
        xs += [x for x, _ in points]
        ys += [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)
