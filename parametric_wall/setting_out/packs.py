"""Blocks of mixed lengths: what is bought, what is cut from what, and the least there can be.

A piece may be cut from any length of the family. Where the lengths come in packs,
blocks that a pack brings anyhow are cut first; else the shortest that will do.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from parametric_wall.setting_out.bond import EPS, Span, Unit
from parametric_wall.setting_out.buying import Cut, Wants
from parametric_wall.setting_out.family import Family
from parametric_wall.setting_out.ranking import Bond
from parametric_wall.setting_out.rows import family_of
from parametric_wall.setting_out.stock_bounds import FACTORY_ENDS


@dataclass(frozen=True, slots=True)
class Taken:
    """How many blocks of each length of a family are laid whole.

    Attributes:
        name: of the family, by its work sizes.
        lengths: rising, mm.
        whole: blocks of each length that are laid whole.
        mix: how many of each come in a pack; none where they come one by one.
    """

    name: str
    lengths: tuple[float, ...]
    whole: tuple[int, ...]
    mix: tuple[int, ...]

    def one_of(self, length: float) -> str:
        """The block of one length, told from one that is no part of the family."""
        lengths, _, rest = self.name.partition("x")
        size, _, mix = rest.partition(" ")
        return " ".join(filter(None, (f"{length:g}x{size}", "of", lengths, mix)))


@dataclass(frozen=True, slots=True)
class Mixture(Taken):
    """How many blocks of each length a family takes, those that are cut among them.

    Attributes:
        cut: blocks of each length that are cut.
        least: fewer packs cannot do; 0 without a mix.
    """

    cut: tuple[int, ...]
    least: int

    @property
    def used(self) -> tuple[int, ...]:
        """Blocks of each length, whole and cut."""
        return tuple(a + b for a, b in zip(self.whole, self.cut, strict=True))

    @property
    def length(self) -> float:
        """Of all blocks used, mm."""
        return sum(x * n for x, n in zip(self.lengths, self.used, strict=True))

    @property
    def asked(self) -> tuple[float, ...]:
        """Share of each length in a pack; none without a mix."""
        return tuple(n / sum(self.mix) for n in self.mix)

    @property
    def packs(self) -> int:
        """Packs that hold them; 0 without a mix."""
        return packs_for(self.used, self.mix)

    @property
    def left_over(self) -> tuple[int, ...]:
        """Blocks of each length that are left of the packs."""
        return _left_over(self.used, self.mix)

    @property
    def shares(self) -> tuple[float, ...]:
        """Share of each length among the blocks used."""
        return tuple(n / max(1, sum(self.used)) for n in self.used)


def packs_for(used: Sequence[float], mix: Sequence[int]) -> int:
    """Packs that hold so many blocks of each length."""
    return max((math.ceil(n / m) for n, m in zip(used, mix, strict=True)), default=0) if mix else 0


def _left_over(used: Sequence[int], mix: Sequence[int]) -> tuple[int, ...]:
    packs = packs_for(used, mix)
    return tuple(packs * m - n for n, m in zip(used, mix or (0,) * len(used), strict=True))


@dataclass(slots=True)
class _Cutting:
    """A block being cut up."""

    length: float
    room: float
    shown: int = 0
    pieces: list[int] = field(default_factory=list)

    def admits(self, length: float, end: bool) -> bool:
        return length <= self.room + EPS and not (end and self.shown == FACTORY_ENDS)


def cut_from(
    cut: Sequence[Cut], taken: Taken, loss: float, *, reuse: bool
) -> tuple[tuple[float, tuple[int, ...]], ...]:
    """For every block that is cut its length, and the places of its pieces in the list.

    The longest piece first, each from the block with the least room that admits it.

    Args:
        cut: the pieces.
        taken: the lengths to cut from, and what is laid whole of each.
        loss: between two pieces of a block, mm.
        reuse: whether a block may give several pieces.
    """
    blocks: list[_Cutting] = []
    used = list(taken.whole)
    for k in sorted(range(len(cut)), key=lambda k: (-cut[k][0], not cut[k][1])):
        length, end = cut[k]
        admit = [b for b in blocks if reuse and b.admits(length, end)]
        block = min(admit, key=lambda b: b.room, default=None)
        if block is None:
            i = _from(length, taken, used)
            used[i] += 1
            block = _Cutting(taken.lengths[i], taken.lengths[i])
            blocks.append(block)
        block.room -= length + loss
        block.shown += end
        block.pieces.append(k)
    return tuple((b.length, tuple(b.pieces)) for b in blocks)


def _from(length: float, taken: Taken, used: Sequence[int]) -> int:
    """From which of the lengths a piece is cut: one that packs leave over, else the shortest."""
    long = [i for i, x in enumerate(taken.lengths) if x >= length - EPS]
    spare = _left_over(used, taken.mix)
    return next((i for i in long if spare[i] > 0), long[0])


def mixture(name: str, family: Family, bonds: Sequence[Bond], wants: Wants, least: int) -> Mixture:
    """What some bonds take of a family."""
    laid = Counter(p for b in bonds for c in b.courses for p in c.pieces)
    whole = tuple(laid[length] for length in family.lengths)
    pieces = [cut for b in bonds for cut in b.cut]
    taken = Taken(name, family.lengths, whole, family.mix)
    cut = Counter(length for length, _ in cut_from(pieces, taken, wants.loss, reuse=wants.reuse))
    return Mixture(
        name, family.lengths, whole, family.mix, tuple(cut[x] for x in family.lengths), least
    )


# The least there can be


def run_bound(unit: Unit, odd: Span, even: Span, wants: Wants) -> float:
    """Of the longest blocks, so many and parts of one fill a run at the least.

    With the widest perp added to every piece, the pieces of a course come to its length
    less what joints stand at its ends, whatever their number. A block gives pieces that
    come to no more than `_gives`.
    """
    widest = widest_perp(unit, wants)

    def room(span: Span) -> float:
        return span.end - span.start - (sum(span.jointed) - 1) * widest

    courses = wants.courses(None)
    total = courses[0] * room(odd) + courses[1] * room(even)
    return max(0.0, total) / _gives(unit, unit.length, wants)


def packs_bound(unit: Unit, wants: Wants, longest: float) -> int:
    """Packs at the least, where so many of the longest blocks are needed at the least."""
    family = family_of(unit)
    if not family.mix:
        return 0
    pairs = zip(family.lengths, family.mix, strict=True)
    pack = sum(m * _gives(unit, length, wants) for length, m in pairs)
    return math.ceil(longest * _gives(unit, unit.length, wants) / pack - EPS)


def widest_perp(unit: Unit, wants: Wants) -> float:
    """The widest that a perp may be, mm."""
    return unit.joint if wants.joints is None else wants.joints[1]


def _gives(unit: Unit, length: float, wants: Wants) -> float:
    """What the pieces of a block come to at the most, the widest perp added to each, mm."""
    widest, least = widest_perp(unit, wants), min(unit.min_cut, unit.min_closer)
    pieces = math.floor((length + wants.loss + EPS) / (least + wants.loss)) if wants.reuse else 1
    return length + widest + max(0, pieces - 1) * max(0.0, widest - wants.loss)
