"""Bonds of blocks of mixed lengths: no pattern, whole blocks only where that can be.

The courses are found from the bottom up, each clear of the perps below it. What a course
is made of comes first: how many blocks and cuts, and which perp, the nominal one sooner
than another. Then rows of that are drawn (`rows`), with the lengths that are short of
their share drawn more often. Dice are cast from the job's seed and the place alone.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import islice, pairwise
from random import Random

from parametric_wall.setting_out import pairs
from parametric_wall.setting_out.bond import Course, Span, Unit, lap
from parametric_wall.setting_out.buying import Wants
from parametric_wall.setting_out.family import Family, Tally
from parametric_wall.setting_out.made_of import targets
from parametric_wall.setting_out.ranking import Bond
from parametric_wall.setting_out.rows import Search, Target, dice_of, family_of, kept_clear, within

CUTS = 3
"""Cut pieces in a course, at the most."""
SHORT = 7
"""Blocks in a course up to which every row is looked at."""
EVERY = 400
"""Rows of such a course, at the most."""
SEVERAL = 12
"""Rows of a longer course that are tried under the next."""
TRIES = 2_000
"""Blocks laid in search of one row."""
DRAWN = 5
"""Rows of a course from which the best is taken."""
NEAR = 20.0
"""mm. Perps of two courses so near each other look as if they were over one another."""
SHARES = 6
"""Perps over one another that a block too many of one length is worth, in the last course."""
PAIRS = 4
"""First courses that are tried under a second one, before the bond is laid in turn."""


# Courses


@dataclass(frozen=True, slots=True)
class Place:
    """A course to be found.

    Attributes:
        unit: the family and its rules.
        span: what it fills.
        next_span: what the course above it fills.
        wants: what is asked.
        cuts: it may have.
        alike: blocks of one length side by side, at the most.
    """

    unit: Unit
    span: Span
    next_span: Span
    wants: Wants
    cuts: int
    alike: float

    def targets(self, tally: Tally, dice: Random) -> list[Target]:
        """What it can be made of, the best first."""
        return targets(self.unit, self.span, self.wants, self.cuts, tally, dice)

    def courses(
        self, made: list[Target], below: Course | None, tally: Tally, dice: Random, each: int
    ) -> Iterator[Course]:
        """Courses that lap the one below: so many of each thing that it can be made of."""
        for target in made:
            search = self._search(target, below, tally)
            if search is not None:
                yield from islice(search.rows(dice, TRIES), each)

    def _search(self, target: Target, below: Course | None, tally: Tally) -> Search | None:
        unit, joint = self.unit, target.joint
        perps = [] if below is None else [(p, below.joint) for p in below.perps]
        clear = kept_clear(unit, joint, perps)
        if any(within(clear, at) for at in _corner_perps(self.span, joint)):
            return None
        if self.wants.count > 1:
            perps += [(at, unit.joint) for at in _corner_perps(self.next_span, unit.joint)]
            clear = kept_clear(unit, joint, perps)
        wanted = tally.wanted(family_of(unit), target.blocks)
        return Search(unit, self.span, target, clear, self.alike, wanted)


def _corner_perps(span: Span, joint: float) -> list[float]:
    """Left edges of the joints at the corners where a course butts."""
    ends = zip(span.meets, (span.start, span.end - joint), strict=True)
    return [at for meets, at in ends if meets == "butt"]


def _places(
    unit: Unit, odd: Span, even: Span, wants: Wants, cuts: tuple[int, int], alike: float
) -> tuple[Place, Place]:
    """The odd courses of a run, and the even ones."""
    return (
        Place(unit, odd, even, wants, cuts[0], alike),
        Place(unit, even, odd, wants, cuts[1], alike),
    )


# Bonds


@lru_cache(maxsize=4096)
def shortlist(unit: Unit, odd: Span, even: Span, wants: Wants) -> tuple[Bond, ...]:
    """A bond of two courses in turn with the fewest cuts found; empty where there is none."""
    pair, alike = _pair(unit, odd, even, wants)
    if not pair:
        pair, alike = _of_the_longest(unit, odd, even, wants), math.inf
    if not pair:
        return ()
    courses = tuple(pair[k % 2] for k in range(wants.count))
    return (bond_of(unit, courses, alike),)


def _pair(unit: Unit, odd: Span, even: Span, wants: Wants) -> tuple[tuple[Course, ...], float]:
    """Two courses that lap, with the fewest cuts; and how many blocks may be alike in them.

    Only where nothing else will do may more be alike than was asked.
    """
    family = family_of(unit)
    tally = Tally((0,) * len(family.lengths))
    numbers = wants.courses(None)
    levels = sorted(
        ((a, b) for a in range(CUTS + 1) for b in range(CUTS + 1)),
        key=lambda cuts: (cuts[0] * numbers[0] + cuts[1] * numbers[1], cuts),
    )
    if wants.count == 1:
        levels = [(cuts, 0) for cuts in range(CUTS + 1)]
    for alike in (family.most_alike, math.inf):
        for cuts in levels:
            places = _places(unit, odd, even, wants, cuts, alike)
            dice = dice_of(family.seed, cuts, odd, even)
            pair = _lapping(*places, tally, dice)
            if pair:
                return pair, alike
    return (), family.most_alike


def _of_the_longest(unit: Unit, odd: Span, even: Span, wants: Wants) -> tuple[Course, ...]:
    """Where nothing else will do, two courses of the longest blocks and of pieces cut."""
    lengths = family_of(unit).lengths
    found = pairs.shortlist(replace(unit, family=None), odd, even, wants, fine=True)[:1]
    return tuple(replace(c, wholes=lengths) for bond in found for c in bond.courses[:2])


def _lapping(first: Place, second: Place, tally: Tally, dice: Random) -> tuple[Course, ...]:
    """Two courses of which one laps the other; of short ones without a cut all are tried."""
    lows, ups = first.targets(tally, dice), second.targets(tally, dice)
    if first.wants.count == 1:
        return tuple(islice(first.courses(lows, None, tally, dice, 1), 1))
    if not ups:
        return ()
    pitch = family_of(first.unit).lengths[-1] + first.unit.joint
    short = not (first.cuts or second.cuts) and first.span.end - first.span.start <= SHORT * pitch
    most, each = (EVERY, EVERY) if short else (SEVERAL, 1)
    for lower in islice(first.courses(lows, None, tally, dice, each), most):
        upper = next(second.courses(ups, lower, tally, dice, 1), None)
        if upper is not None:
            return lower, upper
    return ()


def bond_of(unit: Unit, courses: tuple[Course, ...], alike: float) -> Bond:
    """The bond of some courses, of which each was allowed so many alike."""
    least = min((lap(a, b) for a, b in pairwise(courses)), default=math.inf)
    most = family_of(unit).most_alike
    over = sum(longest_alike(c) > most for c in courses) if alike > most else 0
    return Bond(unit.joint, courses, least, over)


def longest_alike(course: Course) -> int:
    """The most whole blocks of one length that stand side by side in a course."""
    most = count = 0
    last = math.nan
    for piece, whole in zip(course.pieces, course.are_whole, strict=True):
        count = count + 1 if whole and piece == last else int(whole)
        last, most = piece, max(most, count)
    return most


def laid(unit: Unit, bond: Bond, wants: Wants, tally: Tally, name: str) -> Bond:
    """A bond of as few cuts as the one given, that of two courses in turn, without a pattern."""
    family = family_of(unit)
    pair = bond.courses[:2]
    if wants.count < 2:
        pair = (pair[0], pair[0])
    alike = math.inf if bond.misses else family.most_alike
    cuts = (len(pair[0].cut), len(pair[1].cut))
    if max(cuts) > CUTS:
        return bond
    places = _places(unit, pair[0].span, pair[1].span, wants, cuts, alike)
    courses = list(_begun(places, wants, tally, name)) or list(bond.courses[:2])
    for k in range(len(courses), wants.count):
        dice = dice_of(family.seed, name, k)
        before = tally.with_rows([c.pieces for c in courses], family)
        place = places[k % 2]
        made = place.targets(before, dice)
        found = islice(place.courses(made, courses[-1], before, dice, 1), DRAWN)
        left = wants.count - 1 - k
        courses.append(_least_alike(found, courses[-2], before, family, left))
    return bond_of(unit, tuple(courses), alike)


def _begun(
    places: tuple[Place, Place], wants: Wants, tally: Tally, name: str
) -> tuple[Course, ...]:
    """The two lowest courses; none where no such pair is found soon."""
    family = family_of(places[0].unit)
    dice = dice_of(family.seed, name)
    lows = places[0].targets(tally, dice)
    for lower in islice(places[0].courses(lows, None, tally, dice, 1), PAIRS):
        if wants.count == 1:
            return (lower,)
        before = tally.with_rows([lower.pieces], family)
        ups = places[1].targets(before, dice)
        upper = next(places[1].courses(ups, lower, before, dice, 1), None)
        if upper is not None:
            return lower, upper
    return ()


def _least_alike(
    found: Iterable[Course], two_below: Course, tally: Tally, family: Family, left: int
) -> Course:
    """The course that keeps the shares, and has the fewest perps over those two below.

    The fewer courses are left to make up for it, the more the shares count. Where none is
    found the course two below is laid again: what lies between laps both.
    """

    def cost(course: Course) -> tuple[bool, float]:
        off = tally.with_rows([course.pieces], family).off(family)
        over = over_each_other(course, two_below)
        return course.pieces == two_below.pieces, round(over + SHARES * off / (left + 1), 6)

    return min(found, key=cost, default=two_below)


def over_each_other(upper: Course, lower: Course) -> int:
    """Perps of a course that look as if they stood over one of another."""
    edges = lower.perps
    places = ((at, bisect_left(edges, at - NEAR)) for at in upper.perps)
    return sum(i < len(edges) and edges[i] <= at + NEAR for at, i in places)
