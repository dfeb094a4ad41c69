"""A STEP file measured: against the model, against the kernel's own reader, and tampered."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from helpers_pieces import long_wall, moved, sample, straight_wall, without
from OCP.Bnd import Bnd_Box
from OCP.BRepBndLib import BRepBndLib
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer

from parametric_wall.errors import OutputError
from parametric_wall.export.step import step_bytes
from parametric_wall.geometry import Placement
from parametric_wall.solid.model import model_of
from parametric_wall.solid.shapes import mass_of
from parametric_wall.verify.measure import measure_model
from parametric_wall.verify.measure_step import measure_step
from parametric_wall.verify.measured import Measured, displaced

pytestmark = pytest.mark.cad

MODEL = model_of(sample())
ASKED = measure_model(MODEL)
# An entity a line, however long: the standard lets a line end nearly anywhere.
TEXT = re.sub(r"(?<!;)\n\s*", "", step_bytes(MODEL).decode("ascii"))


def measured(text: str, folder: Path) -> Measured:
    path = folder / "model.step"
    path.write_text(text, encoding="ascii")
    return measure_step(path)


def same(asked: Measured, found: Measured) -> bool:
    """Equal rows within the kernel's digits, and every piece in its place."""
    pairs = list(zip(asked.components, found.components, strict=True))
    return displaced(asked, found) == {} and all(
        (a.kind, a.count) == (b.kind, b.count) and b.volume == pytest.approx(a.volume, rel=1e-9)
        for a, b in pairs
    )


def test_the_model_is_measured_as_its_pieces_are_set_out() -> None:
    pieces = [p for wall in sample().walls for p in wall.pieces if p.kind != "weep"]
    for row in ASKED.components:
        alike = [p for p in pieces if p.kind == row.kind]
        assert row.count == len(alike)
        assert row.volume == pytest.approx(sum(p.volume for p in alike), rel=1e-12)
    assert ASKED.pieces.keys() == {p.id for p in pieces}


def test_the_model_is_measured_where_its_pieces_stand() -> None:
    """A block 215 long at the start of course 2: its middle by hand, turned with its wall."""
    place = MODEL.walls[1].place
    x, y, z = Placement(1900.0, 0.0).then(place).point(0.0, 0.0, 225.0 + 10.0 + 107.5)
    turned = Placement(2000.0, 0.0, 0.0, 90.0).then(place).point(107.5, 50.0)
    assert ASKED.pieces["Ecke ½/r2/c02/001"] == pytest.approx((*turned[:2], z), abs=1e-9)
    assert (x, y) != pytest.approx(turned[:2])
    footing = next(row for row in ASKED.components if row.kind == "footing")
    assert footing.lower == pytest.approx((-100.0, -100.0, -150.0))


def test_a_file_reads_back_as_the_model(tmp_path: Path) -> None:
    found = measured(TEXT, tmp_path)
    assert same(ASKED, found)
    for a, b in zip(ASKED.components, found.components, strict=True):
        for corner in ("lower", "upper", "centre"):
            assert getattr(b, corner) == pytest.approx(getattr(a, corner), abs=1e-6)


def test_names_beyond_ascii_are_found_whole(tmp_path: Path) -> None:
    assert "Ecke ½/r2/c02/001" in measured(TEXT, tmp_path).pieces


def test_a_wall_far_away_reads_back_in_its_place(tmp_path: Path) -> None:
    """STEP has twelve digits: at half a kilometre still a millionth of a mm."""
    far = straight_wall(place=Placement(450_123.456, -350_000.125, 40_000.0, 211.3))
    model = model_of(replace(sample(), walls=(far,)))
    assert same(measure_model(model), measured(step_bytes(model).decode(), tmp_path))


def test_a_long_wall_reads_back_piece_by_piece(tmp_path: Path) -> None:
    model = model_of(long_wall(100))
    found = measured(step_bytes(model).decode(), tmp_path)
    assert same(measure_model(model), found)
    assert len(found.pieces) == model.count > 1300


def place_of(piece: str) -> str:
    """The entity in the file that says where a piece stands: its point's number."""
    (usage,) = re.findall(rf"#(\d+) = NEXT_ASSEMBLY_USAGE_OCCURRENCE\('\d+','{piece}'", TEXT)
    (shape,) = re.findall(rf"#(\d+) = PRODUCT_DEFINITION_SHAPE\([^#]*#{usage}\)", TEXT)
    (link,) = re.findall(rf"CONTEXT_DEPENDENT_SHAPE_REPRESENTATION\(#(\d+),#{shape}\)", TEXT)
    (change,) = re.findall(
        rf"#{link} = \(.*?REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION\(#(\d+)\)",
        TEXT,
        re.DOTALL,
    )
    (axes,) = re.findall(rf"#{change} = ITEM_DEFINED_TRANSFORMATION\([^#]*#\d+,#(\d+)\)", TEXT)
    (point,) = re.findall(rf"#{axes} = AXIS2_PLACEMENT_3D\('',#(\d+),", TEXT)
    return point


BLOCK = "kr.X2.00E4.X0.uter/r1/c02/003"
BLOCK_ID = "kräuter/r1/c02/003"


def move(text: str) -> str:
    point = place_of(BLOCK)
    return re.sub(rf"(#{point} = CARTESIAN_POINT\('',\()([\d.E+]+),", r"\g<1>675.5,", text)


def test_a_block_moved_half_a_millimetre_in_the_file_is_noticed(tmp_path: Path) -> None:
    tampered = move(TEXT)
    assert tampered != TEXT
    found = measured(tampered, tmp_path)
    assert displaced(ASKED, found) == {BLOCK_ID: "0.5 mm off its place"}
    assert found.volumes == pytest.approx(ASKED.volumes, rel=1e-9)


