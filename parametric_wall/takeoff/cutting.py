"""Which pieces are cut from which unit.

Two pieces at most come from one unit, so that each keeps one factory end. For
at most two a unit, putting the longest with the shortest that is left needs the
fewest units.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from parametric_wall.geometry import TOLERANCE, Bar
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import Piece, SettingOut

ALLOWANCE_MM = 10.0
"""Lost between two pieces cut from one block with hammer and bolster (common practice)."""


@dataclass(frozen=True, slots=True)
class CutUnit:
    """One unit that is cut, and what comes of it.

    Attributes:
        unit: what it is, for instance ``block 440x100x140``.
        number: counts the cut units of one kind, from 1.
        pieces: one or two pieces, the longer first.
        offcut: what is left over, mm.
    """

    unit: str
    number: int
    pieces: tuple[Piece, ...]
    offcut: float


def unit_names(spec: JobSpec) -> dict[tuple[str, str], tuple[str, float]]:
    """Name and length of the unit of each (wall, kind), by its work sizes in mm."""
    names: dict[tuple[str, str], tuple[str, float]] = {}
    for wall in spec.walls:
        b = wall.block
        size = f"{b.length_mm:g}x{b.width_mm:g}x{b.height_mm:g}"
        names[wall.name, "block"] = (f"block {size}", b.length_mm)
        if wall.coping is not None:
            c = wall.coping.coping
            size = f"{c.length_mm:g}x{c.width_mm:g}x{c.thickness_mm:g}"
            names[wall.name, "coping"] = (f"coping {size}", c.length_mm)
    return names


def cut_units(spec: JobSpec, laid: SettingOut) -> tuple[CutUnit, ...]:
    """Every unit that is cut, over the whole job."""
    names = unit_names(spec)
    cuts: dict[tuple[str, float], list[Piece]] = defaultdict(list)
    for wall in laid.walls:
        for piece in wall.pieces:
            if piece.cut:
                cuts[names[piece.wall, piece.kind]].append(piece)
    return tuple(
        unit for (name, length), pieces in cuts.items() for unit in _cut(name, length, pieces)
    )


def _cut(name: str, length: float, pieces: list[Piece]) -> Iterator[CutUnit]:
    square = sorted((p for p in pieces if not _mitred(p)), key=lambda p: -p.length)
    groups = [*((p,) for p in pieces if _mitred(p)), *_pairs(square, length)]
    for number, group in enumerate(groups, 1):
        used = sum(p.length for p in group) + ALLOWANCE_MM * (len(group) - 1)
        yield CutUnit(name, number, group, max(0.0, length - used))


def _pairs(pieces: list[Piece], length: float) -> Iterable[tuple[Piece, ...]]:
    """Pair the longest with the shortest left, where both come from one unit."""
    i, j = 0, len(pieces) - 1
    while i <= j:
        both = pieces[i].length + pieces[j].length + ALLOWANCE_MM
        if i < j and both <= length + TOLERANCE.coincident:
            yield pieces[i], pieces[j]
            j -= 1
        else:
            yield (pieces[i],)
        i += 1


def _mitred(piece: Piece) -> bool:
    shape = piece.shape
    return isinstance(shape, Bar) and (shape.start.per_u != 0 or shape.end.per_u != 0)
