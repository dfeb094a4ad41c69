"""Faces found without a kernel close around the volume that the shape has.

By the divergence theorem a closed body's volume is the sum over its faces of the cones from
the origin; an edge of a closed body is walked once each way.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from typing import Any

import pytest
from helpers_page import ROOT
from hypothesis import given, settings
from strategies import jobs, laid_out

from parametric_wall import load, set_out
from parametric_wall.export.faces import Faces, faces_of
from parametric_wall.geometry import Shape, Slab

NAMES = ["herb-planter", "corner-seat", "terrace-nook", "bin-store", "orchard-wall"]


def volume(body: Faces) -> float:
    total = 0.0
    for ring in (ring for face in body.faces for ring in face):
        (ox, oy, oz), *rest = (body.points[i] for i in ring)
        for (ax, ay, az), (bx, by, bz) in pairwise(rest):
            total += ox * (ay * bz - az * by) - oy * (ax * bz - az * bx) + oz * (ax * by - ay * bx)
    return total / 6


def edges(body: Faces) -> Counter[tuple[int, int]]:
    return Counter(
        edge for face in body.faces for ring in face for edge in pairwise((*ring, ring[0]))
    )


def assert_sound(shape: Shape) -> None:
    body = faces_of(shape)
    found = edges(body)
    assert set(found.values()) == {1}
    assert all((b, a) in found for a, b in found)
    assert volume(body) == pytest.approx(shape.volume, rel=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_every_shape_of_an_example(name: str) -> None:
    laid = set_out(load(ROOT / "examples" / f"{name}.toml"))
    shapes = {piece.shape for wall in laid.walls for piece in wall.pieces}
    assert len(shapes) > 5
    for shape in shapes:
        assert_sound(shape)


def test_a_slab_with_a_hole_whichever_way_it_runs() -> None:
    outer = ((0.0, 0.0), (400.0, 0.0), (400.0, 300.0), (0.0, 300.0))
    hole = ((100.0, 100.0), (200.0, 100.0), (200.0, 200.0), (100.0, 200.0))
    for ring in (hole, hole[::-1]):
        assert_sound(Slab(outer, (ring,), 150.0))


@settings(deadline=None)
@given(jobs())
def test_every_shape_of_any_job(table: dict[str, Any]) -> None:
    _, laid = laid_out(table)
    for wall in laid.walls:
        for shape in {piece.shape for piece in wall.pieces}:
            assert_sound(shape)
