"""The frame of a sheet, its title strip and its captions, in mm of paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parametric_wall.drawings.lettering import shortened, width
from parametric_wall.drawings.view import Label, Stroke, View, ViewMark

MARGIN, FILING = 10.0, 20.0
"""Outside the frame, and at its left where sheets are filed."""
STRIP = 34.0
"""Height of the title strip."""
CAPTION = 9.0
"""Height of a drawing's caption, the gap to the drawing included."""
INSET = 3.0
"""From a line of the strip to its text."""
RIGHT = 46.0
"""Width of the strip's right part."""
BAR = 100.0
"""Length of the check bar."""
LARGE, SMALL = 3.5, 2.5
"""Heights of capitals, of ISO 3098."""

NOTICES = ("All sizes in mm. Check on site.", "Cautions stand in the pack: read them first.")
CHECK = "100 mm check"


@dataclass(frozen=True, slots=True)
class Caption:
    """What stands over a drawing.

    Attributes:
        title: of the drawing.
        scale: 20 for 1:20.
        goes_on: which sheets it goes on from and on to; empty where it does not.
        at: its upper left corner.
        room: how long it may be.
    """

    title: str
    scale: float
    goes_on: str
    at: tuple[float, float]
    room: float


def caption_width(title: str, scale: float) -> float:
    """How long a caption is that does not go on."""
    return width(f"{title}, {_scale(scale)}", LARGE)


def strip(
    title: str,
    date: str,
    paper: str,
    size: tuple[float, float],
    sheet: tuple[int, int],
    captions: Sequence[Caption],
) -> View:
    """The frame, the title strip and the captions of one sheet.

    Args:
        title: of the job.
        date: as it is to be printed; empty without one.
        paper: name of its size.
        size: width and height of the paper.
        sheet: its number, and how many there are.
        captions: of its drawings, in their order.
    """
    marks = (
        *_lines(size),
        *_left(title, size, captions),
        *_right(date, paper, size, sheet, captions),
    )
    marks = (*marks, *_bar(), *(m for c in captions for m in _caption(c)))
    told = f"Sheet {sheet[0]} of {sheet[1]}. {' '.join(NOTICES)}"
    return View("frame", "Title strip", told, 1.0, (), marks)


def _lines(size: tuple[float, float]) -> Iterator[ViewMark]:
    right, top, over = size[0] - MARGIN, size[1] - MARGIN, MARGIN + STRIP
    edge = right - RIGHT
    corners = ((FILING, MARGIN), (right, MARGIN), (right, top), (FILING, top))
    yield Stroke("frame", corners, closed=True)
    yield Stroke("frame", ((FILING, over), (right, over)))
    yield Stroke("outline", ((edge, MARGIN), (edge, over)))


def _left(title: str, size: tuple[float, float], captions: Sequence[Caption]) -> Iterator[ViewMark]:
    x, top = FILING + INSET, MARGIN + STRIP
    room = size[0] - MARGIN - RIGHT - INSET - x
    shown = "; ".join(dict.fromkeys(c.title for c in captions))
    for text, y, height in (
        (" ".join(title.split()), top - 6.5, LARGE),
        (shown, top - 12.5, SMALL),
        (NOTICES[0], top - 17.5, SMALL),
        (NOTICES[1], top - 22.0, SMALL),
    ):
        yield Label("text", (x, y), shortened(text, height, room), height)


def _right(
    date: str,
    paper: str,
    size: tuple[float, float],
    sheet: tuple[int, int],
    captions: Sequence[Caption],
) -> Iterator[ViewMark]:
    x, top = size[0] - MARGIN - RIGHT + INSET, MARGIN + STRIP
    yield Label("text", (x, top - 6.5), f"Sheet {sheet[0]} of {sheet[1]}", LARGE)
    yield Label("text", (x, top - 13.5), f"{_scale(captions[0].scale)} on {paper}", LARGE)
    if date:
        yield Label("text", (x, top - 19.5), date, SMALL)


def _scale(scale: float) -> str:
    return f"1:{scale:g}"


def _bar() -> Iterator[ViewMark]:
    """A bar to measure on the print, in tens."""
    x, y = FILING + INSET, MARGIN + 4.0
    yield Stroke("outline", ((x, y), (x + BAR, y)))
    for k in range(11):
        long = 2.5 if k % 5 == 0 else 1.5
        yield Stroke("outline", ((x + 10.0 * k, y), (x + 10.0 * k, y + long)))
    yield Label("text", (x + BAR + 2.0, y), CHECK, SMALL)


def _caption(caption: Caption) -> Iterator[ViewMark]:
    x, top = caption.at
    end = f", {_scale(caption.scale)}"
    if caption.goes_on:
        end += f"; {caption.goes_on}"
    title = shortened(caption.title, LARGE, caption.room - width(end, LARGE))
    yield Label("text", (x, top - LARGE), title + end, LARGE)
