"""A view with one of everything, and what other people's readers find in written pages."""

from __future__ import annotations

import re
import subprocess
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree as ET

from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import (
    Dimension,
    Label,
    Page,
    Placed,
    Region,
    Stroke,
    Symbol,
    Use,
    View,
)

POINT = 25.4 / 72.0
"""mm of the unit of PDF, 1/72 inch (ISO 32000-1, 8.3.2.3)."""


def box(x: float, y: float, wide: float, high: float) -> tuple[Point, ...]:
    """A rectangle's corners."""
    return ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))


WHOLE = Symbol("block_440x140", (Region("masonry", box(0, 0, 440, 140), "block"),))
CUT = Symbol("block_215x140", (Region("masonry", box(0, 0, 215, 140), "cut"),))

MARKS = (
    Region("concrete", box(-100, -200, 1540, 150), "concrete"),
    Region("outline", box(1500, -200, 300, 340), "earth"),
    Region("outline", box(1500, 160, 300, 100), "gravel"),
    Stroke("limit", ((-100, 140), (1440, 140))),
    Use("masonry", WHOLE.name, (0, 0)),
    Use("masonry", WHOLE.name, (450, 0)),
    Use("masonry", WHOLE.name, (1340, 0), 0.0, mirrored=True),
    Use("masonry", CUT.name, (215, 290), 180.0),
    Dimension("dimensions", (0, 0), (440, 0), (0, -300)),
    Dimension("dimensions", (440, 0), (450, 0), (0, -300), text_at=(380, -400)),
    Dimension("dimensions", (0, 0), (1340, 0), (0, -500)),
    Dimension("dimensions", (0, 0), (0, 140), (-180, 0), 90.0),
    Label("text", (300, 500), "front-r1-c2-b1", leader=((120, 220), (290, 450))),
)


def view(
    name: str = "front", title: str = "Front", scale: float = 10.0, words: str = "herbs"
) -> View:
    """A view with one mark of every sort, and a text with some words."""
    marks = (*MARKS, Label("text", (-350, 700), words))
    return View(name, title, f"{title}, told.", scale, (WHOLE, CUT), marks)


def page(shown: View | None = None, title: str = "Front") -> Page:
    """A page of 210 x 148 mm with that view; its zero stands at 40, 60."""
    return Page("sheet-1", title, 210.0, 148.0, (Placed(shown or view(), (40.0, 60.0)),))


def lines_in(pdf: Path, number: int) -> list[tuple[Point, ...]]:
    """The lines that poppler finds on a page of a PDF: their corners in mm, y down."""
    # As it stands: by default a page is shrunk by a thousandth.
    as_is = ["-svg", "-noshrink", "-nocenter"]
    command = ["pdftocairo", *as_is, "-f", str(number), "-l", str(number), str(pdf), "-"]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    root = ET.fromstring(done.stdout)
    for defined in root.findall("{*}defs"):
        root.remove(defined)  # Letters and clips.
    return [_corners(path.attrib) for path in root.iter("{http://www.w3.org/2000/svg}path")]


@dataclass(frozen=True)
class Word:
    """A word on a page, and its box in mm, y down."""

    text: str
    x0: float
    y0: float
    x1: float
    y1: float

    def over(self, other: Word) -> bool:
        """Whether they overlap by more than a hair."""
        hair = 0.2
        return (
            min(self.x1, other.x1) - max(self.x0, other.x0) > hair
            and min(self.y1, other.y1) - max(self.y0, other.y0) > hair
        )


def words_in(pdf: Path) -> list[list[Word]]:
    """The words that poppler finds on every page of a PDF."""
    command = ["pdftotext", "-bbox", str(pdf), "-"]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    html = "{http://www.w3.org/1999/xhtml}"
    return [
        [
            Word(
                w.text or "",
                *(float(w.attrib[k]) * POINT for k in ("xMin", "yMin", "xMax", "yMax")),
            )
            for w in page.iter(f"{html}word")
        ]
        for page in ET.fromstring(done.stdout).iter(f"{html}page")
    ]


def overlapping(words: list[Word]) -> list[tuple[str, str]]:
    """Words of one page that stand over each other."""
    found: list[tuple[str, str]] = []
    open_: list[Word] = []
    for word in sorted(words, key=lambda w: w.y0):
        open_ = [w for w in open_ if w.y1 > word.y0]
        found += [(w.text, word.text) for w in open_ if w.over(word)]
        open_.append(word)
    return found


def _corners(path: dict[str, str]) -> tuple[Point, ...]:
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", path["d"])]
    matrix = path.get("transform", "matrix(1,0,0,1,0,0)")
    a, b, c, d, e, f = (float(n) for n in re.findall(r"-?[\d.]+(?:e-?\d+)?", matrix))
    pairs = zip(numbers[::2], numbers[1::2], strict=True)
    return tuple(((a * x + c * y + e) * POINT, (b * x + d * y + f) * POINT) for x, y in pairs)
