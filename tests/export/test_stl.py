"""STL: read back by trimesh and admesh, body by body."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import trimesh
from helpers_pieces import long_wall, sample, straight_wall
from validators import require, run

from parametric_wall.errors import OutputError
from parametric_wall.export.stl import origin_of, stl_bytes
from parametric_wall.geometry import Placement
from parametric_wall.setting_out.model import SettingOut, WallSetOut
from parametric_wall.solid.model import Model, model_of

pytestmark = pytest.mark.cad

MODEL = model_of(sample())


def write(model: Model, folder: Path) -> Path:
    path = folder / "model.stl"
    path.write_bytes(stl_bytes(model))
    return path


def facets(model: Model) -> int:
    return sum(len(piece.prototype.mesh.triangles) for _, _, piece in model.placed())


def test_it_is_binary_and_as_long_as_its_facets() -> None:
    data = stl_bytes(MODEL)
    assert not data.startswith(b"solid")
    assert len(data) == 84 + 50 * facets(MODEL)
    assert int.from_bytes(data[80:84], "little") == facets(MODEL)


def test_trimesh_finds_the_volume_and_the_size_in_mm(tmp_path: Path) -> None:
    mesh = trimesh.load_mesh(write(MODEL, tmp_path))
    volume = sum(piece.prototype.shape.volume for _, _, piece in MODEL.placed())
    assert mesh.volume == pytest.approx(volume, rel=1e-5)
    assert mesh.bounds[0] == pytest.approx([-100.0, -100.0, -150.0], abs=1e-3)
    corner = MODEL.walls[1].place.point(2100.0, -100.0)
    assert mesh.bounds[1][0] == pytest.approx(corner[0], abs=1e-3)


def test_every_body_is_closed_and_turned_outward() -> None:
    """Piece by piece: read together, bodies that touch share their edges."""
    rows = np.frombuffer(stl_bytes(MODEL), np.uint8, offset=84).reshape(-1, 50)
    numbers = rows[:, :48].copy().view("<f4").reshape(-1, 4, 3).astype(float)
    first, volumes = 0, []
    for count in _facet_counts(MODEL):
        corners = numbers[first : first + count, 1:].reshape(-1, 3)
        body = trimesh.Trimesh(corners, np.arange(3 * count).reshape(-1, 3), process=True)
        assert body.is_watertight
        assert body.is_winding_consistent
        np.testing.assert_allclose(body.face_normals, numbers[first : first + count, 0], atol=1e-4)
        volumes.append(body.volume)
        first += count
    assert first == len(rows)
    assert min(volumes) > 0


def _facet_counts(model: Model) -> list[int]:
    """Of every piece in the order of the file: wall by wall, shape by shape."""
    counts = []
    for wall in model.walls:
        pieces = [piece for group in wall.groups for piece in group.pieces]
        for name in dict.fromkeys(piece.prototype.name for piece in pieces):
            alike = [piece for piece in pieces if piece.prototype.name == name]
            counts += [len(piece.prototype.mesh.triangles) for piece in alike]
    return counts


def test_the_same_model_gives_the_same_bytes() -> None:
    assert stl_bytes(model_of(sample())) == stl_bytes(MODEL)


def test_near_the_origin_a_file_is_in_the_sites_axes() -> None:
    assert origin_of(MODEL) == (0.0, 0.0, 0.0)
    assert stl_bytes(MODEL).startswith(b"mm, z up, origin at 0 0 0 ")


def test_far_from_the_origin_it_is_moved_by_whole_metres_and_says_so(tmp_path: Path) -> None:
    far = Placement(450_250.0, -350_000.0, 40_100.0)
    model = model_of(SettingOut("far", "Far", (straight_wall(place=far),)))
    assert origin_of(model) == (450_000.0, -350_000.0, 40_000.0)
    path = write(model, tmp_path)
    assert path.read_bytes().startswith(b"mm, z up, origin at 450000 -350000 40000 ")
    mesh = trimesh.load_mesh(path)
    assert mesh.bounds[0] == pytest.approx([150.0, -100.0, -50.0], abs=1e-3)
    volume = sum(piece.prototype.shape.volume for _, _, piece in model.placed())
    assert mesh.volume == pytest.approx(volume, rel=1e-6)


def test_nothing_is_not_written() -> None:
    empty = SettingOut("job", "Job", (WallSetOut("w", Placement(), ()),))
    with pytest.raises(OutputError, match="no piece"):
        stl_bytes(model_of(empty))


def test_admesh_finds_a_body_a_piece_and_nothing_to_mend(tmp_path: Path) -> None:
    admesh = require("admesh")
    model = model_of(replace(long_wall(12), name="row"))
    heard = run(admesh, write(model, tmp_path))
    found = {
        key.strip(): float(value)
        for key, value in re.findall(r"([A-Z][a-z ]+)[:=] +(\d\S*)", heard)
    }
    assert found["Number of parts"] == model.count
    assert found["Number of facets"] == facets(model)
    for fault in ("Degenerate facets", "Edges fixed", "Facets removed", "Backwards edges"):
        assert found[fault] == 0
    volume = sum(piece.prototype.shape.volume for _, _, piece in model.placed())
    assert found["Volume"] == pytest.approx(volume, rel=1e-4)
