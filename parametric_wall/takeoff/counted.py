"""Quantities from the placed pieces: what was set out, added up. Volumes in mm3."""

from __future__ import annotations

from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import VOIDS, Kind, WallSetOut


def counted(wall: WallSetOut) -> dict[Kind, float]:
    """Volume of every kind of piece, the open perps among them."""
    found: dict[Kind, float] = {}
    for piece in wall.pieces:
        found[piece.kind] = found.get(piece.kind, 0.0) + piece.volume
    return found


def voids(wall: WallSetOut) -> float:
    """Volume of the perps left open."""
    return sum(p.volume for p in wall.pieces if p.kind in VOIDS)


def trench(spec: WallSpec, wall: WallSetOut) -> float:
    """What is dug for the footing, up to ground level: the placed footing and what lies over it."""
    footing = spec.footing
    if footing is None:
        return 0.0
    cover = footing.below_ground_mm / footing.depth_mm
    return sum(p.volume * (1 + cover) for p in wall.pieces if p.kind == "footing")
