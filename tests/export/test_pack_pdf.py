"""Documents as a PDF and as pages: read by poppler and by Python's reader of HTML.

PDF/UA-1 is ISO 14289-1. Sizes of type are told by poppler's boxes, which are as high as
the font reaches by its own table OS/2: 1556 units above and 492 below the base line, of
2048 to the em (DejaVu Sans 2.37), so that a box is as high as the type.
"""

from __future__ import annotations

import re
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest
import validators
from helpers_views import POINT, overlapping, page, view, words_in

from parametric_wall.drawings.lower import lower
from parametric_wall.export.document import (
    BOX,
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
    table,
)
from parametric_wall.export.pack_html import pack_html, page_name
from parametric_wall.export.pack_pdf import pack_pdf
from parametric_wall.export.svg import svg

HOSTILE = (
    '#import "x": *; #panic("no") $x^2$ \\u{41} `raw` *b* _i_ @ref <label> [c] ] } )',
    "= heading // comment /* open ~ -- --- ... ' \"",
    "</p></td><script>alert(1)</script> &amp; &lt; ]]> <!-- ' \"",
    "- list + list / term: 1. 2.",
)
RUNNING = "No wall is called safe."
HEIGHT = (1556 + 492) / 2048
"""Of poppler's box of a word, over the size of its type."""


def document(*blocks: Block, title: str = "A wall", front: tuple[Block, ...] = ()) -> Document:
    return Document("Job pack", title, RUNNING, front, (Section("part", "Part", blocks),))


def said(*command: str | Path) -> str:
    validators.require("poppler")
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    return done.stdout


def text_of(made: Document, path: Path, *more: str) -> str:
    path.write_bytes(pack_pdf(made))
    return said("pdftotext", *more, path, "-")


@pytest.mark.parametrize("words", HOSTILE)
def test_no_words_are_taken_for_markup(words: str, tmp_path: Path) -> None:
    blocks = (
        Words(words),
        Words(words, strong=True),
        Heading(words),
        Entry(words, (words,)),
        Table((Column(words, 1.0),), (Group(((words,),), words),)),
    )
    found = text_of(document(*blocks, title=words), tmp_path / "pack.pdf")
    plain = "".join(found.split())
    # In eight places of the page, over it, and at the foot of both pages.
    assert plain.count("".join(words.split())) >= 10
    assert b"pdfuaid" in (tmp_path / "pack.pdf").read_bytes()
    html = pack_html(document(*blocks, title=words), "wall", 1).decode()
    assert "<script" not in html.lower()
    assert html.count("<p>") == html.count("</p>")


@pytest.mark.parametrize("words", ["W" * 200, "\u00e9" * 200, "long-" * 40, "w " * 100])
def test_long_words_stay_between_the_margins(words: str, tmp_path: Path) -> None:
    columns = (Column(""), Column("one", 1.0), Column("two", 1.0))
    blocks = (Words(words), Entry(words, (words,)), table(columns, [(BOX, words, words)]))
    path = tmp_path / "pack.pdf"
    path.write_bytes(pack_pdf(document(*blocks, title=words)))
    pages = words_in(path)
    found = [word for page in pages for word in page]
    assert sum(len(word.text.replace("\u200b", "")) for word in found) > 5 * 100
    for word in found:
        assert 14.8 < word.x0 < word.x1 < 210 - 14.8, word
        assert 10 < word.y0 < word.y1 < 297 - 8, word
    assert [overlapping(page) for page in pages] == [[]] * len(pages)


def test_it_can_be_read_in_the_rain(tmp_path: Path) -> None:
    """Body text of 10.5 points at the least, tables of 9.5; the running lines of 9."""
    path = tmp_path / "pack.pdf"
    rows = [(BOX, "cell", "other")]
    columns = (Column(""), Column("head", 1.0), Column("second"))
    path.write_bytes(
        pack_pdf(document(Words("body"), Entry("entry", ("under",)), table(columns, rows)))
    )
    found = [word for page in words_in(path) for word in page]
    size = {word.text: (word.y1 - word.y0) / POINT / HEIGHT for word in found}
    for word in ("body", "entry", "under"):
        assert size[word] == pytest.approx(10.5, abs=0.05)
    assert size[BOX] > 12
    for word in ("cell", "head", "other"):
        assert size[word] == pytest.approx(9.5, abs=0.05)
    assert min(size.values()) >= 8.95


