"""Drawings put on sheets of paper: which sheet, which scale, what stands together.

The largest scale that fits is taken, on A4 before A3; a drawing that can be divided is
divided by match lines before it gets too small to read. Sheets are those of ISO 216,
with the margins of ISO 5457.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from parametric_wall.drawings.boxes import text_box
from parametric_wall.drawings.lower import lower
from parametric_wall.drawings.sheet import Area, Line, Point
from parametric_wall.drawings.title_strip import CAPTION, STRIP, Caption, strip
from parametric_wall.drawings.view import Page, Placed, Region, Stroke, Use, View

SCALES = (5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10000.0)
"""Of ISO 5455, and 1:25, which is common practice."""
MARGIN, FILING = 10.0, 20.0
"""Outside the frame, and at its left where sheets are filed, mm."""
AIR = 4.0
"""Between two drawings, and from a drawing to the frame, mm."""
MOST_PARTS = 60
"""A drawing is not divided into more."""
BUILT = frozenset({"footing", "blocks", "copings", "cut pieces"})
"""Layers of what is built: their marks have their true places on every scale."""
FEW_PARTS = 4
"""More parts than this stand on the larger sheet."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, mm."""

    name: str
    width: float
    height: float

    @property
    def room(self) -> tuple[float, float]:
        """What a drawing with its caption may take, mm."""
        wide = self.width - FILING - MARGIN - 2 * AIR
        return wide, self.height - 2 * MARGIN - STRIP - 2 * AIR


A4 = (Paper("A4", 297.0, 210.0), Paper("A4", 210.0, 297.0))
A3 = (Paper("A3", 420.0, 297.0), Paper("A3", 297.0, 420.0))


@dataclass(frozen=True, slots=True)
class Drawing:
    """A view that is made once its scale is known.

    Attributes:
        make: the view at a scale, mm of the wall on 1 mm of paper.
        divide: the same view at a scale in so many parts, with match lines between them;
            None where it cannot be divided.
        scales: that it may have, the largest first.
        smallest: it is rather put on a larger sheet, or divided, than drawn to a smaller scale.
        papers: sheets it may stand on, the best first.
    """

    make: Callable[[float], View]
    divide: Callable[[float, int], tuple[View, ...]] | None = None
    scales: tuple[float, ...] = SCALES
    smallest: float = 25.0
    papers: tuple[tuple[Paper, ...], ...] = (A4, A3)


@dataclass(frozen=True, slots=True)
class _Fitted:
    """A view that fits on a sheet, and the paper that it takes: x0, y0, x1, y1, mm."""

    view: View
    paper: Paper
    bounds: tuple[float, float, float, float]
    part: tuple[int, int] = (1, 1)

    @property
    def height(self) -> float:
        return self.bounds[3] - self.bounds[1] + CAPTION

    @property
    def width(self) -> float:
        return self.bounds[2] - self.bounds[0]

    @property
    def fits(self) -> bool:
        wide, high = self.paper.room
        return self.width <= wide and self.height <= high


def pages(title: str, date: str, drawings: Sequence[Drawing]) -> tuple[Page, ...]:
    """The sheets of a job.

    Args:
        title: of the job.
        date: as it is to be printed; empty without one.
        drawings: in the order of the sheets.

    Raises:
        ValueError: where a drawing is larger than the largest sheet at its smallest scale.
    """
    return pages_and_views(title, date, drawings)[0]


def pages_and_views(
    title: str, date: str, drawings: Sequence[Drawing]
) -> tuple[tuple[Page, ...], tuple[View, ...]]:
    """The sheets of a job as of `pages`, and what they show: each view whole, if in parts there."""
    fitted = [_fit(drawing) for drawing in drawings]
    sheets = list(_together([part for parts in fitted for part in parts]))
    views = (
        parts[0].view if len(parts) == 1 else drawing.make(parts[0].view.scale)
        for drawing, parts in zip(drawings, fitted, strict=True)
    )
    count = range(1, len(sheets) + 1)
    return tuple(_page(title, date, sheets, number) for number in count), tuple(views)


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


def _fit(drawing: Drawing) -> tuple[_Fitted, ...]:
    """A drawing at the largest scale that fits: on A4 first, then on A3, then in parts.

    One that cannot be divided is drawn smaller than is good to read where it has to be.
    """
    legible = [s for s in drawing.scales if s <= drawing.smallest]
    made = {legible[-1]: _measured(drawing, legible[-1])}
    wide, high = _true_size(made[legible[-1]].view)
    for papers in drawing.papers:
        most = [max(side) for side in zip(*(paper.room for paper in papers), strict=True)]
        for scale in legible:
            if wide > most[0] * scale or high > most[1] * scale:
                continue  # Not worth making: what is laid alone has no room.
            if scale not in made:
                made[scale] = _measured(drawing, scale)
            found = next((f for f in _on(made[scale], papers) if f.fits), None)
            if found is not None:
                return (found,)
    if drawing.divide is not None:
        return _in_parts(drawing, made[legible[-1]])
    smaller = [s for s in drawing.scales if s > drawing.smallest]
    if not smaller:
        msg = f"a drawing finds no room on any sheet: {drawing.make(drawing.scales[-1]).title}"
        raise ValueError(msg)
    return _fit(replace(drawing, scales=tuple(smaller), smallest=smaller[0]))


