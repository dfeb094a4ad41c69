"""Rows of blocks of mixed lengths, found one block after the other. Pure numbers, mm.

How many blocks a row has, and how much longer they are together than as many of the
shortest, are settled beforehand: so it is known at every block whether the rest can
still close. Which length comes next is drawn, with a weight; a place from which no
rest was found is not entered again, so a row is found wherever there is one.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from random import Random

from parametric_wall.setting_out.bond import EPS, Course, Span, Unit, least_pieces
from parametric_wall.setting_out.family import Family

EXACT = 64
"""Blocks to the end of a row up to which every sum of theirs is known."""
TENTHS = 10
"""Of a mm: the finest step by which lengths differ."""
SELDOM = 0.05
"""Weight of a length of which there are enough already."""


def family_of(unit: Unit) -> Family:
    """The family of a block of mixed lengths."""
    assert unit.family is not None
    return unit.family


@dataclass(frozen=True, slots=True)
class Steps:
    """Lengths as whole steps over the shortest of them.

    Attributes:
        step: the greatest that all of them keep to, mm.
        over: of each length, rising.
    """

    step: float
    over: tuple[int, ...]

    def reach(self, blocks: int, over: int) -> bool:
        """Whether so many blocks can be so much longer than as many of the shortest."""
        if not 0 <= over <= blocks * self.over[-1]:
            return False
        return blocks > EXACT or bool(_sums(self.over, blocks) >> over & 1)


@lru_cache(maxsize=64)
def steps_of(lengths: tuple[float, ...]) -> Steps:
    """The steps of some lengths, the shortest first."""
    over = [round((x - lengths[0]) * TENTHS) for x in lengths]
    common = math.gcd(*over)
    return Steps(common / TENTHS, tuple(x // common for x in over))


@lru_cache(maxsize=2048)
def _sums(over: tuple[int, ...], blocks: int) -> int:
    """What some blocks can be longer by, a bit each."""
    if blocks == 0:
        return 1
    fewer, found = _sums(over, blocks - 1), 0
    for more in over:
        found |= fewer << more
    return found


@dataclass(frozen=True, slots=True)
class Target:
    """What a row is made of.

    Attributes:
        joint: its perps, mm.
        blocks: whole blocks.
        over: steps by which they are longer than as many of the shortest.
        cuts: lengths of its cut pieces, mm.
    """

    joint: float
    blocks: int
    over: int
    cuts: tuple[float, ...] = ()


Stretches = tuple[list[float], list[float]]
"""Open stretches in which no perp may begin, in order: where they begin and where they end."""


def kept_clear(unit: Unit, joint: float, perps: Iterable[tuple[float, float]]) -> Stretches:
    """Where a perp would lap too little over others, each given by left edge and width."""
    lap = unit.min_lap - EPS
    starts: list[float] = []
    ends: list[float] = []
    for left, width in sorted(perps):
        low, high = left - joint - lap, left + width + lap
        if ends and low < ends[-1]:
            ends[-1] = max(ends[-1], high)
        else:
            starts.append(low)
            ends.append(high)
    return starts, ends


def within(stretches: Stretches, at: float) -> bool:
    """Whether a place is in one of the stretches."""
    starts, ends = stretches
    i = bisect_right(starts, at) - 1
    return i >= 0 and starts[i] < at < ends[i]


_State = tuple[int, int, tuple[float, ...], int, int]
"""Whole blocks left, their steps, cuts left, the last block's length, and how often it came."""


@dataclass(frozen=True)
class Search:
    """The rows of one course.

    Attributes:
        unit: the family and its rules.
        span: what the course fills.
        target: what it is made of.
        clear: where no perp may begin.
        alike: blocks of one length side by side, at the most.
        wanted: how many blocks of each length would suit.
    """

    unit: Unit
    span: Span
    target: Target
    clear: Stretches
    alike: float
    wanted: Sequence[float]

    def rows(self, dice: Random, tries: int) -> Iterator[Course]:
        """Courses of the target, as they are drawn; places are tried so often at the most."""
        t, (begin, _) = self.target, self.span.clear(self.target.joint)
        state: _State = (t.blocks, t.over, t.cuts, -1, 0)
        row: list[float] = []
        ways = [self._ways(state, begin, dice)]
        states, bore, ats = [state], [False], [begin]
        dead: set[_State] = set()
        while ways:
            way = next(ways[-1], None)
            if way is None:
                ways.pop()
                ats.pop()
                left, fruit = states.pop(), bore.pop()
                if not fruit:
                    dead.add(left)
                elif bore:
                    bore[-1] = True
                if row:
                    row.pop()
                continue
            piece, state = way
            if state in dead:
                continue
            if not state[0] and not state[2]:
                bore[-1] = True
                yield self._course((*row, piece))
                continue
            tries -= 1
            if tries < 0:
                return
            row.append(piece)
            ats.append(ats[-1] + piece + t.joint)
            states.append(state)
            bore.append(False)
            ways.append(self._ways(state, ats[-1], dice))

    def _course(self, pieces: tuple[float, ...]) -> Course:
        family = family_of(self.unit)
        return Course(self.span, family.lengths, self.target.joint, pieces)

    def _ways(self, state: _State, at: float, dice: Random) -> Iterator[tuple[float, _State]]:
        """The next piece and what is left after it, in the order in which they are drawn."""
        family = family_of(self.unit)
        steps = steps_of(family.lengths)
        blocks, over, cuts, last, alike = state
        found: list[tuple[float, float, _State]] = []
        for i, (length, more) in enumerate(zip(family.lengths, steps.over, strict=True)):
            count = alike + 1 if i == last else 1
            if not blocks or count > self.alike or not steps.reach(blocks - 1, over - more):
                continue
            weight = max(self.wanted[i], SELDOM)
            after = (blocks - 1, over - more, cuts, i, count)
            found.append((_drawn(dice, weight), length, after))
        for k, length in enumerate(cuts):
            if length in cuts[:k] or not self._cut_fits(length, state):
                continue
            rest = (blocks, over, cuts[:k] + cuts[k + 1 :], -1, 0)
            found.append((_drawn(dice, max(sum(self.wanted), 1) / (blocks + 1)), length, rest))
        found.sort(reverse=True)
        final = blocks + len(cuts) == 1
        for _, length, after in found:
            if final or not within(self.clear, at + length):
                yield length, after

    def _cut_fits(self, length: float, state: _State) -> bool:
        """Whether a cut piece may stand here: a closer only beside a return."""
        t, blocks, cuts = self.target, state[0], state[2]
        low, high = least_pieces(self.unit, self.span)
        first = blocks == t.blocks and len(cuts) == len(t.cuts)
        last = blocks + len(cuts) == 1
        least = [low] * first + [high] * last or [self.unit.min_cut]
        return length >= max(least) - EPS


def _drawn(dice: Random, weight: float) -> float:
    """A number that is the greatest of several as often as its weight is of theirs."""
    drawn: float = dice.random() ** (1 / weight)
    return drawn


def dice_of(*names: object) -> Random:
    """Dice that fall alike wherever the same names are given."""
    return Random("/".join(map(str, names)))  # noqa: S311 - a pattern, not a secret.
