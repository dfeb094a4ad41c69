"""What a measurement gives, whatever was measured: a row a kind, and where each piece is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import dist
from typing import get_args

import numpy as np

from parametric_wall.geometry import TOLERANCE, Point3
from parametric_wall.setting_out.model import Kind
from parametric_wall.solid.placing import Floats, place_points

KINDS: tuple[Kind, ...] = get_args(Kind)


@dataclass(frozen=True, slots=True)
class Component:
    """All pieces of one kind, measured together.

    Attributes:
        kind: what they are.
        count: how many pieces.
        volume: mm3.
        lower: the lower corner of the box about them, in the site's axes, mm.
        upper: its upper corner.
        centre: their centre of gravity, in the site's axes, mm.
    """

    kind: Kind
    count: int
    volume: float
    lower: Point3
    upper: Point3
    centre: Point3


@dataclass(frozen=True, slots=True)
class Measured:
    """A whole model, or a whole file.

    Attributes:
        components: a row a kind, in the order of `KINDS`.
        pieces: the centre of gravity of every piece by its id, in the site's axes, mm.
    """

    components: tuple[Component, ...]
    pieces: dict[str, Point3]

    @property
    def volumes(self) -> dict[Kind, float]:
        """mm3 by kind."""
        return {component.kind: component.volume for component in self.components}


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """One solid, and every place where it stands.

    Attributes:
        kind: what it is.
        volume: mm3.
        centre: its centre of gravity in its own axes, mm.
        corners: (k, 3), its corners in its own axes, mm.
        ids: the pieces.
        motions: (n, 4, 4), from its own axes to the site's, one an id.
        merged: pieces that stand in these places as one body with another.
    """

    kind: Kind
    volume: float
    centre: Point3
    corners: Floats
    ids: list[str]
    motions: Floats
    merged: int = 0


def gather(laid: Iterable[Laid]) -> Measured:
    """Add up solids by kind.

    Args:
        laid: each distinct solid with its places.
    """
    by_kind: dict[Kind, list[Laid]] = {}
    pieces: dict[str, Point3] = {}
    for item in laid:
        by_kind.setdefault(item.kind, []).append(item)
        centres = place_points(item.motions, np.array([item.centre]))[:, 0]
        pieces.update(zip(item.ids, map(tuple, centres.tolist()), strict=True))
    rows = [_component(kind, by_kind[kind]) for kind in KINDS if kind in by_kind]
    return Measured(tuple(rows), pieces)


def displaced(
    asked: Measured,
    found: Measured,
    tolerance: float = 2 * TOLERANCE.coincident,
    shifts: Mapping[str, float] | None = None,
) -> dict[str, str]:
    """Pieces that are not where they ought to be.

    Args:
        asked: the model.
        found: what was read back.
        tolerance: how far a centre of gravity may lie off, mm. Two roundings of a
            coincident point by default.
        shifts: how far each piece's may lie off beyond that, by its id, mm.

    Returns:
        What is wrong with each piece, by its id; empty when all stand where they should.
    """
    wrong = dict.fromkeys(asked.pieces.keys() - found.pieces.keys(), "missing")
    wrong |= dict.fromkeys(found.pieces.keys() - asked.pieces.keys(), "not asked for")
    for name in asked.pieces.keys() & found.pieces.keys():
        off = dist(asked.pieces[name], found.pieces[name])
        if off > tolerance + (shifts or {}).get(name, 0.0):
            wrong[name] = f"{off:.6g} mm off its place"
    return dict(sorted(wrong.items()))


def _component(kind: Kind, laid: list[Laid]) -> Component:
    count, volume, moment = 0, 0.0, np.zeros(3)
    lower, upper = np.full(3, np.inf), np.full(3, -np.inf)
    for item in laid:
        corners = place_points(item.motions, item.corners).reshape(-1, 3)
        lower = np.minimum(lower, corners.min(axis=0))
        upper = np.maximum(upper, corners.max(axis=0))
        centres = place_points(item.motions, np.array([item.centre]))[:, 0]
        count += len(item.ids) + item.merged
        volume += item.volume * len(item.ids)
        moment += item.volume * centres.sum(axis=0)
    return Component(kind, count, volume, _point(lower), _point(upper), _point(moment / volume))


def _point(values: Floats) -> Point3:
    x, y, z = values.tolist()
    return x, y, z
