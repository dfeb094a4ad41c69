"""What is written of the blocks that bonds take, of one length or of mixed ones."""

from __future__ import annotations

from typing import NotRequired

from typing_extensions import TypedDict

from parametric_wall.setting_out.model import SettingOut
from parametric_wall.setting_out.packs import Mixture

SHARE_DIGITS = 6


class LengthRecord(TypedDict):
    """What is taken of one of several lengths that are mixed."""

    length_mm: float
    whole: int
    cut: int
    share: float
    share_asked: float | None
    left_over: int


class BondRecord(TypedDict):
    """How good the bonds of one block are: bought, and what no choice can do with less of."""

    block: str
    blocks: int
    bound: int
    proven: bool
    lengths: NotRequired[list[LengthRecord]]
    packs: NotRequired[int]
    packs_bound: NotRequired[int]


def bond_records(laid: SettingOut) -> list[BondRecord]:
    """What the bonds of every block take."""
    mixtures = {m.name: m for m in laid.mixtures}
    found: list[BondRecord] = []
    for name, c in laid.certificates:
        row: BondRecord = {
            "block": name,
            "blocks": c.blocks,
            "bound": c.bound,
            "proven": c.proven,
        }
        if (taken := mixtures.get(name)) is not None:
            row["lengths"] = _lengths(taken)
            if taken.mix:
                row |= {"packs": taken.packs, "packs_bound": taken.least}
        found.append(row)
    return found


def _lengths(taken: Mixture) -> list[LengthRecord]:
    asked = taken.asked or (None,) * len(taken.lengths)
    rows = zip(
        taken.lengths,
        taken.whole,
        taken.cut,
        taken.shares,
        asked,
        taken.left_over,
        strict=True,
    )
    return [
        {
            "length_mm": length,
            "whole": whole,
            "cut": cut,
            "share": round(share, SHARE_DIGITS),
            "share_asked": None if wished is None else round(wished, SHARE_DIGITS),
            "left_over": left,
        }
        for length, whole, cut, share, wished, left in rows
    ]
