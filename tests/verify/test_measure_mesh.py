"""Mesh files measured: in their own units, within the digits that 24 bits leave."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import trimesh
from helpers_pieces import long_wall, moved, sample, without
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric_wall.errors import OutputError
from parametric_wall.export import gltf
from parametric_wall.export.gltf import gltf_bytes
from parametric_wall.export.stl import stl_bytes
from parametric_wall.job.read import loads
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.solid.model import Model, model_of
from parametric_wall.verify.measure import measure_model
from parametric_wall.verify.measure_glb import GlbMeasured, measure_glb
from parametric_wall.verify.measure_stl import measure_stl
from parametric_wall.verify.measured import Measured, displaced
from parametric_wall.verify.rounding import rounding_length, rounding_volume

pytestmark = pytest.mark.cad

MODEL = model_of(sample())
ASKED = measure_model(MODEL)
BLOCK = "kräuter/r1/c02/003"


def stl(model: Model, folder: Path) -> Path:
    path = folder / "model.stl"
    path.write_bytes(stl_bytes(model))
    return path


def glb(model: Model, folder: Path) -> Path:
    path = folder / "model.glb"
    path.write_bytes(gltf_bytes(model))
    return path


def agrees(asked: Measured, found: GlbMeasured) -> bool:
    """Each component within what rounding can do to it, and no more."""
    return asked.volumes.keys() == found.measured.volumes.keys() and all(
        abs(found.measured.volumes[kind] - volume) <= found.rounding[kind]
        for kind, volume in asked.volumes.items()
    )


def test_stl_is_the_whole_volume_within_its_digits(tmp_path: Path) -> None:
    found = measure_stl(stl(MODEL, tmp_path))
    asked = sum(ASKED.volumes.values())
    assert abs(found.volume - asked) <= found.rounding
    assert found.rounding < 1e-5 * asked
    assert found.facets == sum(len(p.prototype.mesh.triangles) for _, _, p in MODEL.placed())


def test_stl_is_measured_as_trimesh_measures_it(tmp_path: Path) -> None:
    path = stl(MODEL, tmp_path)
    mesh, found = trimesh.load_mesh(path), measure_stl(path)
    assert found.volume == pytest.approx(mesh.volume, rel=1e-9)
    np.testing.assert_allclose([found.lower, found.upper], mesh.bounds, atol=1e-9)


@pytest.mark.parametrize(
    "damage",
    [
        lambda data: data[:-1],
        lambda data: data + b"\0" * 50,
        lambda data: data[:84],
        lambda _: b"",
        lambda _: b"solid wall\nendsolid wall\n",
        lambda data: data[:100] + np.float32(np.nan).tobytes() + data[104:],
    ],
)
def test_a_damaged_stl_is_refused(damage: object, tmp_path: Path) -> None:
    path = stl(MODEL, tmp_path)
    path.write_bytes(damage(path.read_bytes()))  # type: ignore[operator]
    with pytest.raises(OutputError):
        measure_stl(path)


@pytest.mark.parametrize("measure", [measure_stl, measure_glb])
def test_a_missing_file_is_refused(measure: object, tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="cannot be read"):
        measure(tmp_path / "nothing")  # type: ignore[operator]


def test_stl_with_a_facet_turned_or_missing_is_off_by_more_than_rounding(tmp_path: Path) -> None:
    path = stl(MODEL, tmp_path)
    whole = bytearray(path.read_bytes())
    first, second, third = (slice(84 + 12 * i, 96 + 12 * i) for i in (1, 2, 3))
    turned = bytearray(whole)
    turned[second], turned[third] = whole[third], whole[second]
    missing = whole[:80] + (len(whole) // 50 - 2).to_bytes(4, "little") + whole[134:]
    asked = sum(ASKED.volumes.values())
    assert whole[first]
    for data in (turned, missing):
        path.write_bytes(data)
        found = measure_stl(path)
        assert abs(found.volume - asked) > 100 * found.rounding


@pytest.mark.parametrize("nodes_at_most", [3000, 10])
def test_gltf_is_each_component_within_its_digits(
    nodes_at_most: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(gltf, "NODES_AT_MOST", nodes_at_most)
    found = measure_glb(glb(MODEL, tmp_path))
    assert agrees(ASKED, found)
    for a, b in zip(ASKED.components, found.measured.components, strict=True):
        assert (a.kind, a.count) == (b.kind, b.count)
        assert found.rounding[a.kind] < 1e-5 * a.volume
        assert b.centre == pytest.approx(a.centre, abs=0.01)
        assert b.lower == pytest.approx(a.lower, abs=0.01)


def test_gltf_bounds_are_the_files_own_in_metres(tmp_path: Path) -> None:
    path = glb(MODEL, tmp_path)
    found = measure_glb(path)
    bounds = trimesh.load_scene(path).bounds
    np.testing.assert_allclose([found.lower, found.upper], bounds, atol=1e-9)
    assert found.upper[0] - found.lower[0] == pytest.approx(7.837, abs=1e-3)
    assert found.upper[1] == pytest.approx(0.75, abs=1e-6)


def test_gltf_pieces_are_where_the_model_has_them(tmp_path: Path) -> None:
    found = measure_glb(glb(MODEL, tmp_path))
    assert found.displacement < 0.001
    assert displaced(ASKED, found.measured, 2 * found.displacement) == {}


@pytest.mark.parametrize("lengths", [(10_340, 3740), (9875, 4015), (13_130, 7205), (31_115, 905)])
def test_a_long_thin_footing_is_in_its_place_within_its_own_digits(
    tmp_path: Path, lengths: tuple[int, int]
) -> None:
    """Rounding a side of it adds more at one end than at the other, and moves its centre so."""
    spec = loads(
        'title = "L"\n[block]\nsize = "440x140x140"\n[[walls]]\nname = "w"\n'
        'height = { courses = 1 }\nplan = { shape = "legs", legs = [\n'
        f'{{ length_mm = {lengths[0]}, turn = "left" }}, {{ length_mm = {lengths[1]} }}] }}\n'
    )
    model = model_of(set_out(spec))
    found, asked = measure_glb(glb(model, tmp_path)), measure_model(model)
    assert displaced(asked, found.measured, 2 * found.displacement, found.shifts) == {}
    assert max(found.shifts.values()) < 0.05


def test_a_long_wall_that_is_merged_still_agrees(tmp_path: Path) -> None:
    model = model_of(long_wall(530, 3))
    assert model.count > gltf.NODES_AT_MOST
    found, asked = measure_glb(glb(model, tmp_path)), measure_model(model)
    assert agrees(asked, found)
    assert all(found.rounding[kind] < 2e-4 * volume for kind, volume in asked.volumes.items())
    assert sum(row.count for row in found.measured.components) == model.count


def test_a_file_in_millimetres_is_noticed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(gltf, "MM_PER_M", 1.0)
    found = measure_glb(glb(MODEL, tmp_path))
    assert not agrees(ASKED, found)
    assert found.upper[0] == pytest.approx(7737.3, abs=0.1)


def test_a_scale_in_a_node_is_noticed(tmp_path: Path) -> None:
    path = glb(MODEL, tmp_path)
    data = path.read_bytes()
    size = int.from_bytes(data[12:16], "little")
    text = data[20 : 20 + size].replace(
        b'"rotation":[-0.7', b'"scale":[1,1,1.001],"rotation":[-0.7'
    )
    text += b" " * (-len(text) % 4)
    body = len(text).to_bytes(4, "little") + b"JSON" + text + data[20 + size :]
    path.write_bytes(data[:8] + (12 + len(body)).to_bytes(4, "little") + body)
    found = measure_glb(path)
    assert not agrees(ASKED, found)
    assert found.measured.volumes["block"] == pytest.approx(
        1.001 * ASKED.volumes["block"], rel=1e-6
    )


@pytest.mark.parametrize(
    "change",
    [
        lambda job: moved(job, BLOCK, 0.5),
        lambda job: without(job, BLOCK),
        lambda job: without(job, "kräuter/r1/c02/003p"),
    ],
)
def test_a_file_of_another_job_is_noticed(change: object, tmp_path: Path) -> None:
    other: SettingOut = change(sample())  # type: ignore[operator]
    found = measure_glb(glb(model_of(other), tmp_path))
    assert len(displaced(ASKED, found.measured, 2 * found.displacement, found.shifts)) == 1


def test_a_mesh_of_no_kind_is_refused(tmp_path: Path) -> None:
    path = glb(MODEL, tmp_path)
    path.write_bytes(path.read_bytes().replace(b'{"kind":"perp"}', b'{"kind":"purp"}'))
    with pytest.raises(OutputError, match="no known kind"):
        measure_glb(path)


@pytest.mark.parametrize("data", [b"", b"glTF", b"a wall", b"glTF\2\0\0\0\x10\0\0\0\0\0\0\0"])
def test_what_is_no_gltf_is_refused(data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "model.glb"
    path.write_bytes(data)
    with pytest.raises(OutputError):
        measure_glb(path)


@settings(deadline=None)
@given(
    at=st.tuples(*[st.floats(-500, 500)] * 3),
    size=st.tuples(*[st.floats(0.01, 20)] * 3),
)
def test_rounding_never_changes_a_volume_by_more_than_is_said(
    at: tuple[float, float, float], size: tuple[float, float, float]
) -> None:
    box = trimesh.creation.box(size)
    corners = np.array(box.vertices[box.faces]) + at
    read = corners.astype(np.float32).astype(float)
    # The part of second order: what three rounded edges take from one another.
    step = rounding_length(float(np.abs(read).max()))
    second = 3 * step**2 * sum(size) * 4
    assert abs(volume(read - at) - np.prod(size)) <= rounding_volume(read) + second
    assert np.linalg.norm(read - corners, axis=2).max() <= step


def volume(corners: np.ndarray) -> float:
    a, b, c = np.moveaxis(corners, 1, 0)
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)
