"""A document as a folder of pages that any browser shows: one a section, pictures beside them."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from parametric_wall.drawings.lettering import drawn
from parametric_wall.export.document import (
    Block,
    Document,
    Entry,
    Group,
    Heading,
    Leaf,
    Picture,
    Section,
    Table,
    Words,
)

STYLE = """\
body { font: 17px/1.4 sans-serif; max-width: 60em; margin: 1em auto; padding: 0 1em; color: #000; }
table { border-collapse: collapse; width: 100%; margin: 1em 0; }
th, td { text-align: left; vertical-align: top; padding: .3em .5em; border-bottom: 1px solid #666; }
th { border-bottom: 2px solid #000; }
.right { text-align: right; }
.group { background: #eee; }
img { max-width: 100%; height: auto; }
pre { white-space: pre-wrap; }
"""


def page_name(document: Document, stem: str, number: int) -> str:
    """The file of a section, the first page being 0; `stem` begins the name of every file."""
    key = document.sections[number - 1].key if number else "cover"
    return f"{stem}-{number:02d}-{key}.html"


def pack_html(document: Document, stem: str, number: int) -> bytes:
    """One page in UTF-8: no script, and nothing from outside.

    Args:
        document: all of it.
        stem: how the names of its files begin.
        number: of the section, from 1; 0 for the cover.
    """
    section = document.sections[number - 1] if number else None
    head = document.kind if section is None else section.title
    lines = [
        "<!doctype html>",
        '<html lang="en-GB"><head><meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width">',
        f"<title>{_text(document.title)}: {_text(head)}</title>",
        f"<style>\n{STYLE}</style></head><body>",
        f"<header>{_text(document.title)}</header>",
        f"<main><h1>{_text(head)}</h1>",
        *(_cover(document, stem) if section is None else _section(section)),
        f"</main><footer><p>{_text(document.running)}</p></footer></body></html>\n",
    ]
    return "\n".join(lines).encode()


def _cover(document: Document, stem: str) -> Iterator[str]:
    yield from map(_block, document.front)
    yield "<ol>"
    for number, section in enumerate(document.sections, 1):
        file = page_name(document, stem, number)
        yield f'<li><a href="{escape(file)}">{_text(section.title)}</a></li>'
    yield "</ol>"


def _section(section: Section) -> Iterator[str]:
    yield from map(_block, section.blocks)


def _block(block: Block) -> str:
    match block:
        case Words(text, strong):
            body = f"<strong>{_text(text)}</strong>" if strong else _text(text)
            return f"<p>{body}</p>"
        case Heading(text):
            return f"<h2>{_text(text)}</h2>"
        case Entry(head, texts):
            body = "".join(f"<br>{_text(text)}" for text in texts)
            return f"<p><strong>{_text(head)}</strong>{body}</p>"
        case Picture(file, _, width, height, told):
            return _image(file, width, height, told)
        case Leaf(file, _, sheet):
            return _image(file, sheet.width, sheet.height, sheet.told)
        case Table():
            return "\n".join(_table(block))


def _image(file: str, width: float, height: float, told: str) -> str:
    style = f"width: {width:g}mm; aspect-ratio: {width:g} / {height:g}"
    return f'<p><img src="{escape(file)}" style="{style}" alt="{_text(told)}"></p>'


def _table(table: Table) -> Iterator[str]:
    classes = [' class="right"' if column.right else "" for column in table.columns]
    heads = zip(classes, table.columns, strict=True)
    cells = "".join(f'<th scope="col"{c}>{_text(column.head)}</th>' for c, column in heads)
    yield "<table>"
    if any(column.head for column in table.columns):
        yield f"<thead><tr>{cells}</tr></thead>"
    for group in table.groups:
        yield from _group(group, classes)
    yield "</table>"


def _group(group: Group, classes: list[str]) -> Iterator[str]:
    yield "<tbody>"
    if group.title:
        span = f'colspan="{len(classes)}"'
        yield f'<tr><th scope="rowgroup" class="group" {span}>{_text(group.title)}</th></tr>'
    for row in group.rows:
        cells = zip(classes, row, strict=True)
        yield f"<tr>{''.join(f'<td{c}>{_text(text)}</td>' for c, text in cells)}</tr>"
    yield "</tbody>"


def _text(text: str) -> str:
    """A text as it may stand between tags and in an attribute; its lines stay lines."""
    return "<br>".join(escape(drawn(line)) for line in text.split("\n"))
