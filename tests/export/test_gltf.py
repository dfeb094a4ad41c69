"""glTF: in metres, y up, named, and read by three programs of other people."""

from __future__ import annotations

import json
import struct
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh
from helpers_pieces import long_wall, sample
from validators import gltf_report, require, run

from parametric_wall.errors import OutputError
from parametric_wall.export import gltf
from parametric_wall.export.gltf import gltf_bytes, linear
from parametric_wall.geometry import Placement
from parametric_wall.setting_out.model import SettingOut, WallSetOut
from parametric_wall.solid.model import Model, model_of

pytestmark = pytest.mark.cad

MODEL = model_of(sample())


def description(data: bytes) -> dict[str, Any]:
    """The file's JSON; checks the container on the way."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    found: dict[str, Any] = json.loads(data[20 : 20 + size])
    return found


FILE = description(gltf_bytes(MODEL))


@pytest.fixture(params=["a node a piece", "merged"])
def data(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> bytes:
    """The sample as it is written when small, and as it would be when large."""
    if request.param == "merged":
        monkeypatch.setattr(gltf, "NODES_AT_MOST", 10)
    return gltf_bytes(MODEL)


@pytest.fixture
def path(data: bytes, tmp_path: Path) -> Path:
    file = tmp_path / "sample.glb"
    file.write_bytes(data)
    return file


def site_corners(model: Model) -> np.ndarray:
    """Every corner of every piece on the site, in mm, by the placements' own arithmetic."""
    return np.array(
        [
            wall.place.point(*piece.at.point(*vertex)[:2], piece.at.point(*vertex)[2])
            for wall, _, piece in model.placed()
            for vertex in piece.prototype.mesh.vertices.tolist()
        ]
    )


def expected_bounds(model: Model) -> np.ndarray:
    """In metres with y up: y of the site points away, and becomes minus z."""
    corners = site_corners(model) / 1000
    turned = np.column_stack((corners[:, 0], corners[:, 2], -corners[:, 1]))
    return np.array([turned.min(axis=0), turned.max(axis=0)])


def test_the_standards_validator_has_nothing_to_say(path: Path) -> None:
    issues = gltf_report(path)["issues"]
    assert issues["messages"] == []
    assert issues["numErrors"] == issues["numWarnings"] == 0


def test_trimesh_finds_it_in_metres_and_y_up(path: Path) -> None:
    scene = trimesh.load_scene(path)
    np.testing.assert_allclose(scene.bounds, expected_bounds(MODEL), atol=2e-6)
    # A wall of a few metres, and not of a few thousand.
    assert scene.bounds[1][0] - scene.bounds[0][0] == pytest.approx(7.837, abs=0.001)


def test_assimp_finds_it_in_metres(path: Path, tmp_path: Path) -> None:
    assimp = require("assimp")
    flat = tmp_path / "flat.stl"
    run(assimp, "export", path, flat, "-fstlb")
    mesh = trimesh.load_mesh(flat)
    np.testing.assert_allclose(mesh.bounds, expected_bounds(MODEL), atol=1e-5)
    volume = sum(piece.prototype.shape.volume for _, _, piece in MODEL.placed())
    assert mesh.volume * 1e9 == pytest.approx(volume, rel=1e-5)


def test_every_triangle_faces_outward_and_every_normal_stands_on_it(path: Path) -> None:
    for mesh in trimesh.load_scene(path, process=False).geometry.values():
        assert mesh.volume > 0
        stored = mesh.vertex_normals[mesh.faces]
        for corner in range(3):
            np.testing.assert_allclose(stored[:, corner], mesh.face_normals, atol=1e-3)


def test_every_body_is_closed(path: Path) -> None:
    for mesh in trimesh.load_scene(path, process=False).geometry.values():
        if mesh.metadata["kind"] in ("coping", "perp"):  # whose pieces never touch
            mesh.merge_vertices(merge_norm=True, merge_tex=True)
            assert mesh.is_watertight


def test_pieces_are_nodes_by_their_ids_in_their_groups() -> None:
    nodes = FILE["nodes"]
    (top,) = FILE["scenes"][0]["nodes"]
    assert nodes[top]["name"] == MODEL.title
    walls = [nodes[i] for i in nodes[top]["children"]]
    assert [wall["name"] for wall in walls] == [wall.name for wall in MODEL.walls]
    for wall, node in zip(MODEL.walls, walls, strict=True):
        groups = [nodes[i] for i in node["children"]]
        assert [group["name"] for group in groups] == [group.name for group in wall.groups]
        for group, laid in zip(wall.groups, groups, strict=True):
            names = [nodes[i]["name"] for i in laid["children"]]
            assert names == [piece.id for piece in group.pieces]


