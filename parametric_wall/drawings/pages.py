"""Drawings put on sheets of paper: which sheet, which scale, what stands together.

The largest scale that fits is taken, on A4 before A3; a drawing that can be divided is
divided by match lines before it gets too small to read.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from parametric_wall.drawings.paper import (
    A3,
    A4,
    AIR,
    FILING,
    MARGIN,
    Fitted,
    Paper,
    bounds,
    fit_together,
    row_height,
    rows,
    sheets_of,
)
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.title_strip import CAPTION, Caption, strip
from parametric_wall.drawings.view import Page, Placed, Region, Stroke, Use, View

SCALES = (5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10000.0)
"""Of ISO 5455, and 1:25, which is common practice."""
ABREAST = 4
"""Drawings of a group on one sheet."""
MOST_PARTS = 60
"""A drawing is not divided into more."""
BUILT = frozenset({"footing", "blocks", "copings", "cut pieces"})
"""Layers of what is built: their marks have their true places on every scale."""
FEW_PARTS = 4
"""More parts than this stand on the larger sheet."""


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
        group: drawings of one group that follow one another stand together at one scale,
            where they can; empty for one by itself.
    """

    make: Callable[[float], View]
    divide: Callable[[float, int], tuple[View, ...]] | None = None
    scales: tuple[float, ...] = SCALES
    smallest: float = 25.0
    papers: tuple[tuple[Paper, ...], ...] = (A4, A3)
    group: str = ""


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
    fitted = [
        parts
        for group, members in groupby(drawings, key=lambda drawing: drawing.group)
        for parts in _fit_group(tuple(members), together=bool(group))
    ]
    sheets = list(sheets_of([part for parts in fitted for part in parts]))
    views = (
        parts[0].view if len(parts) == 1 else drawing.make(parts[0].view.scale)
        for drawing, parts in zip(drawings, fitted, strict=True)
    )
    count = range(1, len(sheets) + 1)
    return tuple(_page(title, date, sheets, number) for number in count), tuple(views)


def _fit_group(drawings: Sequence[Drawing], *, together: bool) -> Iterator[tuple[Fitted, ...]]:
    """Drawings on as few sheets as hold them all at one scale, up to four on each; else alone."""
    count = len(drawings)
    for sheets in range(math.ceil(count / ABREAST), count if together else 0):
        each = math.ceil(count / sheets)
        for scale in (s for s in drawings[0].scales if s <= drawings[0].smallest):
            made = [_measured(drawing, scale) for drawing in drawings]
            for paper in drawings[0].papers[0]:
                laid = [replace(one, paper=paper) for one in made]
                sheet = (fit_together(laid[i : i + each]) for i in range(0, count, each))
                if all(sheet) and all(one.clear for one in laid):
                    yield from ((one,) for one in laid)
                    return
    yield from map(_fit, drawings)


def _fit(drawing: Drawing) -> tuple[Fitted, ...]:
    """A drawing at the largest scale that fits: on A4 first, then on A3, then in parts.

    A scale at which a text would stand over anything is left out as long as there is another.
    One that cannot be divided is drawn smaller than is good to read where it has to be.
    """
    crowded: Fitted | None = None
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
            if found is not None and found.clear:
                return (found,)
            crowded = crowded or found
    if crowded is not None:
        return (crowded,)
    if drawing.divide is not None:
        return _in_parts(drawing, made[legible[-1]])
    smaller = [s for s in drawing.scales if s > drawing.smallest]
    if not smaller:
        msg = f"a drawing finds no room on any sheet: {drawing.make(drawing.scales[-1]).title}"
        raise ValueError(msg)
    return _fit(replace(drawing, scales=tuple(smaller), smallest=smaller[0]))


def _measured(drawing: Drawing, scale: float) -> Fitted:
    view = drawing.make(scale)
    return Fitted(view, drawing.papers[0][0], bounds(view))


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


def _on(fitted: Fitted, papers: Sequence[Paper]) -> Iterator[Fitted]:
    return (replace(fitted, paper=paper) for paper in papers)


def _in_parts(drawing: Drawing, whole: Fitted) -> tuple[Fitted, ...]:
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
                Fitted(view, paper, bounds(view), (k, count)) for k, view in enumerate(views, 1)
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


def _page(title: str, date: str, sheets: Sequence[tuple[Fitted, ...]], number: int) -> Page:
    """One sheet: its drawings in rows from the top, each under its caption, and the title strip."""
    sheet = sheets[number - 1]
    paper, laid = sheet[0].paper, rows(sheet)
    wide, high = paper.room
    spare = (high - sum(map(row_height, laid))) / (len(laid) + 1)
    top = paper.height - MARGIN - AIR
    placed, captions = [], []
    for row in laid:
        top -= min(spare, 2 * AIR)
        left = FILING + AIR
        more = (wide - sum(one.column for one in row)) / len(row)
        for one in row:
            column = one.column + more
            x0, _, _, y1 = one.bounds
            goes_on = _goes_on(one, number, first=one is sheet[0], last=one is sheet[-1])
            captions.append(Caption(one.view.title, one.view.scale, goes_on, (left, top), column))
            at = left + (column - one.width) / 2 - x0, top - CAPTION - y1
            placed.append(Placed(one.view, at))
            left += column
        top -= row_height(row)
    frame = strip(
        title, date, paper.name, (paper.width, paper.height), (number, len(sheets)), captions
    )
    name = f"{number:02d}-{sheet[0].view.name}"
    shown = "; ".join(one.view.title for one in sheet)
    views = (*placed, Placed(frame, (0.0, 0.0)))
    return Page(name, f"{title}: {shown}", paper.width, paper.height, views)


def _goes_on(one: Fitted, number: int, *, first: bool, last: bool) -> str:
    """What a part says of those beside it: they stand next to it, on its sheet or the next."""
    part, count = one.part
    if count == 1:
        return ""
    before = f"from sheet {number - 1}" if first else "from above"
    after = f"continues on sheet {number + 1}" if last else "continues below"
    told = (f"part {part} of {count}", before * (part > 1), after * (part < count))
    return ", ".join(filter(None, told))