def test_a_piece_named_otherwise_in_the_file_is_noticed(tmp_path: Path) -> None:
    tampered = re.sub(rf"'{BLOCK}'", "'stray'", TEXT)
    found = displaced(ASKED, measured(tampered, tmp_path))
    assert found == {BLOCK_ID: "missing", "stray": "not asked for"}


def test_a_solid_changed_in_the_file_is_noticed(tmp_path: Path) -> None:
    """Every block made half a millimetre shorter: each corner at 440 goes to 439.5."""
    start = TEXT.index("PRODUCT('block 440x100x215'")
    end = TEXT.index("PRODUCT_DEFINITION_SHAPE", start)
    body = TEXT[start : TEXT.index("PRODUCT('", start + 10)].replace("(440.,", "(439.5,")
    tampered = TEXT[:start] + body + TEXT[start + len(body) - body.count("439.5") :]
    assert end > start
    found = measured(tampered, tmp_path)
    blocks = sum(p.prototype.name.startswith("block 440") for _, _, p in MODEL.placed())
    lost = ASKED.volumes["block"] - found.volumes["block"]
    assert lost == pytest.approx(blocks * 0.5 * 100 * 215, rel=1e-6)


def other_way_round(text: str) -> str:
    """Every relation between a part and its assembly written from the other end."""
    links = re.compile(
        r"(REPRESENTATION_RELATIONSHIP\(\s*'',\s*'',)(#\d+),(#\d+)(\) "
        r"REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION)"
    )
    text = links.sub(r"\1\3,\2\4", text)
    changes = re.compile(r"(ITEM_DEFINED_TRANSFORMATION\('','',)(#\d+),(#\d+)\)")
    return changes.sub(r"\1\3,\2)", text)


def test_relations_may_be_written_from_either_end(tmp_path: Path) -> None:
    turned = other_way_round(TEXT)
    assert turned != TEXT
    assert same(ASKED, measured(turned, tmp_path))


@pytest.mark.parametrize(
    "change", [str, move, other_way_round], ids=["as it is", "moved", "turned"]
)
def test_it_agrees_with_the_kernels_own_translation_of_the_assembly(
    change: Callable[[str], str], tmp_path: Path
) -> None:
    """The reader that takes the square of the time, on a file where that is little."""
    path = tmp_path / "model.step"
    path.write_text(change(TEXT), encoding="ascii")
    reader = STEPControl_Reader()
    reader.ReadFile(str(path))
    reader.TransferRoots()
    whole = reader.OneShape()
    explorer, masses = TopExp_Explorer(whole, TopAbs_SOLID), []
    while explorer.More():
        masses.append(mass_of(explorer.Current()))
        explorer.Next()
    found = measure_step(path)
    assert len(masses) == sum(row.count for row in found.components)
    assert sum(v for v, _ in masses) == pytest.approx(sum(found.volumes.values()), rel=1e-9)
    rounded = sorted(tuple(round(c, 3) for c in centre) for _, centre in masses)
    assert rounded == sorted(tuple(round(c, 3) for c in p) for p in found.pieces.values())
    box = Bnd_Box()
    BRepBndLib.AddOptimal_s(whole, box, False, False)
    lower = [min(row.lower[i] for row in found.components) for i in range(3)]
    upper = [max(row.upper[i] for row in found.components) for i in range(3)]
    assert box.Get() == pytest.approx((*lower, *upper), abs=1e-5)


REFUSED: dict[str, tuple[Callable[[str], str], str]] = {
    "another unit": (lambda t: t.replace(".MILLI.,.METRE.", ".CENTI.,.METRE."), "not in mm"),
    "two units": (lambda t: t.replace(".MILLI.,.METRE.", "$,.METRE.", 1), "not in mm"),
    "cut short": (lambda t: t[: len(t) // 2], "."),
    "no file at all": (lambda _: "a wall", "not a STEP file|no unit"),
    "nothing": (lambda _: "", "not a STEP file|no unit"),
    "a product of no kind": (lambda t: t.replace("'perp ", "'purp "), "no known kind"),
    "a place without a part": (
        lambda t: re.sub(r"#\d+ = CONTEXT_DEPENDENT_SHAPE_REPRESENTATION[^;]*;", "", t, count=1),
        "111 occurrences and 110 places",
    ),
    "relations turned, places not": (
        lambda t: re.sub(
            r"(SHAPE_DEFINITION_REPRESENTATION\(#\d+),#\d+\)", r"\1,#10)", t, count=4
        ),
        "not between",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("change", "message"), REFUSED.values(), ids=REFUSED.keys())
def test_a_file_that_does_not_hang_together_is_refused(
    change: Callable[[str], str], message: str, tmp_path: Path
) -> None:
    tampered = change(TEXT)
    assert tampered != TEXT
    with pytest.raises(OutputError, match=message):
        measured(tampered, tmp_path)


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="can be read"):
        measure_step(tmp_path / "nothing.step")


@pytest.mark.parametrize("shift", [0.5, -0.001])
def test_a_file_of_a_moved_piece_is_not_that_of_the_job(shift: float, tmp_path: Path) -> None:
    other = step_bytes(model_of(moved(sample(), BLOCK_ID, shift))).decode()
    assert list(displaced(ASKED, measured(other, tmp_path))) == [BLOCK_ID]


def test_a_file_without_a_piece_is_not_that_of_the_job(tmp_path: Path) -> None:
    other = step_bytes(model_of(without(sample(), BLOCK_ID))).decode()
    found = measured(other, tmp_path)
    assert displaced(ASKED, found) == {BLOCK_ID: "missing"}
    assert ASKED.volumes["block"] - found.volumes["block"] == pytest.approx(440 * 100 * 215)
