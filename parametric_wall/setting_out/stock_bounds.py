"""How many units are needed whatever the way of cutting. Pure numbers, whole steps of a length."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from itertools import accumulate

FACTORY_ENDS = 2
"""A unit has two."""
FINE = 1 << 13
"""Beyond so many common steps in a unit, the sums that pieces come to are not looked for."""
ROUNDINGS = range(2, 12)
"""Parts of a unit that sizes are rounded to."""


def bounds(sizes: Sequence[int], ends: Sequence[bool], room: int, common: int) -> Iterator[int]:
    """Numbers of units that no way of cutting goes below, the cheap ones first.

    Args:
        sizes: length of each piece and what is lost beside it, the longest first.
        ends: whether each piece needs a factory end.
        room: length of a unit and what is lost beside one piece.
        common: a number that divides every size.
    """
    yield _ceil(sum(sizes), room)
    yield _in_pairs([s for s, e in zip(sizes, ends, strict=True) if e], room)
    room = _usable(sizes, room, common)
    rising = sizes[::-1]
    yield _ceil(sum(rising), room)
    yield _in_pairs([s for s in sizes if 3 * s > room], room)
    yield from _large_and_small(rising, room)
    yield from _rounded(rising, room)


def _ceil(a: int, b: int) -> int:
    return -(-a // b)


def _usable(sizes: Sequence[int], room: int, common: int) -> int:
    """The greatest sum of pieces that a unit has room for."""
    places = room // common
    if places > FINE:
        return room
    sums, within = 1, (2 << places) - 1
    for size in sizes:
        sums |= (sums << size // common) & within
    return (sums.bit_length() - 1) * common


def _in_pairs(sizes: list[int], room: int) -> int:
    """Units for pieces of which no three come from one: the longest with the shortest left."""
    i, j, units = 0, len(sizes) - 1, 0
    while i <= j:
        if sizes[i] + sizes[j] <= room:
            j -= 1
        i += 1
        units += 1
    return units


def _large_and_small(rising: Sequence[int], room: int) -> Iterator[int]:
    """Pieces over half a unit need one each; the smaller ones fill what those leave.

    The bound L2 of the knapsack literature: for each length taken as the least that
    counts, what it leaves no room for beside a large piece is lost.
    """
    upto = [0, *accumulate(rising)]
    half = bisect_right(rising, room // 2)
    large = len(rising) - half
    for least in sorted(set(rising[:half])):
        low = bisect_left(rising, least)
        alone = bisect_right(rising, room - least)
        beside = (alone - half) * room - (upto[alone] - upto[half])
        yield large + max(0, _ceil(upto[half] - upto[low] - beside, room))


def _rounded(rising: Sequence[int], room: int) -> Iterator[int]:
    """Sizes rounded to parts of a unit by dual feasible functions."""
    for k in ROUNDINGS:
        total = 0
        for size in rising:
            parts, rest = divmod((k + 1) * size, room)
            total += parts * room if rest else k * size
        yield _ceil(total, k * room)
