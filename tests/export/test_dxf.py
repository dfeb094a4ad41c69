"""Views as a DXF: read by ezdxf, by dxf-parser (npm) and by LibreCAD, each by its own rules.

Codes and units are those of the DXF Reference of its publisher (from memory): $INSUNITS 4
is mm, $MEASUREMENT 1 metric, group 42 of a DIMENSION what is measured, %% and \\U+ begin
codes in a text, ^ a control character.
"""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import ezdxf
import pytest
import validators
from ezdxf import bbox, recover
from ezdxf.document import Drawing
from helpers_views import MARKS, box, lines_in, view

from parametric_wall.drawings.lower import lower
from parametric_wall.drawings.view import (
    Dimension,
    Page,
    Placed,
    Region,
    Stroke,
    Symbol,
    Use,
    View,
)
from parametric_wall.export.dxf import dxf
from parametric_wall.export.dxf_style import LINE_WIDTHS, plain

VIEWS = (view(), view("back", "Back", 20.0))


@pytest.fixture
def written(tmp_path: Path) -> Path:
    path = tmp_path / "drawings.dxf"
    path.write_bytes(dxf(VIEWS))
    return path


@pytest.fixture
def doc(written: Path) -> Drawing:
    found, auditor = recover.readfile(written)
    assert (auditor.errors, auditor.fixes) == ([], [])
    again = found.audit()
    assert (again.errors, again.fixes) == ([], [])
    return found


@pytest.fixture
def parsed(written: Path) -> dict[str, Any]:
    """What the other library reads."""
    node = validators.require("dxf-parser")
    return dict(json.loads(validators.run(node, validators.TOOLS / "read_dxf.mjs", written)))


def test_it_is_in_mm_and_says_so(doc: Drawing) -> None:
    header = doc.header
    assert (header["$INSUNITS"], header["$MEASUREMENT"]) == (4, 1)
    assert all(block.units in (0, 4) for block in doc.blocks)


def test_every_header_value_of_dimensions_is_that_of_its_style(doc: Drawing) -> None:
    header = doc.header
    style = doc.dimstyles.get(header["$DIMSTYLE"])
    for name, value in style.dxfattribs().items():
        if name.startswith("dim"):
            assert header["$" + name.upper()] == value, name
    assert header["$DIMLFAC"] == 1.0
    assert header["$DIMSCALE"] == 10.0
    assert (header["$DIMALT"], header["$DIMPOST"], header["$DIMDSEP"]) == (0, "", ord("."))
    assert header["$DIMTXT"] == 2.5
    assert header["$TEXTSIZE"] == 25.0


def test_each_scale_has_its_dimension_style_which_scales_no_length(doc: Drawing) -> None:
    used = {d.dxf.dimstyle for d in doc.modelspace().query("DIMENSION")}
    assert used == {"1-10", "1-20"}
    for name, scale in (("1-10", 10.0), ("1-20", 20.0)):
        style = doc.dimstyles.get(name)
        assert (style.dxf.dimscale, style.dxf.dimlfac) == (scale, 1.0)


def test_dimensions_are_dimensions_and_say_what_they_measure(doc: Drawing) -> None:
    found = list(doc.modelspace().query("DIMENSION"))
    assert len(found) == 2 * sum(isinstance(m, Dimension) for m in MARKS)
    for dim in found:
        assert dim.get_measurement() == pytest.approx(dim.dxf.actual_measurement, abs=1e-9)
        assert dim.dxf.text == ""
        drawn = [t.dxf.text for t in dim.get_geometry_block().query("TEXT")]
        assert drawn == [f"{dim.get_measurement():g}"]
    assert [d.get_measurement() for d in found[:4]] == [440.0, 10.0, 1340.0, 140.0]


def test_another_library_reads_the_same_in_mm(parsed: dict[str, Any]) -> None:
    assert parsed["header"]["$INSUNITS"] == 4
    assert parsed["header"]["$DIMLFAC"] == 1
    found = [e for e in parsed["entities"] if e["type"] == "DIMENSION"]
    assert [d["actualMeasurement"] for d in found] == [440, 10, 1340, 140] * 2
    # Measured anew between the two points, along the dimension's own direction.
    first, _, overall, upright = found[:4]
    for dim, axis, length in ((first, "x", 440), (overall, "x", 1340), (upright, "y", 140)):
        ends = dim["linearOrAngularPoint1"], dim["linearOrAngularPoint2"]
        assert ends[1][axis] - ends[0][axis] == pytest.approx(length, abs=1e-9)


