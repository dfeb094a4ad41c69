"""Every layer of a model joined into one body, from the prototypes' own triangles."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import manifold3d
import numpy as np

from parametric_wall.errors import OutputError
from parametric_wall.geometry import Placement, Shape
from parametric_wall.solid.mesh import Mesh, mesh_of
from parametric_wall.solid.model import Instance, Model
from parametric_wall.solid.placing import matrices
from parametric_wall.solid.shapes import solid_of

ALIKE_DIGITS = 9
"""Decimals of a mm to which two layers are laid alike: a thousandth of coincident."""


@dataclass(frozen=True, slots=True, eq=False)
class Layer:
    """One layer of one wall.

    Attributes:
        wall: the wall's name.
        layer: the layer's, for instance ``course 1``.
        pieces: how many, those left open included.
        total: the sum of their volumes, mm3.
        union: all of them as one body, in the wall's axes, mm.
    """

    wall: str
    layer: str
    pieces: int
    total: float
    union: manifold3d.Manifold


def body_of(mesh: Mesh) -> manifold3d.Manifold:
    """A mesh as a body that can be joined and cut, in double precision, mm.

    Args:
        mesh: a closed mesh, mm.

    Raises:
        OutputError: the mesh is not closed.
    """
    body = manifold3d.Manifold(
        manifold3d.Mesh64(
            vert_properties=np.ascontiguousarray(mesh.vertices),
            tri_verts=mesh.triangles.astype(np.uint64),
        )
    )
    if body.status() != manifold3d.Error.NoError:
        raise OutputError(f"a mesh that is no body: {body.status().name}")
    return body


def bodies_of(model: Model) -> dict[str, manifold3d.Manifold]:
    """The body of every shape, those of openings included, by the prototype's name."""
    found: dict[str, manifold3d.Manifold] = {}
    for wall in model.walls:
        for group in wall.groups:
            for piece in (*group.pieces, *group.voids):
                if piece.prototype.name not in found:
                    found[piece.prototype.name] = body_of(piece.prototype.mesh)
    return found


def placed(body: manifold3d.Manifold, place: Placement) -> manifold3d.Manifold:
    """A body where a placement puts it."""
    return body.transform(matrices([place])[0, :3])


def union(bodies: Iterable[manifold3d.Manifold]) -> manifold3d.Manifold:
    """All bodies as one."""
    return manifold3d.Manifold.batch_boolean(list(bodies), manifold3d.OpType.Add)


def shape_body(shape: Shape) -> manifold3d.Manifold:
    """The body of a shape, in its own axes, mm."""
    return body_of(mesh_of(solid_of(shape)))


def join(model: Model) -> tuple[Layer, ...]:
    """Join every layer of every wall. A course laid like one below it is joined once.

    Args:
        model: the solid model, mm.
    """
    bodies = bodies_of(model)
    joined: dict[tuple[object, ...], manifold3d.Manifold] = {}
    layers = []
    for wall in model.walls:
        for group in wall.groups:
            pieces = (*group.pieces, *group.voids)
            level = min(piece.at.z for piece in pieces)
            key = _key(pieces, level)
            if key not in joined:
                motions = matrices(piece.at for piece in pieces)
                motions[:, 2, 3] -= level
                joined[key] = union(
                    bodies[piece.prototype.name].transform(motion[:3])
                    for piece, motion in zip(pieces, motions, strict=True)
                )
            total = sum(bodies[piece.prototype.name].volume() for piece in pieces)
            whole = joined[key].translate((0.0, 0.0, level))
            layers.append(Layer(wall.name, group.layer, len(pieces), total, whole))
    return tuple(layers)


def _key(pieces: tuple[Instance, ...], level: float) -> tuple[object, ...]:
    """What makes two layers one body at two heights."""
    return tuple(
        (
            piece.prototype.name,
            round(piece.at.x, ALIKE_DIGITS),
            round(piece.at.y, ALIKE_DIGITS),
            round(piece.at.z - level, ALIKE_DIGITS),
            piece.at.heading_deg,
        )
        for piece in pieces
    )
