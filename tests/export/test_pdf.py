"""Sheets as a PDF: read by poppler, which is another's, and in mm of paper.

PDF/UA-1 is ISO 14289-1: tagged, a title and a language, every figure told in words, every
font embedded. No validator of it is to be had where these tests run; the typesetter
refuses what it knows to be against it, and what can be read is read here.
"""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest
import validators
from helpers_cli import child
from helpers_views import lines_in, page, view

from parametric_wall.drawings.lower import lower
from parametric_wall.drawings.view import View
from parametric_wall.export.pdf import pdf
from parametric_wall.export.svg import svg
from parametric_wall.export.typeset import quoted, typeset

HOSTILE = (
    "</svg><script>",
    '"#import" $x$ \\u{41} `raw` *b* _i_ @ref <label> // /* = heading',
    "% %%c %%d {\\P} \\U+0041 ^J",
    "wall \N{BRICK} \N{CJK UNIFIED IDEOGRAPH-5899}",
    "\u05e7\u05d9\u05e8 \u062c\u062f\u0627\u0631 \u202eturned\u202c",
    "bell\x07 null\x00 line\nfeed\ttab \ufffe \u2028",
    "a\u0301 \u200d \u200b \xad",
    "&amp; &lt; ]]> <!-- ' \"",
)


def drawn(title: str, *views: View) -> bytes:
    sheets = [lower(page(shown, shown.title)) for shown in views]
    return pdf(title, [(sheet, svg(sheet)) for sheet in sheets])


@pytest.fixture
def written(tmp_path: Path) -> Path:
    validators.require("poppler")
    path = tmp_path / "drawings.pdf"
    path.write_bytes(drawn("Herb planter", view(), view(title="Back", scale=20.0)))
    return path


def said(*command: str | Path) -> str:
    """What a program of poppler's says; it has nothing to complain of."""
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    return done.stdout


def has_line(lines: list[tuple[tuple[float, float], ...]], length: float) -> bool:
    """Whether there is a level line of that length, within a tenth of a mm."""
    spans = [abs(a[0] - b[0]) for a, b, *rest in lines if not rest and abs(a[1] - b[1]) < 1e-3]
    return any(abs(span - length) < 0.1 for span in spans)


def test_a_mm_of_a_sheet_is_a_mm_of_paper(written: Path) -> None:
    assert has_line(lines_in(written, 1), 1340 / 10)
    assert has_line(lines_in(written, 1), 440 / 10)
    assert not has_line(lines_in(written, 1), 1340 / 20)
    assert has_line(lines_in(written, 2), 1340 / 20)


def test_what_stands_somewhere_on_a_sheet_stands_there_on_paper(written: Path) -> None:
    # The dimension line of 1340 at 500 below a zero at 40, 60, on a page 148 high, 1:10.
    at = [(40.0, 148.0 - 60.0 + 50.0), (174.0, 138.0)]
    found = [line for line in lines_in(written, 1) if len(line) == 2]
    assert any(
        all(
            abs(p - q) < 0.05
            for a, b in zip(line, at, strict=True)
            for p, q in zip(a, b, strict=True)
        )
        for line in found
    )


def test_pages_have_the_size_of_their_sheets(written: Path) -> None:
    found = said("pdfinfo", "-l", "2", written)
    assert "Page    1 size:  595.276 x 419.528 pts" in found
    assert "Page    2 size:  595.276 x 419.528 pts" in found


def test_it_is_tagged_and_has_a_title_and_a_language(written: Path) -> None:
    found = said("pdfinfo", written)
    assert "Tagged:          yes" in found
    assert "Title:           Herb planter" in found
    assert b"/Lang(en-GB)" in written.read_bytes()
    assert b"CreationDate" not in written.read_bytes()
    assert said("pdfinfo", "-struct", written).count("Figure") == 2
    assert b"pdfuaid" in written.read_bytes()


def test_every_figure_is_told_in_words(written: Path) -> None:
    data = written.read_bytes()
    for words in ("Front, told.", "Back, told."):
        assert words.encode() in data or words.encode("utf-16-be") in data


def test_texts_are_texts(written: Path) -> None:
    first = said("pdftotext", "-l", "1", written, "-").split()
    assert {"front-r1-c2-b1", "herbs", "1340", "440", "140", "10"} <= set(first)


def test_every_font_is_embedded_and_none_is_the_systems(written: Path) -> None:
    rows = said("pdffonts", written).splitlines()[2:]
    assert rows
    for row in rows:
        assert "DejaVuSans" in row.split()[0]
        assert row.split()[-5:-2] == ["yes", "yes", "yes"]  # Embedded, subset, with Unicode.


@pytest.mark.parametrize("words", HOSTILE)
def test_no_words_break_a_page(words: str, tmp_path: Path) -> None:
    validators.require("poppler")
    path = tmp_path / "hostile.pdf"
    path.write_bytes(drawn(words, view(words=words, title=words)))
    assert "Pages:           1" in said("pdfinfo", path)
    found = said("pdftotext", path, "-")
    assert "1340" in found
    plain = {w for w in words.split() if w.isascii() and w.isprintable()}
    assert plain <= set(found.split())


@pytest.mark.parametrize("words", HOSTILE[:3])
def test_words_that_are_quoted_are_no_markup(words: str, tmp_path: Path) -> None:
    validators.require("poppler")
    path = tmp_path / "quoted.pdf"
    path.write_bytes(typeset("t", f"#set page(width: 200mm)\n#{quoted(words)}", {}))
    assert said("pdftotext", path, "-").split("\n")[0] == words


def test_what_is_not_quoted_is() -> None:
    """Else the test above could not fail."""
    with pytest.raises(RuntimeError, match="unknown variable"):
        typeset("t", "#words", {})


PROGRAM = """
import hashlib
from helpers_views import page, view
from parametric_wall.drawings.lower import lower
from parametric_wall.export.dxf import dxf
from parametric_wall.export.pdf import pdf
from parametric_wall.export.svg import svg
sheet = lower(page())
print(hashlib.sha256(pdf("t", [(sheet, svg(sheet))])).hexdigest())
print(hashlib.sha256(dxf((view(), view("back", scale=20.0)))).hexdigest())
"""


def test_every_process_writes_the_same_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", str(Path(__file__).parents[1]), prepend=":")
    found = set()
    for seed in ("1", "2", "3", "4", "5"):
        monkeypatch.setenv("PYTHONHASHSEED", seed)
        ran = child(PROGRAM)
        assert ran.returncode == 0, ran.stderr
        found.add(ran.stdout)
    assert len(found) == 1