def test_a_table_has_its_head_on_every_page(tmp_path: Path) -> None:
    rows = tuple((str(n), f"row {n} of the table") for n in range(200))
    made = document(Table((Column("number"), Column("what", 1.0)), (Group(rows, "a group"),)))
    pages = text_of(made, tmp_path / "pack.pdf", "-layout").split("\f")[:-1]
    with_rows = [p for p in pages if "of the table" in p]
    assert len(with_rows) > 3
    for found in with_rows:
        assert re.search(r"number +what", found)
        assert "a group" in found
    assert all(f"row {n} of the table" in "".join(pages) for n in range(200))


def test_a_short_table_and_an_entry_are_not_parted(tmp_path: Path) -> None:
    """Whatever stands before them."""
    path = tmp_path / "pack.pdf"
    rows = [(f"row{n}", "x") for n in range(8)]
    for before in range(30, 50, 4):
        short = (Entry("entry", ("under", "last")), table((Column("a"), Column("b")), rows))
        made = document(*(Words("word") for _ in range(before)), Heading("heading"), *short)
        pages = text_of(made, path).split("\f")
        of = {w: i for i, p in enumerate(pages) for w in p.split()}
        assert of["heading"] == of["entry"] == of["last"]
        assert of["row0"] == of["row7"]


def test_every_page_has_its_number_and_the_title(tmp_path: Path) -> None:
    sheet = lower(page(view()))
    leaf = Leaf("sheet.svg", svg(sheet), sheet)
    pages = text_of(document(Words("a"), leaf, Words("b")), tmp_path / "pack.pdf").split("\f")[:-1]
    assert len(pages) == 4
    for number, text in enumerate(pages, 1):
        assert f"page {number} of 4" in text
        assert RUNNING in text
    sizes = re.findall(
        r"size: +([\d.]+ x [\d.]+)", said("pdfinfo", "-l", "9", tmp_path / "pack.pdf")
    )
    a4 = "595.276 x 841.89"
    # 210 x 148 mm, as the sheet is.
    assert sizes == [a4, a4, "595.276 x 419.528", a4]


def test_pictures_are_told_in_words_and_never_enlarged(tmp_path: Path) -> None:
    sheet = lower(page(view()))
    pictures = [
        Picture(f"{k}.svg", svg(sheet), sheet.width * k, sheet.height * k, f"Told {k}.")
        for k in (0.5, 1.0)
    ]
    path = tmp_path / "pack.pdf"
    path.write_bytes(pack_pdf(document(*pictures)))
    data = path.read_bytes()
    for words in ("Told 0.5.", "Told 1.0."):
        assert words.encode() in data or words.encode("utf-16-be") in data
    assert said("pdfinfo", "-struct", path).count("Figure") == 2


def test_structure_is_that_of_a_document(tmp_path: Path) -> None:
    path = tmp_path / "pack.pdf"
    path.write_bytes(pack_pdf(document(Words("a"), table((Column("b"),), [("c",)]))))
    tree = said("pdfinfo", "-struct", path)
    for tag in ("H1", "P", "Table", "TH", "TD", "TOC"):
        assert re.search(rf"^ *{tag}\b", tree, re.MULTILINE), tag


def test_pages_of_the_folder_lead_to_each_other() -> None:
    made = document(Words("a"), front=(Words("first"),))
    named = page_name(made, "wall", 1)
    assert named == "wall-01-part.html"
    cover = pack_html(made, "wall", 0).decode()
    assert f'<a href="{named}">Part</a>' in cover
    assert "first" in cover
    other = replace(made, title="Another")
    assert pack_html(made, "wall", 1) != pack_html(other, "wall", 1)
