"""STEP: read back by the kernel's own assembly reader, by gmsh, and byte for byte."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from helpers_pieces import sample
from OCP.Interface import Interface_Static
from OCP.Quantity import Quantity_Color, Quantity_TOC_sRGB
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.STEPControl import STEPControl_Writer
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label, TDF_LabelSequence
from OCP.TDocStd import TDocStd_Document
from OCP.XCAFApp import XCAFApp_Application
from OCP.XCAFDoc import (
    XCAFDoc_ColorGen,
    XCAFDoc_ColorSurf,
    XCAFDoc_DocumentTool,
    XCAFDoc_ShapeTool,
)
from validators import require, run

from parametric_wall.errors import OutputError
from parametric_wall.export.step import part21, step_bytes
from parametric_wall.geometry import Placement
from parametric_wall.setting_out.model import SettingOut, WallSetOut
from parametric_wall.solid.colours import TINTS
from parametric_wall.solid.model import model_of
from parametric_wall.solid.shapes import volume_of

pytestmark = pytest.mark.cad

MODEL = model_of(sample())
BYTES = step_bytes(MODEL)
# An entity a line, however long: the standard lets a line end nearly anywhere.
TEXT = re.sub(r"(?<!;)\n\s*", "", BYTES.decode("ascii"))


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("step") / "sample.step"
    file.write_bytes(BYTES)
    return file


@pytest.fixture(scope="module")
def document(path: Path) -> TDocStd_Document:
    """The file as the kernel's assembly reader sees it."""
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    reader.SetColorMode(True)
    reader.ReadFile(str(path))
    found = TDocStd_Document(TCollection_ExtendedString("read"))
    XCAFApp_Application.GetApplication_s().InitDocument(found)
    assert reader.Transfer(found)
    return found


def name(label: TDF_Label) -> str:
    found = TDataStd_Name()
    assert label.FindAttribute(TDataStd_Name.GetID_s(), found)
    return str(found.Get().ToExtString())


def below(label: TDF_Label) -> list[tuple[TDF_Label, TDF_Label]]:
    """The occurrences in an assembly, each with its product."""
    components = TDF_LabelSequence()
    XCAFDoc_ShapeTool.GetComponents_s(label, components)
    found = []
    for component in components:
        product = TDF_Label()
        XCAFDoc_ShapeTool.GetReferredShape_s(component, product)
        found.append((component, product))
    return found


def root(document: TDocStd_Document) -> TDF_Label:
    free = TDF_LabelSequence()
    XCAFDoc_DocumentTool.ShapeTool_s(document.Main()).GetFreeShapes(free)
    assert free.Length() == 1
    return free.Value(1)


def test_walls_groups_and_pieces_have_their_names(document: TDocStd_Document) -> None:
    top = root(document)
    assert name(top) == MODEL.title
    for wall, (standing, wall_product) in zip(MODEL.walls, below(top), strict=True):
        assert (name(standing), name(wall_product)) == (wall.name, wall.name)
        for group, (laid, laid_product) in zip(wall.groups, below(wall_product), strict=True):
            assert name(laid) == name(laid_product) == group.name
            for piece, (part, product) in zip(group.pieces, below(laid_product), strict=True):
                assert (name(part), name(product)) == (piece.id, piece.prototype.name)


def test_shapes_are_shared() -> None:
    assert TEXT.count("MANIFOLD_SOLID_BREP(") == len(MODEL.prototypes)
    products = re.findall(r"PRODUCT\('([^']*)'", TEXT)
    assert Counter(products).most_common(1)[0][1] == 1
    assert {p.name for p in MODEL.prototypes} <= set(products)


def test_solids_have_their_kinds_colour(document: TDocStd_Document) -> None:
    tool = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    seen = set()
    for _, wall in below(root(document)):
        for _, group in below(wall):
            for _, product in below(group):
                colour = Quantity_Color()
                assert any(
                    tool.GetColor_s(product, kind, colour)
                    for kind in (XCAFDoc_ColorSurf, XCAFDoc_ColorGen)
                )
                kind = next(p.kind for p in MODEL.prototypes if p.name == name(product))
                red, green, blue = colour.Values(Quantity_TOC_sRGB)
                assert (red, green, blue) == pytest.approx(TINTS[kind][0], abs=1e-4)
                seen.add(kind)
    assert seen == {p.kind for p in MODEL.prototypes}


