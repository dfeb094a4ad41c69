"""A document as a PDF: A4 pages of text, and every sheet as a page of its own size."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from parametric_wall.drawings.lettering import drawn
from parametric_wall.drawings.title_strip import FILING, MARGIN
from parametric_wall.export.document import (
    Block,
    Column,
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
from parametric_wall.export.pdf import page_markup
from parametric_wall.export.typeset import quoted, typeset

ROOM = 180.0
"""Width of the text, mm."""
NUMBER = 36.0
"""Of that, what the number of a page takes at the most, with the gap before it."""
UNPRINTED = 5.0
"""Nothing stands nearer to the edge of a sheet: printers leave about 4 mm white, mm."""
LINE, MOST_LINES = 60, 20
"""A table of no more lines is not parted; a line has so many letters."""
ENDLESS = re.compile("[^-/]{21,}")
"""So many letters in a row may find no line to stand on; at - and / lines break anyway."""
PART = 12
BREAK = "\N{ZERO WIDTH SPACE}"
DIGEST = re.compile("[0-9a-f]{64}")
"""It is copied whole, and has a line of its own."""

STYLE = """\
#set text(size: 10.5pt, hyphenate: false)
#set par(leading: 0.55em, spacing: 0.9em)
#show outline.entry: set block(spacing: 0.6em)
#show heading.where(level: 1): it => block(
  sticky: true, above: 9mm, below: 4mm, width: 100%,
  stroke: (bottom: 1.2pt), inset: (bottom: 1.5mm), text(size: 16pt, it.body))
#show heading.where(level: 2): it => block(
  sticky: true, above: 6mm, below: 3mm, text(size: 12pt, it.body))
#let line(body) = {
  set text(size: 9pt)
  let number = "page " + context counter(page).display("1 of 1", both: true)
  grid(columns: (1fr, auto), column-gutter: 4mm, body, text(weight: "bold", number))
}
#let cover(kind, title) = {
  show heading: it => block(above: 3mm, below: 5mm, text(size: 20pt, it.body))
  block(text(size: 12pt, weight: "bold", kind))
  heading(level: 1, outlined: false, title)
}
#let words(body) = par(body)
#let strong-words(body) = par(text(weight: "bold", body))
#let entry(head, ..texts) = block(breakable: false, width: 100%, above: 4mm, below: 4mm, {
  block(below: 1.6mm, text(weight: "bold", head))
  for body in texts.pos() { block(inset: (left: 4mm), above: 1.6mm, below: 0mm, body) }
})
#let grouped(title, columns) = table.header(
  level: 2, table.cell(colspan: columns, fill: luma(235), text(weight: "bold", title)))
#let headed(..heads) = table.header(
  ..heads.pos().map(h => table.cell(stroke: (bottom: 1pt), text(weight: "bold", h))))
