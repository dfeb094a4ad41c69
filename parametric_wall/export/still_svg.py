"""The still picture as SVG: no style, no script, no reference to anything outside."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import escape
from itertools import groupby

from parametric_wall.drawings.still.axonometric import Mark, Still
from parametric_wall.drawings.still.faces import Face, Oval
from parametric_wall.drawings.still.overall import Stroke, Text
from parametric_wall.drawings.still.tones import INK, PAPER
from parametric_wall.geometry import Point

UNITS = 100
"""To the mm on paper: finer than any printer, and whole numbers add up without loss."""
FORBIDDEN = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What XML 1.0 has no place for, escaped or not (section 2.2, Char)."""
FACE = "Helvetica, Arial, 'Liberation Sans', sans-serif"
CAPITAL = 0.72
"""Height of a capital, of the size of the type."""


def still_svg(picture: Still) -> bytes:
    """The picture in UTF-8, the same bytes for the same picture."""
    width, height = _plain(picture.width), _plain(picture.height)
    size = f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" {size}>',
        f"<title>{_text(picture.title)}</title>",
        f"<desc>{_text(picture.told)}</desc>",
        f'<rect width="{width}" height="{height}" fill="{PAPER}"/>',
        *_marks(picture),
        "</svg>\n",
    ]
    return "\n".join(lines).encode()


def _marks(picture: Still) -> Iterator[str]:
    for (kind, *attributes), group in groupby(picture.marks, _look):
        marks = list(group)
        if kind == "face":
            d = "".join(_outline(m.outline, picture.height) for m in marks if isinstance(m, Face))
            yield f'<path fill="{attributes[0]}"{attributes[1]} d="{d}"/>'
        elif kind == "oval":
            yield from (_oval(m, picture.height) for m in marks if isinstance(m, Oval))
        elif kind == "stroke":
            d = "".join(_line(m, picture.height) for m in marks if isinstance(m, Stroke))
            yield f'<path fill="none" stroke="{INK}" stroke-width="{attributes[0]}" d="{d}"/>'
        else:
            yield from (_words(m, picture.height) for m in marks if isinstance(m, Text))


def _look(mark: Mark) -> tuple[str, ...]:
    """What marks that follow each other must share to be one element."""
    if isinstance(mark, Face):
        thin = f' fill-opacity="{mark.opacity:g}"' if mark.opacity < 1 else ""
        return ("face", mark.fill, thin)
    if isinstance(mark, Oval):
        return ("oval",)
    return ("stroke", _plain(mark.pen)) if isinstance(mark, Stroke) else ("text",)


def _outline(points: tuple[Point, ...], height: float) -> str:
    """A closed outline: the first corner, then steps."""
    whole = [(round(x * UNITS), round((height - y) * UNITS)) for x, y in points]
    (x, y), *rest = whole
    told = [f"M{_pair(x, y)}l"]
    steps = []
    for a, b in rest:
        if (a, b) != (x, y):
            steps.append(_pair(a - x, b - y))
        x, y = a, b
    joined = steps[0] if steps else ""
    for step in steps[1:]:
        joined += step if step.startswith("-") else f" {step}"
    return f"{told[0]}{joined}z" if steps else ""


def _oval(oval: Oval, height: float) -> str:
    numbers = (oval.centre[0], height - oval.centre[1], *oval.radii)
    named = zip(("cx", "cy", "rx", "ry"), numbers, strict=True)
    where = " ".join(f'{name}="{_number(round(n * UNITS))}"' for name, n in named)
    return f'<ellipse {where} fill="{oval.fill}"/>'


def _line(stroke: Stroke, height: float) -> str:
    (a, b), (c, d) = stroke.a, stroke.b
    start = _pair(round(a * UNITS), round((height - b) * UNITS))
    return f"M{start}L{_pair(round(c * UNITS), round((height - d) * UNITS))}"


def _words(text: Text, height: float) -> str:
    x, y = _plain(text.at[0]), _plain(height - text.at[1])
    turn = _plain(-text.turn_deg)
    size = _plain(text.capital / CAPITAL)
    return (
        f'<text transform="translate({x} {y}) rotate({turn})" text-anchor="middle" '
        f'font-family="{FACE}" font-size="{size}" fill="{INK}">{_text(text.text)}</text>'
    )


def _pair(x: int, y: int) -> str:
    second = _number(y)
    return _number(x) + (second if second.startswith("-") else f" {second}")


def _number(units: int) -> str:
    sign = "-" if units < 0 else ""
    whole, part = divmod(-units if units < 0 else units, UNITS)
    told = f"{whole}.{part:02d}".rstrip("0").rstrip(".")
    return sign + (told.removeprefix("0") if part else told)


def _plain(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")


def _text(text: str) -> str:
    """Text as it may stand in XML; what may not is shown as a sign that something was there."""
    return escape(FORBIDDEN.sub("\N{REPLACEMENT CHARACTER}", text))
