"""The assembly for a designer's script, looked at with CadQuery's own means."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from helpers_pieces import sample

from parametric_wall.solid.assembly import assembly_of
from parametric_wall.solid.colours import TINTS
from parametric_wall.solid.model import model_of

if TYPE_CHECKING:
    import cadquery

pytestmark = pytest.mark.cad

LAID = sample()
MODEL = model_of(LAID)


@pytest.fixture(scope="module")
def assembly() -> cadquery.Assembly:
    return assembly_of(MODEL)


def test_every_piece_is_found_under_its_id(assembly: cadquery.Assembly) -> None:
    parts = dict(assembly.traverse())
    for _, _, piece in MODEL.placed():
        part = parts[piece.id]
        assert part.obj.Volume() == pytest.approx(piece.prototype.shape.volume, rel=1e-9)


def test_it_has_the_models_groups(assembly: cadquery.Assembly) -> None:
    assert [wall.name for wall in assembly.children] == ["kräuter", "Ecke ½"]
    names = [group.name for group in assembly.children[1].children]
    assert names == [group.name for group in MODEL.walls[1].groups]


def test_the_whole_has_the_volume_and_the_place_of_the_pieces(assembly: cadquery.Assembly) -> None:
    compound = assembly.toCompound()
    volume = sum(piece.prototype.shape.volume for _, _, piece in MODEL.placed())
    assert compound.Volume() == pytest.approx(volume, rel=1e-9)
    box = compound.BoundingBox(tolerance=1e-6)
    corner = LAID.walls[1].place.point(2100.0, -100.0)
    assert box.xmin == pytest.approx(-100.0, abs=1e-3)
    assert box.xmax == pytest.approx(corner[0], abs=1e-3)
    assert box.zmin == pytest.approx(-150.0, abs=1e-3)


def test_pieces_share_their_shapes(assembly: cadquery.Assembly) -> None:
    shapes = {id(part.obj) for part in assembly.objects.values() if part.obj is not None}
    assert len(shapes) == len(MODEL.prototypes)


def test_pieces_have_their_colours(assembly: cadquery.Assembly) -> None:
    parts = dict(assembly.traverse())
    for _, _, piece in MODEL.placed():
        rgb = parts[piece.id].color.toTuple()[:3]
        assert rgb == pytest.approx(TINTS[piece.prototype.kind][piece.tint], abs=1e-6)
