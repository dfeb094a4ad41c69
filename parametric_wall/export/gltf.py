"""glTF in one .glb file: metres, y up, one node a piece, shapes shared.

A shape's vertices stay in its own axes, where 24 bits are plenty; nodes place them. Past
some thousands of nodes a phone draws too slowly, and the pieces of one kind in one course
are merged, in stretches short enough that 24 bits still are.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from parametric_wall.errors import OutputError
from parametric_wall.export.glb import Glb
from parametric_wall.geometry import Placement, Point3, direction
from parametric_wall.setting_out.model import Kind
from parametric_wall.solid.colours import TINTS, Rgb
from parametric_wall.solid.mesh import Floats, Indices, flat
from parametric_wall.solid.model import NOTHING, Group, Instance, Model
from parametric_wall.solid.placing import matrices, place_points
from parametric_wall.units import MM_PER_M

NODES_AT_MOST = 3000
"""Pieces in a model whose pieces are still nodes of their own."""
STRETCH = 20_000.0
"""mm of wall merged into one mesh: a coordinate in it is good to 0.001 mm."""
Z_UP_TO_Y_UP = (-(0.5**0.5), 0.0, 0.0, 0.5**0.5)
"""A quarter turn about x, as a quaternion: glTF has y up, a wall has z up."""
ROUGHNESS = 0.95

Node = dict[str, Any]


def gltf_bytes(model: Model) -> bytes:
    """The model as a .glb file, in metres, y up.

    Args:
        model: the solid model, mm.

    Raises:
        OutputError: the model has no piece.
    """
    if not model.prototypes:
        raise OutputError(NOTHING)
    file = Glb()
    pieces = _Merged(file) if model.count > NODES_AT_MOST else _Single(file)
    walls = []
    for wall in model.walls:
        groups = [
            file.node({"name": group.name, "children": pieces.nodes(group)})
            for group in wall.groups
            if group.pieces
        ]
        if groups:
            walls.append(file.node({"name": wall.name, **_placed(wall.place), "children": groups}))
    root = {"name": model.title or model.name, "rotation": Z_UP_TO_Y_UP, "children": walls}
    return file.to_bytes(root)


class _Single:
    """One node a piece, and one mesh a shape and tint."""

    def __init__(self, file: Glb) -> None:
        self.file = file
        self.buffers: dict[str, dict[str, Any]] = {}
        self.meshes: dict[tuple[str, int], int] = {}
        self.materials = _Materials(file)

    def nodes(self, group: Group) -> list[int]:
        return [
            self.file.node({"name": piece.id, "mesh": self._mesh(piece), **_placed(piece.at)})
            for piece in group.pieces
        ]

    def _mesh(self, piece: Instance) -> int:
        prototype, key = piece.prototype, (piece.prototype.name, piece.tint)
        if key not in self.meshes:
            if prototype.name not in self.buffers:
                self.buffers[prototype.name] = _primitive(self.file, *flat(prototype.mesh))
            primitive = {
                **self.buffers[prototype.name],
                "material": self.materials.of(prototype.kind, piece.tint),
            }
            self.meshes[key] = self.file.mesh(prototype.name, primitive, prototype.kind)
        return self.meshes[key]


class _Merged:
    """One mesh a kind, tint and stretch of a group; a node each."""

    def __init__(self, file: Glb) -> None:
        self.file = file
        self.flats: dict[str, tuple[Floats, Floats, Indices]] = {}
        self.materials = _Materials(file)

    def nodes(self, group: Group) -> list[int]:
        heaps: dict[tuple[int, int, Kind, int], list[Instance]] = {}
        for piece in group.pieces:
            cell = (int(piece.at.x // STRETCH), int(piece.at.y // STRETCH))
            heaps.setdefault((*cell, piece.prototype.kind, piece.tint), []).append(piece)
        return [
            self._node(group.name, number, kind, tint, pieces)
            for number, ((_, _, kind, tint), pieces) in enumerate(heaps.items(), start=1)
        ]

    def _node(self, group: str, number: int, kind: Kind, tint: int, pieces: list[Instance]) -> int:
        at = pieces[0].at
        origin = (at.x, at.y, at.z)
        primitive = {
            **_primitive(self.file, *self._merge(pieces, origin)),
            "material": self.materials.of(kind, tint),
        }
        name = f"{group}, {kind} {number}"
        mesh = self.file.mesh(name, primitive, kind)
        node = {"name": name, "mesh": mesh, "translation": _metres(origin)}
        # One text, since some readers fail on a list here.
        ids = "\n".join(piece.id for piece in pieces)
        return self.file.node({**node, "extras": {"pieces": ids}})

    def _merge(self, pieces: list[Instance], origin: Point3) -> tuple[Floats, Floats, Indices]:
        by_name: dict[str, list[Instance]] = {}
        for piece in pieces:
            by_name.setdefault(piece.prototype.name, []).append(piece)
        positions, normals, triangles = [], [], []
        first = 0
        for name, alike in by_name.items():
            if name not in self.flats:
                self.flats[name] = flat(alike[0].prototype.mesh)
            points, directions, faces = self.flats[name]
            motions = matrices(piece.at for piece in alike)
            motions[:, :3, 3] -= origin
            turns = motions.copy()
            turns[:, :3, 3] = 0.0
            positions.append(place_points(motions, points).reshape(-1, 3))
            normals.append(place_points(turns, directions).reshape(-1, 3))
            starts = first + len(points) * np.arange(len(alike))
            triangles.append((faces + starts[:, None, None]).reshape(-1, 3).astype(np.int32))
            first += len(points) * len(alike)
        return np.concatenate(positions), np.concatenate(normals), np.concatenate(triangles)


class _Materials:
    """One material a kind and tint, made when first used."""

    def __init__(self, file: Glb) -> None:
        self.file = file
        self.made: dict[tuple[Kind, int], int] = {}

    def of(self, kind: Kind, tint: int) -> int:
        if (kind, tint) not in self.made:
            name = kind if tint == 0 else f"{kind}, tint {tint}"
            self.made[kind, tint] = self.file.material(name, linear(TINTS[kind][tint]), ROUGHNESS)
        return self.made[kind, tint]


def linear(rgb: Rgb) -> tuple[float, ...]:
    """An sRGB colour as glTF counts it, in proportion to light, 0 to 1.

    The curve of IEC 61966-2-1 above its short straight foot, which no colour here reaches.
    """
    return tuple(round(((value + 0.055) / 1.055) ** 2.4, 6) for value in rgb)


def _primitive(file: Glb, positions: Floats, normals: Floats, triangles: Indices) -> Node:
    return {
        "attributes": {
            "POSITION": file.vectors(positions / MM_PER_M, bounds=True),
            "NORMAL": file.vectors(normals),
        },
        "indices": file.indices(triangles),
    }


def _placed(place: Placement) -> Node:
    """A placement as a node's properties; what is nothing is left out."""
    node: Node = {}
    if place.x or place.y or place.z:
        node["translation"] = _metres((place.x, place.y, place.z))
    c, s = direction(place.heading_deg)
    if (c, s) != (1.0, 0.0):
        # The half angle, from the exact sine and cosine; positive, since -q turns as q does.
        half_c = ((1 + c) / 2) ** 0.5
        half_s = ((1 - c) / 2) ** 0.5
        node["rotation"] = (0.0, 0.0, half_s if s >= 0 else -half_s, half_c)
    return node


def _metres(point: Iterable[float]) -> tuple[float, ...]:
    return tuple(value / MM_PER_M for value in point)