def test_a_shape_is_stored_once_and_a_mesh_once_a_tint() -> None:
    looks = {(p.prototype.name, p.tint) for _, _, p in MODEL.placed()}
    assert len(FILE["meshes"]) == len(looks)
    stored = {m["primitives"][0]["attributes"]["POSITION"] for m in FILE["meshes"]}
    assert len(stored) == len(MODEL.prototypes)


def test_vertices_stay_in_the_shapes_own_axes_in_metres() -> None:
    """The second wall stands six metres off; the longest shape, a footing, is 2.89 m."""
    positions = [a for a in FILE["accessors"] if "min" in a]
    assert max(max(map(abs, (*a["min"], *a["max"]))) for a in positions) == pytest.approx(2.89)


def test_materials_are_dull_and_of_the_kinds_colours() -> None:
    for material in FILE["materials"]:
        look = material["pbrMetallicRoughness"]
        assert look["metallicFactor"] == 0.0
        assert 0.8 <= look["roughnessFactor"] <= 1.0
    names = [material["name"] for material in FILE["materials"]]
    assert {"block", "block, tint 1", "perp", "footing"} <= set(names)
    assert len(names) == len(set(names))


def test_colours_are_in_proportion_to_light() -> None:
    """Half way up the sRGB scale is a good fifth of the light (IEC 61966-2-1)."""
    assert linear((0.5, 1.0, 0.735357)) == pytest.approx((0.214041, 1.0, 0.5), abs=1e-5)


def test_the_same_model_gives_the_same_bytes(data: bytes) -> None:
    assert gltf_bytes(model_of(sample())) == data


def test_a_large_model_is_merged_by_group_kind_and_tint(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(gltf, "NODES_AT_MOST", 10)
    file = description(gltf_bytes(MODEL))
    heaps = {(g.name, p.prototype.kind, p.tint) for _, g, p in MODEL.placed()}
    merged = [node for node in file["nodes"] if "mesh" in node]
    assert len(merged) == len(heaps)
    named = [piece for node in merged for piece in node["extras"]["pieces"].split("\n")]
    assert sorted(named) == sorted(piece.id for _, _, piece in MODEL.placed())


def test_a_long_wall_is_merged_in_stretches_that_keep_its_joints(tmp_path: Path) -> None:
    """3 600 pieces along 240 m: each perp still 10 mm within a thousandth of itself."""
    model = model_of(long_wall(530, 3))
    assert model.count > gltf.NODES_AT_MOST
    file = tmp_path / "long.glb"
    file.write_bytes(gltf_bytes(model))
    scene = trimesh.load_scene(file, process=False)
    assert len(scene.graph.nodes_geometry) < model.count / 5
    perps = [m for m in scene.geometry.values() if m.metadata["kind"] == "perp"]
    widths = []
    for mesh in perps:
        mesh.merge_vertices(merge_norm=True)
        widths += [body.extents[0] for body in mesh.split()]
    assert len(widths) == sum(1 for _, _, p in model.placed() if p.prototype.kind == "perp")
    np.testing.assert_allclose(widths, 0.010, rtol=1e-3)


def test_nothing_is_not_written() -> None:
    empty = SettingOut("job", "Job", (WallSetOut("w", Placement(), ()),))
    with pytest.raises(OutputError, match="no piece"):
        gltf_bytes(model_of(empty))


def test_a_wall_without_pieces_is_left_out() -> None:
    laid = sample()
    more = replace(laid, walls=(*laid.walls, WallSetOut("nothing", Placement(), ())))
    assert gltf_bytes(model_of(more)) == gltf_bytes(MODEL)


@pytest.mark.parametrize("heading", [0.0, 12.5, 90.0, 179.999, 180.0, 200.0, 270.0, 359.5])
def test_a_turned_wall_stands_where_it_should(heading: float, tmp_path: Path) -> None:
    laid = sample()
    turned = replace(laid.walls[1], place=Placement(-3000.0, 1000.0, 50.0, heading))
    model = model_of(replace(laid, walls=(turned,)))
    file = tmp_path / "turned.glb"
    file.write_bytes(gltf_bytes(model))
    bounds = trimesh.load_scene(file).bounds
    np.testing.assert_allclose(bounds, expected_bounds(model), atol=2e-6)
