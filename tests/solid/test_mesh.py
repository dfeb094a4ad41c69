"""Triangles: closed, turned outward, and of the solid's own volume."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest
from helpers_pieces import COPING_AREA, COPING_SECTION, sample
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
from OCP.TopoDS import TopoDS

from parametric_wall.geometry import Bar, End, block
from parametric_wall.solid.mesh import Mesh, flat, mesh_of
from parametric_wall.solid.model import Prototype, model_of
from parametric_wall.solid.shapes import solid_of

pytestmark = pytest.mark.cad

PROTOTYPES = {p.name: p for p in model_of(sample()).prototypes}


def mesh(shape: Bar) -> Mesh:
    return mesh_of(solid_of(shape))


def test_a_block_is_eight_corners_and_twelve_triangles() -> None:
    found = mesh(block(440.0, 100.0, 215.0))
    assert found.vertices.shape == (8, 3)
    assert found.triangles.shape == (12, 3)
    assert found.volume == pytest.approx(9_460_000, rel=1e-14)
    assert found.area == pytest.approx(2 * (440 * 100 + 440 * 215 + 100 * 215), rel=1e-14)


def test_a_grooved_coping_keeps_its_groove() -> None:
    found = mesh(Bar(COPING_SECTION, End(0.0), End(600.0)))
    assert found.vertices.shape == (16, 3)
    assert found.volume == pytest.approx(600 * COPING_AREA, rel=1e-13)


@pytest.mark.parametrize("prototype", PROTOTYPES.values(), ids=PROTOTYPES.keys())
def test_every_edge_is_run_along_once_each_way(prototype: Prototype) -> None:
    edges = Counter[tuple[int, int]]()
    for a, b, c in prototype.mesh.triangles.tolist():
        edges.update(((a, b), (b, c), (c, a)))
    assert set(edges.values()) == {1}
    assert {(b, a) for a, b in edges} == set(edges)


@pytest.mark.parametrize("prototype", PROTOTYPES.values(), ids=PROTOTYPES.keys())
def test_a_mesh_has_its_shapes_volume(prototype: Prototype) -> None:
    assert prototype.mesh.volume == pytest.approx(prototype.shape.volume, rel=1e-12)


def test_corners_are_those_of_the_shape_to_the_last_digit() -> None:
    shape = Bar(COPING_SECTION, End(0.1, 1.0), End(600.3))
    start, end = shape.corners()
    assert {tuple(v) for v in mesh(shape).vertices.tolist()} == {*start, *end}


def test_flat_normals_stand_square_on_their_triangles() -> None:
    found = mesh(Bar(COPING_SECTION, End(0.0), End(600.0, 1.0)))
    positions, normals, triangles = flat(found)
    a, b, c = np.moveaxis(positions[triangles], 1, 0)
    cross = np.cross(b - a, c - a)
    cross /= np.linalg.norm(cross, axis=1)[:, None]
    for corner in range(3):
        np.testing.assert_allclose(normals[triangles[:, corner]], cross, atol=1e-8)
    assert len(positions) == 2 * 8 + 8 * 4  # two caps of eight corners, eight sides of four


def test_a_curved_solid_is_refused() -> None:
    cylinder = TopoDS.Solid_s(BRepPrimAPI_MakeCylinder(50.0, 100.0).Shape())
    with pytest.raises(ValueError, match="not plane"):
        mesh_of(cylinder)