#let listed(columns, align, write, parted, head, ..rows) = block(
  above: 3mm, below: 4mm, breakable: parted, {
  set text(size: 9.5pt)
  set par(leading: 0.5em)
  set table.cell(breakable: false)
  show "☐": text.with(size: 1.3em)
  table(
    columns: columns, align: align, inset: (x: 1.6mm, y: 1.5mm),
    stroke: (x, y) => (bottom: 0.4pt + luma(110), left: if x in write { 0.4pt + luma(110) }),
    ..head,
    ..rows)
})
"""


def pack_pdf(document: Document) -> bytes:
    """The document as a tagged PDF."""
    files = {block.file: block.svg for block in document.pictures()}
    title = f"{document.kind}: {document.title}"
    return typeset(title, STYLE + "".join(_markup(document)), files)


def _markup(document: Document) -> Iterator[str]:
    told = f"({_text(document.title)} + linebreak() + {_text(document.running)})"
    # The foot of every page grows with the title; beside it stands the page's number.
    least = f"block(width: {ROOM - NUMBER:g}mm, text(size: 9pt, {told}))"
    yield (
        f"#show: body => context {{\n  let foot = measure({least}).height\n"
        '  set page(paper: "a4", margin: (x: 15mm, top: 15mm, bottom: 14mm + foot),\n'
        f"    footer-descent: 4mm, footer: align(top, line({told})))\n  body\n}}\n"
    )
    yield f"#cover({_text(document.kind)}, {_text(document.title)})\n"
    yield from map(_block, document.front)
    yield "#outline(title: none, depth: 1)\n"
    # Asked of a box, since a place without one moves on with what comes after it.
    yield "#box(width: 0pt) <front-ends>\n"
    yield "#context if locate(<front-ends>).page() == 1 { pagebreak(weak: true) }\n"
    for section in document.sections:
        yield from _section(section, document.running)


def _section(section: Section, running: str) -> Iterator[str]:
    if section.apart:
        yield "#pagebreak(weak: true)\n"
    yield f"#heading(level: 1, {_text(section.title)})\n"
    for block in section.blocks:
        yield _leaf(block, running) if isinstance(block, Leaf) else _block(block)


def _leaf(leaf: Leaf, running: str) -> str:
    """A sheet, which has its title on it, and the running line under its frame."""
    room = leaf.sheet.width - FILING - MARGIN
    line = f"block(width: {room:g}mm, line({_text(running)}))"
    over = f"place(bottom + left, dx: {FILING:g}mm, dy: -{UNPRINTED:g}mm, {line})"
    return page_markup(leaf.sheet, leaf.file, over)


def _block(block: Block) -> str:
    match block:
        case Words(text, strong):
            return f"#{'strong-' if strong else ''}words({_text(text)})\n"
        case Heading(text):
            return f"#heading(level: 2, {_text(text)})\n"
        case Entry(head, texts):
            return f"#entry({_all((head, *texts))})\n"
        case Picture():
            return _picture(block)
        case Table():
            return _table(block)
        case Leaf():
            msg = "a sheet is a page, not a block of one"
            raise TypeError(msg)


def _picture(picture: Picture) -> str:
    """As large as it is, or as wide as the text is where it is larger."""
    scale = min(1.0, ROOM / picture.width)
    size = f"width: {picture.width * scale:g}mm, height: {picture.height * scale:g}mm"
    return f"#block(image({quoted(picture.file)}, {size}, alt: {quoted(picture.told)}))\n"


def _table(table: Table) -> str:
    columns = ", ".join("auto" if c.share == 0 else f"{c.share:g}fr" for c in table.columns)
    align = ", ".join("right" if c.right else "left" for c in table.columns)
    write = "".join(f"{i}, " for i, c in enumerate(table.columns) if c.write)
    heads = [c.head for c in table.columns]
    head = f"(headed({_all(heads)}),)" if any(heads) else "()"
    parted = "false" if _short(table) else "true"
    rows = "".join(_group(group, table.columns) for group in table.groups)
    return f"#listed(({columns},), ({align},), ({write}), {parted}, {head},\n{rows})\n"


def _short(table: Table) -> bool:
    """Whether a table is so short that it is not parted, however its columns are set."""
    rows = [row for group in table.groups for row in group.rows]
    titles = sum(bool(group.title) for group in table.groups)
    return titles + sum(1 + sum(map(len, row)) // LINE for row in rows) <= MOST_LINES


def _group(group: Group, columns: tuple[Column, ...]) -> str:
    title = f"grouped({_text(group.title)}, {len(columns)}),\n" if group.title else ""
    return title + "".join(f"{_all(row)},\n" for row in group.rows)


def _all(texts: Iterable[str]) -> str:
    return ", ".join(map(_text, texts))


def _text(text: str) -> str:
    """A text as a value, with the signs that the font has; its lines stay lines."""
    return quoted("\n".join(_partable(line) for line in text.split("\n")))


def _partable(line: str) -> str:
    """Words between single spaces, those without end such that they can be parted."""
    return " ".join(
        word if DIGEST.fullmatch(word) else ENDLESS.sub(_parted, word)
        for word in drawn(line).split()
    )


def _parted(letters: re.Match[str]) -> str:
    text = letters.group()
    return BREAK.join(text[i : i + PART] for i in range(0, len(text), PART))
