"""The bonds that one run can have, of one length of block or of mixed lengths."""

from __future__ import annotations

from parametric_wall.setting_out import mixed, packs, pairs
from parametric_wall.setting_out.bond import Span, Unit
from parametric_wall.setting_out.buying import Wants
from parametric_wall.setting_out.ranking import Bond


def shortlist(unit: Unit, odd: Span, even: Span, wants: Wants, *, fine: bool) -> tuple[Bond, ...]:
    """The best bonds of a run by themselves; empty where none of those tried is legal."""
    if unit.family is not None:
        return mixed.shortlist(unit, odd, even, wants)
    return pairs.shortlist(unit, odd, even, wants, fine=fine)


def exists(unit: Unit, odd: Span, even: Span, wants: Wants) -> bool:
    """Whether a run has any legal bond among the usual ones."""
    if unit.family is not None:
        return bool(mixed.shortlist(unit, odd, even, wants))
    return pairs.exists(unit, odd, even, wants)


def run_bound(unit: Unit, odd: Span, even: Span, wants: Wants, height: float) -> float:
    """Blocks of a height, and parts of one, that no bond of a run can do with less of."""
    if unit.family is not None:
        return packs.run_bound(unit, odd, even, wants)
    return pairs.run_bound(unit, odd, even, wants, height)
