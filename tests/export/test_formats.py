"""The table of formats: what it says of each is what the file holds."""

from __future__ import annotations

from pathlib import Path

import pytest
import trimesh
from helpers_pieces import sample
from OCP.Bnd import Bnd_Box
from OCP.BRepBndLib import BRepBndLib
from OCP.STEPControl import STEPControl_Reader

from parametric_wall.export.formats import FORMATS, Format
from parametric_wall.solid.model import model_of

pytestmark = pytest.mark.cad

MODEL = model_of(sample())
PER_UNIT = {"mm": 1.0, "m": 1000.0}
UP = {"y": 1, "z": 2}


def size(path: Path) -> list[float]:
    """Extents as the file has them, by a reader that knows nothing of this package."""
    if path.suffix != ".step":
        return [float(v) for v in trimesh.load_scene(path).extents]
    reader = STEPControl_Reader()
    reader.ReadFile(str(path))
    reader.TransferRoots()
    box = Bnd_Box()
    BRepBndLib.AddOptimal_s(reader.OneShape(), box, False, False)
    x0, y0, z0, x1, y1, z1 = box.Get()
    return [x1 - x0, y1 - y0, z1 - z0]


@pytest.mark.parametrize("row", FORMATS, ids=lambda row: row.suffix)
def test_a_file_has_the_unit_and_the_axes_of_its_row(row: Format, tmp_path: Path) -> None:
    path = tmp_path / f"model{row.suffix}"
    path.write_bytes(row.write(MODEL))
    found = [extent * PER_UNIT[row.unit] for extent in size(path)]
    assert found[UP[row.up]] == pytest.approx(900.0, abs=0.01)
    assert found[0] == pytest.approx(7837.316, abs=0.01)


def test_suffixes_are_told_apart() -> None:
    suffixes = [row.suffix for row in FORMATS]
    assert suffixes == [".step", ".stl", ".glb"]
