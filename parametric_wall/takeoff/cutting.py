"""Which pieces are cut from which unit, over the whole job, as few units as can be.

A mitred coping takes a coping of its own. Every other piece may share a unit with
others; one that shows its end at a stop end keeps a factory end.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from parametric_wall.geometry import Bar
from parametric_wall.job.cutting import Cutting
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import Piece, SettingOut, WallSetOut
from parametric_wall.setting_out.stock import pack


@dataclass(frozen=True, slots=True)
class CutUnit:
    """One unit that is cut, and what comes of it.

    Attributes:
        unit: what it is, for instance ``block 440x100x140``.
        number: counts the cut units of one kind, from 1.
        pieces: in their order along the unit; the first and the last have a factory end.
        offcut: what is left over, mm.
    """

    unit: str
    number: int
    pieces: tuple[Piece, ...]
    offcut: float


def unit_names(spec: JobSpec) -> dict[tuple[str, int], tuple[str, float]]:
    """Name and length of the unit of each (wall, course), by its work sizes in mm.

    The copings are the course after the last.
    """
    names: dict[tuple[str, int], tuple[str, float]] = {}
    for wall in spec.walls:
        for course, height in enumerate(wall.gauge.heights, 1):
            unit = f"block {wall.block.name_at(height)}"
            names[wall.name, course] = (unit, wall.block.length_mm)
        if wall.coping is not None:
            c = wall.coping.coping
            size = f"{c.length_mm:g}x{c.width_mm:g}x{c.thickness_mm:g}"
            names[wall.name, wall.gauge.courses + 1] = (f"coping {size}", c.length_mm)
    return names


def cut_units(spec: JobSpec, laid: SettingOut) -> tuple[CutUnit, ...]:
    """Every unit that is cut, over the whole job."""
    names = unit_names(spec)
    cuts: dict[tuple[str, float], list[tuple[Piece, bool]]] = defaultdict(list)
    for wall in laid.walls:
        shown = _shown(wall)
        for piece in wall.pieces:
            if piece.cut:
                cuts[names[piece.wall, piece.course]].append((piece, piece.id in shown))
    return tuple(
        unit
        for (name, length), pieces in cuts.items()
        for unit in _cut(name, length, pieces, spec.job.cutting)
    )


def _shown(wall: WallSetOut) -> set[str]:
    """Ids of the blocks and copings that stand at a stop end."""
    found = set()
    for laid in wall.bonded:
        for number, course in enumerate(laid.bond.courses, 1):
            ends = (1, len(course.pieces))
            for place, meets in zip(ends, course.span.meets, strict=True):
                if meets == "free":
                    found.add(f"{wall.name}/{laid.run.name}/c{number:02d}/{place:02d}")
    for coped in wall.coped:
        ends = (1, len(coped.lengths))
        for place, kind in zip(ends, (coped.run.start, coped.run.end), strict=True):
            if kind == "stop":
                found.add(f"{wall.name}/{coped.run.name}/cop/{place:02d}")
    return found


def _cut(
    name: str, length: float, pieces: list[tuple[Piece, bool]], cutting: Cutting
) -> Iterator[CutUnit]:
    """The units of one kind, those that give most pieces last."""
    alone = [(p,) for p, _ in pieces if mitred(p) or not cutting.reuse_offcuts]
    rest = [(p, end) for p, end in pieces if cutting.reuse_offcuts and not mitred(p)]
    packed = pack(
        [p.length for p, _ in rest],
        length,
        cutting.loss,
        ends=[end for _, end in rest],
        seconds=cutting.seconds,
    )
    groups = [*alone, *(tuple(rest[i][0] for i in unit) for unit in packed.units)]
    for number, group in enumerate(groups, 1):
        used = sum(p.length for p in group) + cutting.loss * (len(group) - 1)
        yield CutUnit(name, number, group, max(0.0, length - used))


def mitred(piece: Piece) -> bool:
    """Whether an end of a piece is mitred."""
    shape = piece.shape
    return isinstance(shape, Bar) and (shape.start.per_u != 0 or shape.end.per_u != 0)
