"""Proof that the pieces fill the wall: nothing of its envelope is left, nothing stands out.

Sums cannot show it, since what is missing in one place can be too much in another.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from statistics import median

import manifold3d

from parametric_wall.geometry import TOLERANCE, Placement, Shape
from parametric_wall.solid.model import Model
from parametric_wall.verify.joined import Layer, join, placed, shape_body, union


@dataclass(frozen=True, slots=True)
class Envelope:
    """The room one layer of a wall has to fill, found without its pieces.

    Attributes:
        wall: the wall's name.
        layer: the layer's, for instance ``course 1``.
        parts: shapes that together are that room, each with where it stands in the
            wall's axes, mm. They may touch and may overlap.
    """

    wall: str
    layer: str
    parts: tuple[tuple[Shape, Placement], ...]


@dataclass(frozen=True, slots=True)
class LayerGap:
    """One layer held against its envelope.

    Attributes:
        wall: the wall's name.
        layer: the layer's.
        missing: mm3 of the envelope that no piece fills.
        outside: mm3 of pieces outside the envelope.
    """

    wall: str
    layer: str
    missing: float
    outside: float


@dataclass(frozen=True, slots=True)
class GapResult:
    """What was found: a row a layer, of the model or of the envelopes."""

    layers: tuple[LayerGap, ...]

    @property
    def worst(self) -> float:
        """mm3: the most that a layer misses or has too much."""
        return max((max(row.missing, row.outside) for row in self.layers), default=0.0)

    @property
    def agrees(self) -> bool:
        """Whether every layer fills its envelope, and no more."""
        return self.worst <= TOLERANCE.overlap_mm3


def gap(
    model: Model, envelopes: Iterable[Envelope], joined: tuple[Layer, ...] | None = None
) -> GapResult:
    """Hold every layer against the room it has to fill.

    A layer without an envelope is outside altogether, and an envelope without a layer is
    missing altogether: neither goes by unnoticed. Openings count as filled.

    Args:
        model: the solid model, mm.
        envelopes: one a wall and layer.
        joined: the model's layers, where they have been joined already.
    """
    joined = join(model) if joined is None else joined
    laid = {(layer.wall, layer.layer): layer.union for layer in joined}
    shapes: dict[Shape, manifold3d.Manifold] = {}
    asked = {(room.wall, room.layer): _room(room, shapes) for room in envelopes}
    rows = [
        _row(wall, layer, asked.get((wall, layer)), laid.get((wall, layer)))
        for wall, layer in dict.fromkeys((*laid, *asked))
    ]
    return GapResult(tuple(rows))


def _room(envelope: Envelope, shapes: dict[Shape, manifold3d.Manifold]) -> manifold3d.Manifold:
    """The parts as one body; `shapes` keeps what has been made, since courses are alike."""
    for shape, _ in envelope.parts:
        if shape not in shapes:
            shapes[shape] = shape_body(shape)
    return union(placed(shapes[shape], place) for shape, place in envelope.parts)


def _row(
    wall: str,
    layer: str,
    asked: manifold3d.Manifold | None,
    laid: manifold3d.Manifold | None,
) -> LayerGap:
    room = manifold3d.Manifold() if asked is None else asked
    body = manifold3d.Manifold() if laid is None else laid
    missing = _missing(room, body)
    # What stands out follows: it is missing, and by how much the body is the bigger.
    return LayerGap(wall, layer, missing, missing + body.volume() - room.volume())


def _missing(room: manifold3d.Manifold, body: manifold3d.Manifold) -> float:
    """Volume of a room that a body does not fill, mm3, found in three ways.

    Where the two share whole faces, rounding now and then loses a sliver of one boolean.
    Of three that must give the same, the middle one is taken: two agree when one is off.
    """
    bigger = float(body.volume() - room.volume())
    by_difference = float((room - body).volume())
    by_excess = float((body - room).volume()) - bigger
    if abs(by_difference - by_excess) <= TOLERANCE.overlap_mm3:
        return by_difference
    by_common = float(room.volume() - (room ^ body).volume())
    return median((by_difference, by_excess, by_common))
