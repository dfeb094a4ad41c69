"""A sheet as SVG: true to scale in mm, real text, the same bytes every time."""

from __future__ import annotations

import re
from xml.sax.saxutils import escape, quoteattr

from parametric_wall.drawings.layers import LAYERS, Layer
from parametric_wall.drawings.lettering import CAPITAL, LACKING, drawn
from parametric_wall.drawings.sheet import Area, Line, Mark, Point, Sheet, Text

FONTS = "DejaVu Sans, sans-serif"
NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def svg(sheet: Sheet) -> bytes:
    """The sheet as an SVG document, UTF-8; 1 user unit is 1 mm of paper."""
    size = f'width="{_n(sheet.width)}mm" height="{_n(sheet.height)}mm"'
    view = f'viewBox="0 0 {_n(sheet.width)} {_n(sheet.height)}"'
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {view} role="img">',
        f"<title>{_words(sheet.title)}</title>",
        f"<desc>{_words(sheet.told)}</desc>",
        *(_mark(mark, sheet.height) for mark in sheet.marks),
        "</svg>",
    ]
    return ("\n".join(lines) + "\n").encode("utf-8")


def _mark(mark: Mark, height: float) -> str:
    layer = LAYERS[mark.layer]
    if isinstance(mark, Text):
        return _text(mark, layer, height)
    if isinstance(mark, Area):
        return f'<path d="{_path(mark.outline, height)}Z" fill="{_grey(layer)}"/>'
    return _line(mark, layer, height)


def _line(line: Line, layer: Layer, height: float) -> str:
    end = "Z" if line.closed else ""
    dash = f' stroke-dasharray="{" ".join(map(_n, layer.dash))}"' if layer.dash else ""
    pen = f'fill="none" stroke="{_grey(layer)}" stroke-width="{_n(layer.pen)}"'
    return f'<path d="{_path(line.points, height)}{end}" {pen}{dash}/>'


def _text(text: Text, layer: Layer, height: float) -> str:
    x, y = text.at[0], height - text.at[1]
    turn = f' transform="rotate({_n(-text.turn_deg)} {_n(x)} {_n(y)})"' if text.turn_deg else ""
    font = f'font-family="{FONTS}" font-size="{_n(text.height / CAPITAL)}"'
    where = f'x="{_n(x)}" y="{_n(y)}" text-anchor={quoteattr(text.anchor)}'
    return f'<text {where} {font} fill="{_grey(layer)}"{turn}>{escape(drawn(text.text))}</text>'


def _words(text: str) -> str:
    """A text without what XML 1.0 has no way to say."""
    return escape(NOT_XML.sub(LACKING, text))


def _path(points: tuple[Point, ...], height: float) -> str:
    return "M" + "L".join(f"{_n(x)} {_n(height - y)}" for x, y in points)


def _grey(layer: Layer) -> str:
    level = round(255 * layer.grey)
    return f"#{level:02x}{level:02x}{level:02x}"


def _n(value: float) -> str:
    """A number with at most three digits after the point: a thousandth of a mm."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
