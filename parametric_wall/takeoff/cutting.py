"""Which pieces are cut from which unit, over the whole job, as few units as can be.

A mitred coping takes a coping of its own. Every other piece may share a unit with
others; one that shows its end at a stop end keeps a factory end. A unit is cut when
the first of its pieces is laid, and the rest is kept; units are numbered in that order.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from parametric_wall.job.cutting import Cutting
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.choose import size_of
from parametric_wall.setting_out.model import Piece, SettingOut
from parametric_wall.setting_out.packs import Mixture, cut_from
from parametric_wall.setting_out.stock import pack
from parametric_wall.takeoff.cut_ends import (
    Side,
    Wish,
    end_wishes,
    mitred,
    mitres,
    one_way,
)

EndCut = Literal["factory", "cut", "mitred"]


@dataclass(frozen=True, slots=True)
class CutUnit:
    """One unit that is cut, and what comes of it.

    Attributes:
        unit: what it is, for instance ``block 440x100x140``.
        number: counts the cut units of one kind, from 1, in the order in which they are cut.
        pieces: in their order along the unit; the first and the last have a factory end,
            and what is left over comes from before the last.
        ends: of every piece, left and right as it is laid and seen from the front.
        lost: in all cuts together, mm.
        offcut: what is left over, mm.
    """

    unit: str
    number: int
    pieces: tuple[Piece, ...]
    ends: tuple[tuple[EndCut, EndCut], ...]
    lost: float
    offcut: float


@dataclass(frozen=True, slots=True)
class _Cut:
    """A piece to cut: when it is laid, which end asks for the factory's, and if it can be turned.

    A coping with a fall or a drip of its own has a front: it is laid one way only.
    """

    piece: Piece
    order: int
    wish: Wish
    one_way: bool


def unit_names(spec: JobSpec) -> dict[tuple[str, int], tuple[str, float]]:
    """Name and length of the unit of each (wall, course), by its work sizes in mm.

    The copings are the course after the last. Of mixed lengths it is the whole family.
    """
    names: dict[tuple[str, int], tuple[str, float]] = {}
    for wall in spec.walls:
        for course, height in enumerate(wall.gauge.heights, 1):
            unit = f"block {size_of(wall, height)}"
            names[wall.name, course] = (unit, wall.block.longest)
        if wall.coping is not None:
            c = wall.coping.coping
            size = f"{c.length_mm:g}x{c.width_mm:g}x{c.thickness_mm:g}"
            names[wall.name, wall.gauge.courses + 1] = (f"coping {size}", c.length_mm)
    return names


def cut_units(spec: JobSpec, laid: SettingOut) -> tuple[CutUnit, ...]:
    """Every unit that is cut, over the whole job: kind by kind, in the order of cutting."""
    names = unit_names(spec)
    handed = {wall.name for wall in spec.walls if wall.coping is not None and one_way(wall.coping)}
    cuts: dict[tuple[str, float], list[_Cut]] = defaultdict(list)
    order = 0
    for wall in laid.walls:
        wishes = end_wishes(wall)
        for piece in wall.pieces:
            if piece.cut:
                order += 1
                fixed = piece.kind == "coping" and wall.name in handed
                cut = _Cut(piece, order, wishes.get(piece.id, Wish()), fixed)
                cuts[names[piece.wall, piece.course]].append(cut)
    families = {f"block {m.name}": m for m in laid.mixtures}
    return tuple(
        unit
        for (name, length), pieces in cuts.items()
        for unit in (
            _mixed_units(families[name], pieces, spec.job.cutting)
            if name in families
            else _units(name, length, pieces, spec.job.cutting)
        )
    )


def _units(name: str, length: float, cuts: list[_Cut], cutting: Cutting) -> Iterator[CutUnit]:
    """The units of one kind."""
    groups = sorted(_groups(length, cuts, cutting), key=_first_laid)
    for number, group in enumerate(groups, 1):
        yield _unit(name, number, length, group, cutting.loss)


def _mixed_units(taken: Mixture, cuts: list[_Cut], cutting: Cutting) -> Iterator[CutUnit]:
    """The units of a family of mixed lengths: length by length, the shortest first."""
    wanted = [(c.piece.length, c.wish.must) for c in cuts]
    numbers: Counter[float] = Counter()
    groups = [
        (length, [cuts[k] for k in places])
        for length, places in cut_from(wanted, taken, cutting.loss, reuse=cutting.reuse_offcuts)
    ]
    for length, group in sorted(groups, key=lambda one: (one[0], _first_laid(one[1]))):
        numbers[length] += 1
        name = f"block {taken.one_of(length)}"
        yield _unit(name, numbers[length], length, group, cutting.loss)


def _first_laid(group: list[_Cut]) -> int:
    return min(c.order for c in group)


def _unit(name: str, number: int, length: float, group: list[_Cut], loss: float) -> CutUnit:
    along = _along(group)
    pieces = tuple(c.piece for c in along)
    rest = length - sum(p.length for p in pieces) - loss * (len(pieces) - 1)
    # The last cut loses as much as the others, where so much is left.
    offcut = rest - loss if rest > loss else 0.0
    lost = length - sum(p.length for p in pieces) - offcut
    return CutUnit(name, number, pieces, tuple(_ends(along)), lost, offcut)


def _groups(length: float, cuts: list[_Cut], cutting: Cutting) -> Iterator[list[_Cut]]:
    """What is cut from one unit."""
    yield from ([c] for c in cuts if mitred(c.piece) or not cutting.reuse_offcuts)
    rest = [c for c in cuts if cutting.reuse_offcuts and not mitred(c.piece)]
    packed = pack(
        [c.piece.length for c in rest],
        length,
        cutting.loss,
        ends=[c.wish.must for c in rest],
        seconds=cutting.seconds,
    )
    for unit in packed.units:
        yield from _that_can_be_laid([rest[i] for i in unit])


def _that_can_be_laid(group: list[_Cut]) -> Iterator[list[_Cut]]:
    """A unit that is laid one way has one left and one right end: a second one takes another."""
    kept: list[_Cut] = []
    taken: set[Side] = set()
    for cut in group:
        if cut.one_way and cut.wish.must and cut.wish.side in taken:
            yield [cut]
        else:
            kept.append(cut)
            taken |= {cut.wish.side} if cut.wish.must else set()
    yield kept


def _along(group: list[_Cut]) -> list[_Cut]:
    """Pieces along their unit: those with the better claim at its ends, the first laid first."""
    ranked = sorted(group, key=lambda c: (c.wish.rank, c.order))
    if any(c.one_way for c in group):
        first = next((c for c in ranked if c.wish.side == "left"), ranked[-1])
        last = next((c for c in ranked if c.wish.side == "right" and c is not first), None)
        last = last or next((c for c in reversed(ranked) if c is not first), first)
    else:
        first, last = sorted((ranked[0], ranked[min(1, len(ranked) - 1)]), key=lambda c: c.order)
    inner = sorted((c for c in group if c not in (first, last)), key=lambda c: c.order)
    return [first, *inner] if last is first else [first, *inner, last]


def _ends(along: Sequence[_Cut]) -> Iterator[tuple[EndCut, EndCut]]:
    """What the ends of each piece are as it is laid, turned round where that is needed."""
    last = len(along) - 1
    for i, cut in enumerate(along):
        left, right = mitres(cut.piece)
        if left or right:
            yield "mitred" if left else "factory", "mitred" if right else "factory"
        elif 0 < i < last:
            yield "cut", "cut"
        else:
            side = cut.wish.side
            if cut.one_way and last > 0:
                side = "left" if i == 0 else "right"
            yield ("factory", "cut") if side == "left" else ("cut", "factory")
