"""Every example packed, and its pack read by others: all there, to scale, nothing clipped.

Sheets are those of ISO 216: A4 is 210 x 297 mm, A3 297 x 420. PDF/UA-1 is ISO 14289-1.
"""

from __future__ import annotations

import hashlib
import json
import re
import subprocess
import xml.etree.ElementTree as ET
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest
import validators
from helpers_views import POINT, lines_in, overlapping, words_in

from parametric_wall import check, job_pack, load, order_lines, set_out
from parametric_wall.checks.finding import stops
from parametric_wall.checks.on_site import check_sheet
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import SettingOut

ROOT = Path(__file__).parents[2]
JOBS = [path for path in sorted((ROOT / "examples").glob("*.toml")) if path.stem != "too-tall"]
Packed = tuple[JobSpec, SettingOut, Path]
SIDES, FOOT = 15.0, 10.0
"""White at the sides of a page of text, and under its last line, mm."""
SHEET_EDGE = 5.0
"""Printers leave about 4 mm white (common practice)."""


@pytest.fixture(scope="module", params=JOBS, ids=lambda path: path.stem)
def example(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Packed:
    """A job, its setting-out, and the folder with its pack."""
    spec = load(request.param)
    laid = set_out(spec)
    assert not stops(check(spec, laid))
    folder = tmp_path_factory.mktemp(spec.name)
    job_pack(spec, laid, folder)
    return spec, laid, folder


def pdf_of(example: Packed) -> Path:
    return example[2] / f"{example[0].name}-pack.pdf"


def said(*command: str | Path) -> str:
    """What a program of poppler's says; it has nothing to complain of."""
    validators.require("poppler")
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    return done.stdout


def squeezed(text: str) -> str:
    """Without its spaces: lines may break anywhere."""
    return "".join(text.split())


def sheets_of(example: Packed) -> list[tuple[float, float]]:
    """Width and height of the sheets, as their files say."""
    spec, _, folder = example
    found = []
    for path in sorted(folder.glob(f"{spec.name}-pack-sheet-*.svg")):
        root = ET.parse(path).getroot()
        found.append((float(root.attrib["width"][:-2]), float(root.attrib["height"][:-2])))
    return found


def pages_of(pdf: Path) -> list[tuple[float, float]]:
    """Width and height of the pages, mm."""
    found = re.findall(r"size: +([\d.]+) x ([\d.]+) pts", said("pdfinfo", "-l", "9999", pdf))
    return [(float(w) * POINT, float(h) * POINT) for w, h in found]


def drawn_pages(example: Packed) -> range:
    """Numbers of the pages that are sheets: they follow one another, each in its own size."""
    pages, sheets = pages_of(pdf_of(example)), sheets_of(example)
    texts = said("pdftotext", pdf_of(example), "-").split("\f")
    first = next(i for i, text in enumerate(texts) if f"Sheet 1 of {len(sheets)}" in text)
    for (wide, high), wanted in zip(pages[first : first + len(sheets)], sheets, strict=True):
        assert (wide, high) == (
            pytest.approx(wanted[0], abs=0.1),
            pytest.approx(wanted[1], abs=0.1),
        )
    return range(first + 1, first + len(sheets) + 1)


def test_it_is_tagged_and_its_fonts_embedded(example: Packed) -> None:
    pdf = pdf_of(example)
    found = said("pdfinfo", pdf)
    assert "Tagged:          yes" in found
    assert f"Title:           Job pack: {example[0].job.title}" in found
    assert b"pdfuaid" in pdf.read_bytes()
    rows = said("pdffonts", pdf).splitlines()[2:]
    assert rows
    assert all("DejaVuSans" in row and row.split()[-5:-2] == ["yes"] * 3 for row in rows)


def test_every_piece_line_finding_and_check_is_in_it(example: Packed) -> None:
    spec, laid, _ = example
    words = said("pdftotext", "-layout", pdf_of(example), "-")
    cut = [p.id for w in laid.walls for p in w.pieces if p.cut and p.kind in ("block", "coping")]
    for name in (*cut, *(f.code for f in check(spec, laid))):
        assert name in words
    plain = squeezed(said("pdftotext", pdf_of(example), "-"))
    for line in order_lines(spec, laid):
        assert squeezed(line.key) in plain
    rows = check_sheet(spec)
    for row in rows:
        for text in (row.what, row.value, row.allowed, row.how[1:]):
            assert squeezed(text) in plain
    assert words.count("☐") >= len(rows) + len(cut)


def test_the_folder_says_the_same(example: Packed) -> None:
    spec, laid, folder = example
    record = json.loads((folder / "pack.json").read_bytes())
    plain = squeezed(said("pdftotext", pdf_of(example), "-"))
    page = {one["key"]: Text.of(folder / one["file"]) for one in record["sections"]}
    for one in record["sections"]:
        assert squeezed(one["title"]) in plain
    for piece in (
        p for w in laid.walls for p in w.pieces if p.cut and p.kind in ("block", "coping")
    ):
        assert piece.id in page["cut-list"]
    for f in check(spec, laid):
        assert f.code in page["findings"] + page["cautions"]
    for line in order_lines(spec, laid):
        assert line.key in page["order"]
    for row in check_sheet(spec):
        assert row.value in page["check-sheet"]


class Text(HTMLParser):
    """The text of a page, as Python's own reader of HTML finds it; every tag is closed."""

    VOID = frozenset({"meta", "br", "img"})

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag != "script"
        assert not any(name.startswith("on") for name, _ in attrs)
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.found.append(data)

    @classmethod
    def of(cls, path: Path) -> str:
        reader = cls()
        reader.feed(path.read_text(encoding="utf-8").removeprefix("<!doctype html>"))
        reader.close()
        assert reader.open == []
        return "".join(reader.found)


def test_pictures_of_the_folder_are_there(example: Packed) -> None:
    _, _, folder = example
    named = {
        name
        for page in folder.glob("*.html")
        for name in re.findall(r'(?:src|href)="([^"]+)"', page.read_text(encoding="utf-8"))
    }
    assert named
    assert all((folder / name).is_file() for name in named)
    assert {p.name for p in folder.glob("*.svg")} <= named


def test_the_manifest_has_the_digest_of_every_file(example: Packed) -> None:
    spec, _, folder = example
    digests = {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in folder.iterdir()}
    digests.pop("pack.json")
    record = json.loads((folder / "pack.json").read_bytes())
    assert {f["name"]: f["sha256"] for f in record["files"]} == digests
    printed = said("pdftotext", pdf_of(example), "-").replace("\f", "\n")
    (own,) = (one["file"] for one in record["sections"] if one["key"] == "manifest")
    for name, digest in digests.items():
        if name not in (f"{spec.name}-pack.pdf", own):
            assert re.search(rf"^{re.escape(name)}\s+{digest}$", printed, re.MULTILINE)


def test_drawings_are_true_to_scale(example: Packed) -> None:
    """A bar of 100 mm on each sheet; and on an elevation the run's length over its scale."""
    spec, _, folder = example
    validators.require("poppler")
    names = [p.stem for p in sorted(folder.glob(f"{spec.name}-pack-sheet-*.svg"))]
    lengths = {
        f"elevation-{wall.name}-r{number}": length
        for wall in spec.walls
        for number, length in zip(wall.path.numbers, wall.path.lengths, strict=True)
    }
    for number, name in zip(drawn_pages(example), names, strict=True):
        spans = [
            abs(b[0] - a[0])
            for line in lines_in(pdf_of(example), number)
            for a, b in pairwise(line)
            if abs(a[1] - b[1]) < 1e-2
        ]
        assert any(abs(span - 100.0) < 0.1 for span in spans), name
        length = next((x for key, x in lengths.items() if name.endswith(key)), None)
        page = said("pdftotext", "-f", str(number), "-l", str(number), pdf_of(example), "-")
        scales = {float(s) for s in re.findall(r"1:(\d+)", page)}
        if length is not None:
            wanted = [length / scale for scale in scales]
            assert any(abs(span - w) < 0.1 for span in spans for w in wanted), name


def test_text_pages_are_a4_and_every_page_says_what_it_is(example: Packed) -> None:
    spec, _, _ = example
    sizes, sheets = pages_of(pdf_of(example)), drawn_pages(example)
    texts = said("pdftotext", "-layout", pdf_of(example), "-").split("\f")[:-1]
    assert len(texts) == len(sizes)
    for number, (text, size) in enumerate(zip(texts, sizes, strict=True), 1):
        assert f"page {number} of {len(sizes)}" in text
        assert "No wall is called safe by these checks" in text
        assert squeezed(spec.job.title)[:30] in squeezed(text)
        if number not in sheets:
            assert size == (pytest.approx(210, abs=0.1), pytest.approx(297, abs=0.1))


def test_no_word_is_clipped(example: Packed) -> None:
    """Boxes of all words, by poppler: within the margins, on sheets within what is printed.

    None stands over another; on sheets that is looked at where they are drawn.
    """
    validators.require("poppler")
    sheets, sizes = drawn_pages(example), pages_of(pdf_of(example))
    pages = words_in(pdf_of(example))
    assert len(pages) == len(sizes) > len(sheets)
    for number, (words, (wide, high)) in enumerate(zip(pages, sizes, strict=True), 1):
        assert words
        side, foot = (SHEET_EDGE, SHEET_EDGE) if number in sheets else (SIDES, FOOT)
        for word in words:
            assert side - 0.2 < word.x0 < word.x1 < wide - side + 0.2, (number, word)
            assert foot - 2.0 < word.y0 < word.y1 < high - foot + 2.0, (number, word)
        if number not in sheets:
            assert overlapping(words) == [], number
