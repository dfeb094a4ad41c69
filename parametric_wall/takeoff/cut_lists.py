"""The cut pieces of a job as two people want them: in laying order, and grouped by length."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from parametric_wall.setting_out.model import Piece, SettingOut
from parametric_wall.takeoff.cutting import CutUnit, EndCut

LENGTH_DIGITS = 1
"""Decimals of a mm to which two lengths are one: finer than anybody cuts."""


@dataclass(frozen=True, slots=True)
class LaidCut:
    """One cut piece where it is laid.

    Attributes:
        piece: the piece.
        unit: what it is cut from, for instance ``block 440x100x140``.
        number: of the unit.
        opens: whether the unit is cut for it; else it comes of the offcut kept of that unit.
        left: what its left end is, seen from the front.
        right: what its right end is.
    """

    piece: Piece
    unit: str
    number: int
    opens: bool
    left: EndCut
    right: EndCut


@dataclass(frozen=True, slots=True)
class AlikeCuts:
    """Cut pieces of one length, of one kind of unit and with the same mitres.

    Attributes:
        unit: what they are cut from.
        length: mm, to a tenth.
        mitred: which of their ends: none, left, right or both.
        pieces: in laying order, each with its unit's number.
    """

    unit: str
    length: float
    mitred: str
    pieces: tuple[LaidCut, ...]


def in_laying_order(laid: SettingOut, cuts: Iterable[CutUnit]) -> tuple[LaidCut, ...]:
    """Wall by wall, course by course from the bottom, run by run, from the left."""
    order = {p.id: i for i, p in enumerate(p for wall in laid.walls for p in wall.pieces)}
    found = []
    for cut in cuts:
        first = min(order[p.id] for p in cut.pieces)
        for piece, (left, right) in zip(cut.pieces, cut.ends, strict=True):
            opens = order[piece.id] == first
            found.append(LaidCut(piece, cut.unit, cut.number, opens, left, right))
    return tuple(sorted(found, key=lambda one: order[one.piece.id]))


def by_length(cuts: Iterable[LaidCut]) -> tuple[AlikeCuts, ...]:
    """Unit by unit as they are first laid, the longest pieces first."""
    alike: dict[str, dict[tuple[float, str], list[LaidCut]]] = defaultdict(dict)
    for one in cuts:
        key = (round(one.piece.length, LENGTH_DIGITS), _mitred(one))
        alike[one.unit].setdefault(key, []).append(one)
    return tuple(
        AlikeCuts(unit, length, mitred, tuple(pieces))
        for unit, groups in alike.items()
        for (length, mitred), pieces in sorted(groups.items(), key=lambda g: (-g[0][0], g[0][1]))
    )


def _mitred(one: LaidCut) -> str:
    left, right = one.left == "mitred", one.right == "mitred"
    return "both" if left and right else "left" if left else "right" if right else "none"