def test_it_is_ap214_in_millimetres() -> None:
    assert "FILE_SCHEMA(('AUTOMOTIVE_DESIGN" in TEXT
    assert "SI_UNIT(.MILLI.,.METRE.)" in TEXT
    assert "CONVERSION_BASED_UNIT" not in TEXT


def test_the_header_names_the_job_and_nobody_and_no_time() -> None:
    header = TEXT[: TEXT.index("DATA;")]
    assert "FILE_NAME('sample.step','1970-01-01T00:00:00',(''),('')," in header
    assert part21(MODEL.title) in header


def test_names_are_plain_ascii_and_come_back_whole(tmp_path: Path) -> None:
    title = "client's \\ bed: Süd 庭 🌱\ttab"
    data = step_bytes(replace(MODEL, title=title))
    data.decode("ascii")
    file = tmp_path / "named.step"
    file.write_bytes(data)
    reader = STEPCAFControl_Reader()
    reader.ReadFile(str(file))
    found = TDocStd_Document(TCollection_ExtendedString("read"))
    XCAFApp_Application.GetApplication_s().InitDocument(found)
    reader.Transfer(found)
    assert name(root(found)) == title


@pytest.mark.parametrize(
    ("text", "coded"),
    [
        ("plain 10x20", "plain 10x20"),
        ("ä", r"\X2\00E4\X0" + "\\"),
        ("½ 庭", r"\X2\00BD\X0\ \X2\5EAD\X0" + "\\"),
        ("🌱", r"\X4\0001F331\X0" + "\\"),
    ],
)
def test_characters_beyond_ascii_are_coded_as_the_standard_says(text: str, coded: str) -> None:
    """ISO 10303-21, 6.4.3.3: two octets a character, or four."""
    assert part21(text) == coded


def test_writing_twice_in_one_process_gives_the_same_bytes() -> None:
    assert step_bytes(model_of(sample())) == BYTES


HASHED = """
import hashlib
from helpers_pieces import sample
from parametric_wall.export.step import step_bytes
from parametric_wall.solid.model import model_of
{before}
print(hashlib.sha256(step_bytes(model_of(sample()))).hexdigest())
"""
OTHER_WORK = """
from helpers_pieces import long_wall
garbage = [bytearray(n * 997) for n in range(1, 400)]
step_bytes(model_of(long_wall(3)))
"""


def test_two_processes_write_the_same_bytes() -> None:
    """Whatever else they did before, and however they hash."""

    def hashed(seed: str, before: str) -> str:
        return subprocess.run(
            [sys.executable, "-c", HASHED.format(before=before)],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout

    first = hashed("1", "")
    assert len(first) == 65
    assert hashed("2", "") == first
    assert hashed("3", OTHER_WORK) == first


def test_the_kernel_says_nothing_and_keeps_its_settings(capfd: pytest.CaptureFixture[str]) -> None:
    STEPControl_Writer()
    names = ("write.step.schema", "write.step.unit", "xstep.cascade.unit")
    before = [Interface_Static.CVal_s(n) for n in names]
    step_bytes(MODEL)
    assert [Interface_Static.CVal_s(n) for n in names] == before
    heard = capfd.readouterr()
    assert heard.out + heard.err == ""


def test_nothing_is_not_written() -> None:
    empty = SettingOut("job", "Job", (WallSetOut("w", Placement(), ()),))
    with pytest.raises(OutputError, match="no piece"):
        step_bytes(model_of(empty))


def test_a_wall_without_pieces_is_left_out() -> None:
    laid = sample()
    more = replace(laid, walls=(*laid.walls, WallSetOut("nothing", Placement(), ())))
    assert step_bytes(model_of(more)) == BYTES


GMSH = """
SetFactory("OpenCASCADE");
v() = ShapeFromFile("{path}");
Printf("solids %g", #v());
total = 0;
For i In {{0:#v()-1}}
  total += Mass Volume{{v(i)}};
EndFor
Printf("mass %.15g", total);
"""


def test_gmsh_reads_every_solid_and_the_same_mass(path: Path, tmp_path: Path) -> None:
    gmsh = require("gmsh")
    script = tmp_path / "measure.geo"
    script.write_text(GMSH.format(path=path))
    heard = run(gmsh, "-", script)
    assert f"solids {MODEL.count}\n" in heard
    mass = re.search(r"mass ([\d.e+]+)", heard)
    asked = sum(volume_of(piece.prototype.solid) for _, _, piece in MODEL.placed())
    assert mass
    assert float(mass[1]) == pytest.approx(asked, rel=1e-9)
    assert "kräuter: course 1/kräuter/r1/c01/001/block 440x100x215" in heard
