"""Sheets as pages of a PDF: 1 mm of a sheet is 1 mm of paper, and its texts are texts."""

from __future__ import annotations

from parametric_wall.drawings.sheet import Sheet
from parametric_wall.export.svg import svg
from parametric_wall.export.typeset import quoted, typeset


def pdf(sheets: tuple[Sheet, ...], title: str) -> bytes:
    """A document of one page a sheet.

    Args:
        sheets: in order.
        title: of the document.
    """
    markup = "".join(map(page_markup, sheets))
    return typeset(title, markup, {file_name(sheet): svg(sheet) for sheet in sheets})


def file_name(sheet: Sheet) -> str:
    """The name by which the markup of a sheet's page knows its drawing."""
    return f"{sheet.name}.svg"


def page_markup(sheet: Sheet) -> str:
    """A page that is a sheet; it needs the file of that sheet's `file_name`."""
    # Width and height are said: without them a picture is made to fit, and no scale holds.
    size = f"width: {sheet.width:g}mm, height: {sheet.height:g}mm"
    picture = f"image({quoted(file_name(sheet))}, {size}, alt: {quoted(sheet.told)})"
    return f"#page({size}, margin: 0mm, place(top + left, {picture}))\n"