def _measured(drawing: Drawing, scale: float) -> _Fitted:
    view = drawing.make(scale)
    return _Fitted(view, drawing.papers[0][0], bounds(view))


def _true_size(view: View) -> tuple[float, float]:
    """How far what is built reaches along x and y, mm: no more than all that is drawn."""
    points: list[Point] = []
    for mark in view.marks:
        if isinstance(mark, Use):
            points.append(mark.at)
        elif isinstance(mark, Stroke | Region) and mark.layer in BUILT:
            points += mark.points if isinstance(mark, Stroke) else mark.outline
    if not points:
        return 0.0, 0.0
    xs, ys = zip(*points, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def _on(fitted: _Fitted, papers: Sequence[Paper]) -> Iterator[_Fitted]:
    return (replace(fitted, paper=paper) for paper in papers)


def _in_parts(drawing: Drawing, whole: _Fitted) -> tuple[_Fitted, ...]:
    """As few parts as fit, all on one size of sheet."""
    assert drawing.divide is not None
    scale = whole.view.scale
    length = _true_size(whole.view)[0] / scale
    for papers, most in zip(drawing.papers, _most_parts(len(drawing.papers)), strict=True):
        paper = papers[0]
        room = paper.room[0] - (whole.width - length)  # Of what stands beside each part.
        fewest = max(2, math.ceil(length / room)) if room > 0 else most + 1
        for count in range(fewest, most + 1):
            views = drawing.divide(scale, count)
            parts = tuple(
                _Fitted(view, paper, bounds(view), (k, count)) for k, view in enumerate(views, 1)
            )
            if all(part.fits for part in parts):
                return parts
            if any(part.height > paper.room[1] for part in parts):
                break
    smaller = [s for s in drawing.scales if s > scale]
    if not smaller:
        msg = f"a drawing finds no room on any sheet: {whole.view.title}"
        raise ValueError(msg)
    return _fit(replace(drawing, smallest=smaller[0]))


def _most_parts(sizes: int) -> tuple[int, ...]:
    return (*(FEW_PARTS,) * (sizes - 1), MOST_PARTS)


def _together(fitted: Sequence[_Fitted]) -> Iterator[tuple[_Fitted, ...]]:
    """Drawings that follow one another on one sheet, where they have its paper and scale."""
    sheet: list[_Fitted] = []
    for one in fitted:
        high = sum(other.height + AIR for other in sheet) + one.height
        alike = sheet and sheet[0].paper == one.paper and sheet[0].view.scale == one.view.scale
        if sheet and not (alike and high <= one.paper.room[1]):
            yield tuple(sheet)
            sheet = []
        sheet.append(one)
    if sheet:
        yield tuple(sheet)


def _page(title: str, date: str, sheets: Sequence[tuple[_Fitted, ...]], number: int) -> Page:
    """One sheet: its drawings from the top down, each under its caption, and the title strip."""
    sheet = sheets[number - 1]
    paper = sheet[0].paper
    wide, high = paper.room
    spare = (high - sum(one.height for one in sheet)) / (len(sheet) + 1)
    left, top = FILING + AIR, paper.height - MARGIN - AIR
    placed, captions = [], []
    for one in sheet:
        top -= min(spare, 2 * AIR)
        x0, _, _, y1 = one.bounds
        goes_on = _goes_on(one, number, first=one is sheet[0], last=one is sheet[-1])
        captions.append(Caption(one.view.title, one.view.scale, goes_on, top))
        at = left + (wide - one.width) / 2 - x0, top - CAPTION - y1
        placed.append(Placed(one.view, at))
        top -= one.height
    frame = strip(
        title, date, paper.name, (paper.width, paper.height), (number, len(sheets)), captions
    )
    name = f"{number:02d}-{sheet[0].view.name}"
    shown = "; ".join(one.view.title for one in sheet)
    views = (*placed, Placed(frame, (0.0, 0.0)))
    return Page(name, f"{title}: {shown}", paper.width, paper.height, views)


def _goes_on(one: _Fitted, number: int, *, first: bool, last: bool) -> str:
    """What a part says of those beside it: they stand next to it, on its sheet or the next."""
    part, count = one.part
    if count == 1:
        return ""
    before = f"from sheet {number - 1}" if first else "from above"
    after = f"continues on sheet {number + 1}" if last else "continues below"
    told = (f"part {part} of {count}", before * (part > 1), after * (part < count))
    return ", ".join(filter(None, told))