def test_another_library_finds_the_pieces_in_their_places(parsed: dict[str, Any]) -> None:
    found = [e for e in parsed["entities"] if e["type"] == "INSERT"]
    uses = [m for m in MARKS if isinstance(m, Use)]
    assert [e["name"] for e in found[:4]] == [u.symbol for u in uses]
    first = found[0]["position"]
    for insert, use in zip(found[:4], uses, strict=True):
        at = insert["position"]
        assert (at["x"] - first["x"], at["y"]) == (use.at[0] - uses[0].at[0], use.at[1])
    outline = next(
        e for e in parsed["blocks"]["block_440x140"]["entities"] if e["type"] == "LWPOLYLINE"
    )
    spans = [{v[axis] for v in outline["vertices"]} for axis in ("x", "y")]
    assert spans == [{0, 440}, {0, 140}]


def test_a_size_is_one_block_however_often_it_is_laid(doc: Drawing) -> None:
    names = [b.name for b in doc.blocks if not b.name.startswith("*")]
    # Its hatch is another on another scale, so it is drawn once a scale.
    assert sorted(names) == ["block_215x140", "block_215x140_2", "block_440x140", "block_440x140_2"]
    assert b"block_440x140_2" not in dxf((view(), view("back", "Back")))


def test_a_size_without_hatch_is_one_block_on_every_scale() -> None:
    plain_block = Symbol("plain", (Region("masonry", box(0, 0, 440, 140), "none"),))
    shown = View("a", "A", "A.", 10.0, (plain_block,), (Use("masonry", "plain", (0, 0)),))
    written = dxf((shown, replace(shown, name="b", scale=20.0)))
    assert b"plain_2" not in written
    assert written.count(b"INSERT") == 2


def test_other_marks_under_one_name_are_another_block() -> None:
    one, other = (Symbol("piece", (Stroke("outline", ((0, 0), (x, 0))),)) for x in (1, 2))
    shown = View("a", "A", "A.", 10.0, (one,), (Use("masonry", "piece", (0, 0)),))
    written = dxf((shown, replace(shown, symbols=(other,))))
    assert b"piece_2" in written


def test_mirrored_and_turned_pieces_stand_where_the_sheet_has_them(doc: Drawing) -> None:
    """Against the sheet: the outlines of the blocks laid, exploded by ezdxf."""
    sheet = lower(Page("s", "s", 0, 0, (Placed(VIEWS[0], (0.0, 0.0)),)))
    wanted = {
        frozenset((round(x * 10, 3), round(y * 10, 3)) for x, y in line.points)
        for line in sheet.marks
        if line.layer == "masonry"
    }
    found = set()
    inserts = list(doc.modelspace().query("INSERT"))[:4]
    shift = inserts[0].dxf.insert.x
    for insert in inserts:
        for outline in insert.virtual_entities():
            if outline.dxftype() == "LWPOLYLINE":
                points = outline.vertices_in_wcs()
                found.add(frozenset((round(p.x - shift, 3), round(p.y, 3)) for p in points))
    assert found == wanted


def test_all_is_in_model_space_on_layers_named_by_what_is_drawn(doc: Drawing) -> None:
    assert len(list(doc.layout("Layout1"))) == 0
    used = {e.dxf.layer for e in doc.modelspace()}
    assert used == {"masonry", "concrete", "limit", "dimensions", "text", "hatch"}
    made = {layer.dxf.name for layer in doc.layers} - {"0", "Defpoints"}
    assert made == used
    for name in made:
        assert doc.layers.get(name).dxf.lineweight in LINE_WIDTHS


def test_hatches_are_hatches_of_the_same_lines(doc: Drawing) -> None:
    """Whole lines at 45 degrees, their distance 2 mm of paper, so 20 mm at 1:10."""
    hatch = doc.blocks.get("block_440x140").query("HATCH")[0]
    (line,) = hatch.pattern.lines
    assert line.angle == 45.0
    assert line.offset.magnitude == pytest.approx(20.0)
    assert hatch.dxf.hatch_style == 0
    found = {h.dxf.pattern_name for h in doc.modelspace().query("HATCH")}
    assert found == {"CONCRETE", "EARTH", "GRAVEL", "SOLID"}  # The dots of leaders.
    regions = [m for m in MARKS if isinstance(m, Region)]
    patterns = [h for h in doc.modelspace().query("HATCH") if not h.dxf.solid_fill]
    assert len(patterns) == 2 * len(regions)


