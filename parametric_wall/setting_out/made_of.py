"""What a course of mixed lengths can be made of: how many blocks and cuts, with which perp."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import islice, product
from random import Random

from parametric_wall.setting_out.bond import EPS, GRID, Span, Unit, least_pieces
from parametric_wall.setting_out.buying import Wants
from parametric_wall.setting_out.family import Family, Tally
from parametric_wall.setting_out.rows import Target, family_of, steps_of

COUNTS = 8
"""Numbers of pieces that a course with cuts may have, the nearest to the usual one."""
MANY = 24
"""Numbers of whole blocks, and for each of them perps to either side of the nominal one."""
WAYS = 6
"""Ways in which a length is shared by two pieces, about."""
SUMS = 64
"""Sums of whole blocks that are tried beside cut pieces, for one number of blocks."""
NEAR = (0, 12, 3)
"""Blocks of a length to either side of its share, by how many lengths lie between the others."""
APART = 10
"""mm off the mean length that a block over its share is worth."""
TARGETS = 48
"""Of what a course can be made, at the most."""


def targets(
    unit: Unit, span: Span, wants: Wants, cuts: int, tally: Tally, dice: Random
) -> list[Target]:
    """What a course with so many cuts can be made of, the best first."""
    family = family_of(unit)
    found: list[tuple[float, float, Target]] = []
    for mean, over, target in every_target(unit, span, wants.joints, cuts):
        pieces = target.blocks + cuts
        wanted = tally.wanted(family, pieces)
        asked = sum(x * n for x, n in zip(family.lengths, wanted, strict=True)) / pieces
        off = (abs(mean - asked) + APART * over) * (1 if family.mix else 1 / 4)
        cost = off + 10 * abs(target.joint - unit.joint) + _spare(family, target)
        found.append((cost, dice.random(), target))
    found.sort(key=lambda item: item[:2])
    return [target for _, _, target in found[:TARGETS]]


@lru_cache(maxsize=1024)
def every_target(
    unit: Unit, span: Span, joints: tuple[float, float] | None, cuts: int
) -> tuple[tuple[float, float, Target], ...]:
    """What a course can be made of, how long its pieces are in the mean, and how far `_apart`."""
    family = family_of(unit)
    room, extra = span.end - span.start, sum(span.jointed) - 1
    low, high = joints if joints and not cuts else (unit.joint, unit.joint)
    short = min(unit.min_closer, family.lengths[0]) if cuts else family.lengths[0]
    most = math.floor((room - extra * low + EPS) / (short + low))
    fewest = math.ceil((room - extra * high - EPS) / (family.lengths[-1] + high))
    counts: Sequence[int] = range(max(1, cuts, fewest), most + 1)
    usual = (room - extra * unit.joint) / (_mean(family) + unit.joint)
    counts = sorted(sorted(counts, key=lambda n: abs(n - usual))[: COUNTS if cuts else MANY])
    found = []
    for n in counts:
        made = _with_cuts(unit, span, n, cuts) if cuts else _whole(unit, span, n, low, high)
        for t in made:
            mean = (room - (n + extra) * t.joint) / n
            found.append((mean, _apart(family, t.blocks, t.over), t))
    return tuple(found)


def _mean(family: Family) -> float:
    """Length of a block of the mix that is wished for, mm."""
    return sum(x * share for x, share in zip(family.lengths, family.shares, strict=True))


@lru_cache(maxsize=4096)
def _apart(family: Family, blocks: int, over: int) -> float:
    """Whole blocks over the shares of their lengths, as few as the sum allows, about.

    Lengths that keep to no module come to a sum in few ways: it may want many of one.
    """
    steps = steps_of(family.lengths).over
    shares = [share * blocks for share in family.shares]
    least = float(blocks)
    for counts in product(*_around(shares)):
        rest = over - sum(n * step for n, step in zip(counts, steps[1:-1], strict=True))
        longest, odd = divmod(rest, steps[-1])
        row = (blocks - longest - sum(counts), *counts, longest)
        if not odd and min(row) >= 0:
            least = min(least, _over(row, shares))
    return least


def _around(shares: Sequence[float]) -> Iterator[range]:
    """Numbers near their shares of all lengths but the shortest and the longest."""
    middle = shares[1:-1]
    near = NEAR[len(middle)]
    return (range(max(0, round(x) - near), round(x) + near + 1) for x in middle)


def _over(row: Sequence[int], shares: Sequence[float]) -> float:
    """Blocks over their shares."""
    return sum(max(0.0, n - share) for n, share in zip(row, shares, strict=True))


def _spare(family: Family, target: Target) -> float:
    """What is left of the blocks that cut pieces come from, by themselves, mm."""
    return sum(min(x for x in family.lengths if x >= cut) - cut for cut in target.cuts)


def _whole(unit: Unit, span: Span, pieces: int, low: float, high: float) -> Iterator[Target]:
    """Whole blocks only, with the perp that closes them."""
    family, steps = family_of(unit), steps_of(family_of(unit).lengths)
    joints = pieces - 1 + sum(span.jointed)
    rest = span.end - span.start - pieces * family.lengths[0]
    first = math.ceil((rest - joints * high - EPS) / steps.step)
    last = math.floor((rest - joints * low + EPS) / steps.step)
    nominal = (rest - joints * unit.joint) / steps.step
    near = sorted(
        range(max(first, 0), min(last, pieces * steps.over[-1]) + 1),
        key=lambda over: abs(over - nominal),
    )
    reached = (over for over in near if steps.reach(pieces, over))
    for over in sorted(islice(reached, 2 * MANY + 1)):
        joint = (rest - over * steps.step) / joints if joints else unit.joint
        met = abs(joint - unit.joint) <= EPS
        yield Target(unit.joint if met else joint, pieces, over)


def _with_cuts(unit: Unit, span: Span, pieces: int, cuts: int) -> Iterator[Target]:
    """Whole blocks and cut pieces, with the nominal perp."""
    family, steps = family_of(unit), steps_of(family_of(unit).lengths)
    blocks, joints = pieces - cuts, pieces - 1 + sum(span.jointed)
    rest = span.end - span.start - joints * unit.joint - blocks * family.lengths[0]
    least, most = min(least_pieces(unit, span)), family.lengths[-1]
    first = max(0, math.ceil((rest - cuts * most - EPS) / steps.step))
    last = math.floor((rest - cuts * least + EPS) / steps.step)
    for over in _sums_beside(family, blocks, first, min(last, blocks * steps.over[-1])):
        if steps.reach(blocks, over):
            for lengths in _shared(rest - over * steps.step, cuts, least, most):
                if all(abs(x - whole) > EPS for x, whole in product(lengths, family.lengths)):
                    yield Target(unit.joint, blocks, over, lengths)


@lru_cache(maxsize=1024)
def _sums_beside(family: Family, blocks: int, first: int, last: int) -> Sequence[int]:
    """The sums to try beside cut pieces: all, or those of rows that keep nearest to the shares.

    Lengths that keep to no module have a sum for nearly every row: most are of no use,
    since the cut pieces take up any of them.
    """
    if last - first < SUMS:
        return range(first, last + 1)
    steps, shares = steps_of(family.lengths).over, [x * blocks for x in family.shares]
    near: dict[int, float] = {}
    for counts in product(*_around(shares)):
        for longest in range(blocks - sum(counts) + 1):
            row = (blocks - longest - sum(counts), *counts, longest)
            over = sum(n * step for n, step in zip(row, steps, strict=True))
            if first <= over <= last:
                near[over] = min(near.get(over, math.inf), _over(row, shares))
    return sorted(sorted(near, key=near.__getitem__)[:SUMS])


def _shared(total: float, cuts: int, least: float, most: float) -> Iterator[tuple[float, ...]]:
    """A length shared by some pieces in a few ways, all but the last on the grid, rising."""
    if cuts == 1:
        if least - EPS <= total < most - EPS:
            yield (round(total, 6),)
        return
    low = max(least, total - (cuts - 1) * most)
    first, last = math.ceil(low / GRID), math.floor(total / cuts / GRID)
    for k in sorted({last, *range(first, last + 1, max(1, (last - first) // WAYS))}):
        for rest in _shared(total - k * GRID, cuts - 1, k * GRID, most):
            yield (k * GRID, *rest)
