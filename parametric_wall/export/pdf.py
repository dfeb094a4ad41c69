"""Sheets as pages of a PDF: 1 mm of a sheet is 1 mm of paper, and its texts are texts."""

from __future__ import annotations

from collections.abc import Sequence

from parametric_wall.drawings.sheet import Sheet
from parametric_wall.export.typeset import quoted, typeset


def pdf(title: str, drawn: Sequence[tuple[Sheet, bytes]]) -> bytes:
    """A document of one page a sheet.

    Args:
        title: of the document.
        drawn: the sheets in order, each with itself as SVG.
    """
    named = {f"{i}.svg": one for i, one in enumerate(drawn, 1)}
    markup = "".join(page_markup(sheet, name) for name, (sheet, _) in named.items())
    return typeset(title, markup, {name: data for name, (_, data) in named.items()})


def page_markup(sheet: Sheet, name: str, over: str = "") -> str:
    """A page that is a sheet.

    Args:
        sheet: what is on it.
        name: of the file that holds it as SVG.
        over: what stands on it besides, as a piece of code.
    """
    # Width and height are said: without them a picture is made to fit, and no scale holds.
    size = f"width: {sheet.width:g}mm, height: {sheet.height:g}mm"
    picture = f"image({quoted(name)}, {size}, alt: {quoted(sheet.told)})"
    body = f"{{ place(top + left, {picture}); {over} }}"
    return f"#page({size}, margin: 0mm, footer: none, {body})\n"
