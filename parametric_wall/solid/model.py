"""The solid model of a job: one solid a distinct shape, and where each piece of it stands."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal
from zlib import crc32

from OCP.TopoDS import TopoDS_Solid

from parametric_wall.geometry import Bar, Placement, Shape
from parametric_wall.setting_out.model import VOIDS, Kind, Piece, SettingOut, WallSetOut
from parametric_wall.solid.colours import TINTS
from parametric_wall.solid.mesh import Mesh, mesh_of
from parametric_wall.solid.shapes import ShapeError, solid_of

Layer = Literal["footing", "course", "copings", "fill"]

LAYERS: dict[Kind, Layer] = {
    "footing": "footing",
    "block": "course",
    "bed": "course",
    "perp": "course",
    "filler": "course",
    "weep": "course",
    "coping bed": "copings",
    "coping joint": "copings",
    "coping": "copings",
    "drainage": "fill",
    "soil": "fill",
}
"""What each kind is laid with."""

NOTHING = "the model has no pieces: there is nothing to write"
"""What a writer says of a model without pieces."""


@dataclass(frozen=True, slots=True, eq=False)
class Prototype:
    """One distinct shape of one kind, made once however often it is laid.

    Attributes:
        name: kind and size, unique in the model, for instance ``block 440x100x215``.
        kind: what it is.
        shape: the numbers it was made from, mm.
        solid: the kernel's solid, in the shape's own axes, mm.
        mesh: the solid's triangles, in the same axes, mm.
    """

    name: str
    kind: Kind
    shape: Shape
    solid: TopoDS_Solid
    mesh: Mesh


@dataclass(frozen=True, slots=True, eq=False)
class Instance:
    """One piece of the wall.

    Attributes:
        id: the piece's stable id.
        prototype: its shape.
        at: where the shape's axes stand in the wall's axes, mm.
        tint: which of its kind's colours it has.
    """

    id: str
    prototype: Prototype
    at: Placement
    tint: int = 0


@dataclass(frozen=True, slots=True, eq=False)
class Group:
    """What is laid together: a footing, one course with its bed, the copings, the fill.

    Attributes:
        name: unique in the model, for instance ``herbs: course 1``.
        layer: the part after the wall's name: ``course 1``.
        pieces: everything of material in it, in laying order.
        voids: what is left open on purpose. It is in no file.
    """

    name: str
    layer: str
    pieces: tuple[Instance, ...]
    voids: tuple[Instance, ...]


@dataclass(frozen=True, slots=True, eq=False)
class WallModel:
    """One wall.

    Attributes:
        name: the wall's name.
        place: where the wall's axes stand on the site, mm.
        groups: from the footing upwards.
    """

    name: str
    place: Placement
    groups: tuple[Group, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Model:
    """A whole job.

    Attributes:
        name: the job file's own name.
        title: what the job is called.
        prototypes: every shape of material, in the order of first use.
        walls: in the order of the job file.
    """

    name: str
    title: str
    prototypes: tuple[Prototype, ...]
    walls: tuple[WallModel, ...]

    def placed(self) -> Iterator[tuple[WallModel, Group, Instance]]:
        """Every piece of material with its wall and its group."""
        for wall in self.walls:
            for group in wall.groups:
                for instance in group.pieces:
                    yield wall, group, instance

    @property
    def count(self) -> int:
        """How many pieces of material there are."""
        return sum(len(group.pieces) for wall in self.walls for group in wall.groups)


def model_of(setting_out: SettingOut) -> Model:
    """Make the solid model of a job.

    Args:
        setting_out: every piece as plain data, mm.

    Raises:
        ShapeError: a piece has no sound solid; the message names the piece.
        ValueError: two pieces have one id.
    """
    pieces = [piece for wall in setting_out.walls for piece in wall.pieces]
    _check_ids(pieces)
    prototypes = _prototypes(pieces)
    return Model(
        name=setting_out.name,
        title=setting_out.title,
        prototypes=tuple(p for p in prototypes.values() if p.kind not in VOIDS),
        walls=tuple(_wall(wall, prototypes) for wall in setting_out.walls),
    )


def size_name(kind: Kind, shape: Shape) -> str:
    """A shape's name for people, for instance ``coping 600x220x65 mitred at the end``.

    Args:
        kind: what it is.
        shape: its shape; the sizes are over all, in mm, to a tenth.
    """
    along, across = zip(*shape.plan(), strict=True)
    sizes = (max(along) - min(along), max(across) - min(across), shape.height)
    name = f"{kind} {'x'.join(_number(size) for size in sizes)}"
    if isinstance(shape, Bar):
        mitres = {"start": shape.start.per_u != 0, "end": shape.end.per_u != 0}
        where = " and ".join(end for end, mitred in mitres.items() if mitred)
        name += f" mitred at the {where}" if where else ""
    return name


def _check_ids(pieces: list[Piece]) -> None:
    twice = [name for name, count in Counter(piece.id for piece in pieces).items() if count > 1]
    if twice:
        raise ValueError(f"pieces with one id: {', '.join(twice)}")


def _prototypes(pieces: list[Piece]) -> dict[tuple[Kind, Shape], Prototype]:
    made: dict[tuple[Kind, Shape], Prototype] = {}
    names: Counter[str] = Counter()
    for piece in pieces:
        key = (piece.kind, piece.shape)
        if key in made:
            continue
        name = size_name(*key)
        names[name] += 1
        if names[name] > 1:
            name += f" ({names[name]})"
        try:
            solid = solid_of(piece.shape)
        except ShapeError as error:
            raise ShapeError(f"{piece.id}: {error}") from error
        made[key] = Prototype(name, piece.kind, piece.shape, solid, mesh_of(solid))
    return made


def _wall(wall: WallSetOut, prototypes: dict[tuple[Kind, Shape], Prototype]) -> WallModel:
    layers: dict[tuple[int, str], list[Piece]] = {}
    coping_courses = {piece.course for piece in wall.pieces if LAYERS[piece.kind] == "copings"}
    for piece in wall.pieces:
        layers.setdefault(_layer(piece, coping_courses), []).append(piece)
    groups = []
    for (_, layer), pieces in sorted(layers.items()):
        laid: dict[bool, list[Instance]] = {False: [], True: []}
        for piece in pieces:
            prototype = prototypes[piece.kind, piece.shape]
            instance = Instance(piece.id, prototype, piece.at, _tint(piece))
            laid[piece.kind in VOIDS].append(instance)
        groups.append(Group(f"{wall.name}: {layer}", layer, tuple(laid[False]), tuple(laid[True])))
    return WallModel(wall.name, wall.place, tuple(groups))


def _layer(piece: Piece, coping_courses: set[int]) -> tuple[int, str]:
    """A rank to sort by, from the ground up, and the layer's name.

    The filler of a movement joint goes on up through the copings.
    """
    layer = "copings" if piece.course in coping_courses else LAYERS[piece.kind]
    order = ("footing", "course", "copings", "fill").index(layer)
    if layer == "course":
        return order * 1_000_000 + piece.course, f"course {piece.course}"
    return order * 1_000_000, layer


def _tint(piece: Piece) -> int:
    """A colour of the piece's kind, the same in every process and every version of the job."""
    return crc32(piece.id.encode()) % len(TINTS[piece.kind])


def _number(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