def test_texts_are_as_large_on_paper_in_every_view(doc: Drawing) -> None:
    heights = {t.dxf.text: t.dxf.height for t in doc.modelspace().query("TEXT")}
    assert heights["Front, 1:10"] == 50.0
    assert heights["Back, 1:20"] == 100.0


def test_it_says_how_far_the_drawing_reaches(doc: Drawing) -> None:
    left, bottom, _ = doc.header["$EXTMIN"]
    right, top, _ = doc.header["$EXTMAX"]
    found = bbox.extents(doc.modelspace())
    assert left <= found.extmin.x
    assert bottom <= found.extmin.y
    assert right >= found.extmax.x - 1.0
    assert top >= found.extmax.y
    assert right < found.extmax.x * 1.2


def test_views_stand_side_by_side(doc: Drawing) -> None:
    first, second = (
        [d for d in doc.modelspace().query("DIMENSION") if d.dxf.dimstyle == name]
        for name in ("1-10", "1-20")
    )
    assert max(d.dxf.defpoint3.x for d in first) + 100 < min(d.dxf.defpoint2.x for d in second)
    assert {d.dxf.defpoint2.y for d in first} == {d.dxf.defpoint2.y for d in second}


HOSTILE = {
    "50%%c wide": "50% %c wide",
    "100%": "100%",
    "a^Jb": "a^ Jb",
    "line\nfeed\r\nand\x00null": "line feed  and null",
    "{\\Pnew} \\U+0041": "{\\Pnew} \\U+0041",
    "  0\nEOF": "  0 EOF",
    "\u05e7\u05d9\u05e8 \N{BRICK} \N{CJK UNIFIED IDEOGRAPH-5899}": None,
    "\ud800 \ufffe": "   ",
}


@pytest.mark.parametrize("words", HOSTILE)
def test_no_words_are_codes(words: str, tmp_path: Path) -> None:
    path = tmp_path / "hostile.dxf"
    path.write_bytes(dxf((view(words=words, title=words),)))
    found, auditor = recover.readfile(path)
    assert (auditor.errors, auditor.fixes) == ([], [])
    texts = [t.dxf.text for t in found.modelspace().query("TEXT")]
    wanted = HOSTILE[words] or words
    assert f"{wanted}, 1:10" in texts
    assert len(found.modelspace().query("DIMENSION")) == 4


def test_a_backslash_is_given_by_its_number() -> None:
    assert plain("{\\Pnew} \\U+0041") == "{\\U+005CPnew} \\U+005CU+0041"


def test_the_library_is_left_as_it_was_found(monkeypatch: pytest.MonkeyPatch) -> None:
    before = ezdxf.options.write_fixed_meta_data_for_testing
    dxf(VIEWS)
    assert ezdxf.options.write_fixed_meta_data_for_testing == before
    monkeypatch.setattr("parametric_wall.export.dxf.set_up_layers", lambda _: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        dxf(VIEWS)
    assert ezdxf.options.write_fixed_meta_data_for_testing == before


def test_the_same_views_give_the_same_bytes() -> None:
    assert dxf(VIEWS) == dxf(VIEWS)


def test_a_drawing_without_a_view_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one view"):
        dxf(())


def one_view(tmp_path: Path, shown: View) -> Path:
    path = tmp_path / "one.dxf"
    path.write_bytes(dxf((shown,)))
    return path


def test_librecad_prints_it_to_scale(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As a user sees it: printed at 1:10 on A3, 440 mm of wall are 44 mm of paper."""
    validators.require("poppler")
    program = validators.require("librecad")
    path = one_view(tmp_path, view())
    paper = ["-s", "0.1", "-p", "420x297", "-c", "-m"]
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    validators.run(program, "dxf2pdf", *paper, path)
    printed = lines_in(path.with_suffix(".pdf"), 1)
    level = [
        abs(a[0] - b[0]) for line in printed for a, b in pairwise(line) if abs(a[1] - b[1]) < 0.1
    ]
    for length in (44.0, 134.0, 154.0):
        assert any(abs(span - length) < 0.1 for span in level), length
    assert not any(abs(span - 440.0) < 1.0 for span in level)
