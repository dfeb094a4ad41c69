"""Proof that no two pieces take the same room.

Within a layer, the volume of all pieces joined is held against the sum of their volumes.
Between layers and between walls, pieces whose boxes meet are cut with one another.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import manifold3d
import numpy as np
from numpy.typing import NDArray

from parametric_wall.geometry import TOLERANCE
from parametric_wall.solid.model import Model
from parametric_wall.solid.placing import Floats, matrices, place_points
from parametric_wall.verify.joined import Layer, bodies_of, join

Pairs = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class LayerVolume:
    """One layer, added up and joined.

    Attributes:
        wall: the wall's name.
        layer: the layer's.
        pieces: how many.
        total: the sum of their volumes, mm3.
        union: the volume of all of them joined, mm3.
    """

    wall: str
    layer: str
    pieces: int
    total: float
    union: float

    @property
    def overlap(self) -> float:
        """mm3 that more than one piece takes."""
        return self.total - self.union


@dataclass(frozen=True, slots=True)
class Clash:
    """Two pieces in one place.

    Attributes:
        one: a piece's id.
        other: another's.
        volume: mm3 of both.
    """

    one: str
    other: str
    volume: float


@dataclass(frozen=True, slots=True)
class OverlapResult:
    """What was found.

    Attributes:
        layers: a row a layer and wall.
        clashes: every two pieces that overlap by more than the tolerance, biggest first.
    """

    layers: tuple[LayerVolume, ...]
    clashes: tuple[Clash, ...]

    @property
    def worst(self) -> float:
        """mm3: the largest overlap of a layer, or of two pieces."""
        rows = [abs(row.overlap) for row in self.layers]
        return max([*rows, *(clash.volume for clash in self.clashes)], default=0.0)

    @property
    def agrees(self) -> bool:
        """Whether no two pieces overlap."""
        return self.worst <= TOLERANCE.overlap_mm3


@dataclass(frozen=True, slots=True, eq=False)
class _Placed:
    """Every piece of a model in one order, voids included."""

    ids: list[str]
    shapes: list[str]
    walls: NDArray[np.int64]
    layers: NDArray[np.int64]
    in_wall: Floats
    """(n, 4, 4), in the axes of the piece's wall."""
    on_site: Floats


def overlap(model: Model, joined: tuple[Layer, ...] | None = None) -> OverlapResult:
    """Look for pieces that overlap, in every layer, between layers and between walls.

    Args:
        model: the solid model, mm.
        joined: its layers, where they have been joined already.
    """
    joined = join(model) if joined is None else joined
    rows = tuple(
        LayerVolume(layer.wall, layer.layer, layer.pieces, layer.total, layer.union.volume())
        for layer in joined
    )
    bodies = bodies_of(model)
    everything = _placed(model)
    faulty = [i for i, row in enumerate(rows) if abs(row.overlap) > TOLERANCE.overlap_mm3]
    pairs = _suspects(everything, bodies, model, faulty)
    return OverlapResult(rows, tuple(_clashes(everything, bodies, pairs)))


def _placed(model: Model) -> _Placed:
    ids, shapes, walls, layers = [], [], [], []
    in_wall, on_site, layer = [np.empty((0, 4, 4))], [np.empty((0, 4, 4))], 0
    for number, wall in enumerate(model.walls):
        for group in wall.groups:
            pieces = (*group.pieces, *group.voids)
            ids += [piece.id for piece in pieces]
            shapes += [piece.prototype.name for piece in pieces]
            walls += [number] * len(pieces)
            layers += [layer] * len(pieces)
            in_wall.append(matrices(piece.at for piece in pieces))
            on_site.append(matrices([wall.place])[0] @ in_wall[-1])
            layer += 1
    return _Placed(
        ids,
        shapes,
        np.array(walls, dtype=np.int64),
        np.array(layers, dtype=np.int64),
        np.concatenate(in_wall),
        np.concatenate(on_site),
    )


def _suspects(
    everything: _Placed,
    bodies: dict[str, manifold3d.Manifold],
    model: Model,
    faulty: list[int],
) -> Pairs:
    """Rows of two pieces whose boxes meet and that no joined layer has cleared."""
    found = []
    for number in range(len(model.walls)):
        of_wall = np.flatnonzero(everything.walls == number)
        lower, upper = _boxes(everything, bodies, everything.in_wall, of_wall)
        pairs = of_wall[sweep(lower, upper)]
        one, other = everything.layers[pairs].T
        found.append(pairs[(one != other) | np.isin(one, faulty)])
    if len(model.walls) > 1:
        every = np.arange(len(everything.ids))
        pairs = sweep(*_boxes(everything, bodies, everything.on_site, every))
        found.append(pairs[everything.walls[pairs[:, 0]] != everything.walls[pairs[:, 1]]])
    return np.concatenate(found) if found else np.empty((0, 2), np.int64)


def _boxes(
    everything: _Placed, bodies: dict[str, manifold3d.Manifold], motions: Floats, which: Pairs
) -> tuple[Floats, Floats]:
    """Lower and upper corners (n, 3) of the boxes about some pieces, mm."""
    lower, upper = np.empty((len(which), 3)), np.empty((len(which), 3))
    shapes = np.array([everything.shapes[i] for i in which])
    for shape in dict.fromkeys(shapes.tolist()):
        alike = shapes == shape
        corners = bodies[shape].to_mesh64().vert_properties[:, :3]
        points = place_points(motions[which[alike]], corners)
        lower[alike], upper[alike] = points.min(axis=1), points.max(axis=1)
    return lower, upper


def sweep(lower: Floats, upper: Floats, shrink: float = TOLERANCE.coincident) -> Pairs:
    """Pairs of boxes that share more than a face.

    The boxes are sorted along the axis they stretch furthest on, and each is held only
    against those that begin before it ends.

    Args:
        lower: (n, 3), mm.
        upper: (n, 3), mm.
        shrink: mm by which each box is made smaller on every side.

    Returns:
        (k, 2) rows of `lower`, each pair once.
    """
    if len(lower) == 0:
        return np.empty((0, 2), np.int64)
    axis = int(np.argmax(upper.max(axis=0) - lower.min(axis=0)))
    order = np.argsort(lower[:, axis], kind="stable")
    low, high = lower[order] + shrink, upper[order] - shrink
    ends = np.searchsorted(low[:, axis], high[:, axis], side="left")
    counts = np.maximum(ends - np.arange(len(order)) - 1, 0)
    first = np.repeat(np.arange(len(order)), counts)
    second = np.arange(len(first)) - np.repeat(np.cumsum(counts) - counts, counts) + first + 1
    meet = np.ones(len(first), dtype=bool)
    for other in {0, 1, 2} - {axis}:
        meet &= low[first, other] < high[second, other]
        meet &= low[second, other] < high[first, other]
    pairs: Pairs = order[np.column_stack((first[meet], second[meet]))]
    return pairs


def _clashes(
    everything: _Placed, bodies: dict[str, manifold3d.Manifold], pairs: Pairs
) -> Iterable[Clash]:
    found = []
    for one, other in pairs.tolist():
        common = _body(everything, bodies, one) ^ _body(everything, bodies, other)
        volume = common.volume()
        if volume > TOLERANCE.overlap_mm3:
            found.append(Clash(everything.ids[one], everything.ids[other], volume))
    return sorted(found, key=lambda clash: (-clash.volume, clash.one, clash.other))


def _body(
    everything: _Placed, bodies: dict[str, manifold3d.Manifold], index: int
) -> manifold3d.Manifold:
    return bodies[everything.shapes[index]].transform(everything.on_site[index, :3])
