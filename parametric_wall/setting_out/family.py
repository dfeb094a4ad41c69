"""Blocks of several lengths, mixed in every course, and how near they come to their mix."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Family:
    """Blocks of several lengths, mixed in every course.

    Attributes:
        lengths: of the whole blocks, rising, mm.
        mix: how many of each come in a pack; none where they come one by one.
        most_alike: of one length side by side, at the most.
        seed: another one lays them another way.
    """

    lengths: tuple[float, ...]
    mix: tuple[int, ...]
    most_alike: int
    seed: int

    @property
    def shares(self) -> tuple[float, ...]:
        """The share of each length that is wished for: of the mix, or as many of each."""
        mix = self.mix or (1,) * len(self.lengths)
        return tuple(n / sum(mix) for n in mix)


@dataclass(frozen=True, slots=True)
class Tally:
    """Whole blocks laid so far, of each length of a family."""

    used: tuple[int, ...]

    def with_rows(self, rows: Sequence[tuple[float, ...]], family: Family) -> Tally:
        """The tally with more rows of pieces laid."""
        lengths = zip(self.used, family.lengths, strict=True)
        return Tally(tuple(n + sum(row.count(length) for row in rows) for n, length in lengths))

    def exchanged(self, row: tuple[float, ...], other: tuple[float, ...], family: Family) -> Tally:
        """The tally with one row of whole blocks changed for another."""
        lengths = zip(self.used, family.lengths, strict=True)
        return Tally(tuple(n + other.count(x) - row.count(x) for n, x in lengths))

    def wanted(self, family: Family, blocks: int) -> tuple[float, ...]:
        """How many of each length so many more blocks should have, to keep the shares."""
        total = sum(self.used) + blocks
        shares = zip(family.shares, self.used, strict=True)
        return tuple(share * total - n for share, n in shares)

    def off(self, family: Family) -> float:
        """How far it is from the shares, in blocks; nothing where none were asked for."""
        if not family.mix:
            return 0.0
        return round(sum(max(0.0, -x) for x in self.wanted(family, 0)), 6)
