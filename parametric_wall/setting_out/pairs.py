"""The bonds that one run can have, best first: pairs of courses that lap each other."""

from __future__ import annotations

import math
from bisect import insort
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise, product

from parametric_wall.geometry import TOLERANCE
from parametric_wall.setting_out.bond import (
    EPS,
    GRID,
    Course,
    Span,
    Unit,
    candidates,
    lap,
    least_pieces,
    legal,
    phases,
    whole_joints,
)
from parametric_wall.setting_out.buying import Wants, bought_for
from parametric_wall.setting_out.ranking import Bond, Rank, measures, rank

KEPT = 40
"""Bonds of one run that are kept for the choice over the whole job."""
HOPELESS = 1_000_000
"""Rows of pieces past which not even some are counted."""
FEW = 400
"""Courses up to which every one on the grid is tried."""
CUTS_ADJUSTED = 2
"""Cut pieces in a course whose perps are opened or closed, at the most."""


_Laid = tuple[tuple[Course, ...], float, int]
"""Courses from the bottom up, their least lap, and how many are not as wished."""


@lru_cache(maxsize=4096)
def shortlist(unit: Unit, odd: Span, even: Span, wants: Wants, *, fine: bool) -> tuple[Bond, ...]:
    """The best bonds of a run by themselves; empty where none of those tried is legal.

    Args:
        unit: block and rules, with the nominal perp.
        odd: span of courses 1, 3, 5 ...
        even: span of courses 2, 4, 6 ...
        wants: what is asked of them.
        fine: whether to try every phase on a 5 mm grid.
    """
    hopes: list[tuple[Rank, int, Bond]] = []
    for joint in _joints(unit, odd, even, wants):
        laid = unit.with_joint(joint)
        rows = _rows(laid, unit, odd, even, fine=fine)
        for courses, least, misses in _wished(list(_legal(laid, *rows, wants)), wants):
            bond = Bond(unit.joint, courses, least, misses)
            hopes.append((_rank(bond, _at_least(bond, unit, wants), wants), len(hopes), bond))
    hopes.sort(key=lambda item: item[:2])
    found: list[tuple[Rank, int, Bond]] = []
    for hope, number, bond in hopes:
        if len(found) >= KEPT and hope > found[KEPT - 1][0]:
            break
        blocks = bought_for([(bond, wants)], unit.length)
        insort(found, (_rank(bond, blocks, wants), number, bond), key=lambda item: item[:2])
    return tuple(bond for _, _, bond in found[:KEPT])


def exists(unit: Unit, odd: Span, even: Span, wants: Wants) -> bool:
    """Whether a run has any legal bond among the usual ones."""
    plain = replace(wants, raking=False)
    for joint in _joints(unit, odd, even, wants):
        laid = unit.with_joint(joint)
        rows = _rows(laid, unit, odd, even, fine=False)
        if next(_legal(laid, *rows, plain), None) is not None:
            return True
    return False


def _wished(laid: list[_Laid], wants: Wants) -> list[_Laid]:
    """Where the wish counts first and can be had, only the bonds that have it."""
    fewest = min((misses for _, _, misses in laid), default=0)
    if wants.order[0] != "wish":
        return laid
    return [found for found in laid if found[2] == fewest]


def _rank(bond: Bond, blocks: int, wants: Wants) -> Rank:
    return rank(measures((bond,), blocks), wants.order)


def _at_least(bond: Bond, unit: Unit, wants: Wants) -> int:
    """Blocks that a bond needs at the least, without packing its cut pieces."""
    if not wants.reuse:
        return bond.whole + len(bond.cut)
    taken = sum(x + wants.loss for x, _ in bond.cut) / (unit.length + wants.loss)
    ends = sum(shown for _, shown in bond.cut)
    return bond.whole + max(math.ceil(taken - EPS), math.ceil(ends / 2))


def run_bound(
    unit: Unit, odd: Span, even: Span, wants: Wants, height: float | None = None
) -> float:
    """Blocks, and parts of one, that no bond of a run can do with less of; of one height."""
    joints = _joints(unit, odd, even, wants)
    return sum(
        number * min(_material(unit, joint, span, wants) for joint in joints)
        for number, span in zip(wants.courses(height), (odd, even), strict=True)
    )


def _material(unit: Unit, joint: float, span: Span, wants: Wants) -> float:
    """Blocks that a course takes at the least: each piece with what is lost beside it.

    A block gives pieces of no more than its length and one loss, each piece with a loss of
    its own; so the pieces of a course, each with its loss, over that are blocks at the least.
    """
    room, extra = span.end - span.start, sum(span.jointed) - 1
    fewest = math.ceil((room - extra * joint - EPS) / (unit.length + joint))
    if not wants.reuse:
        return max(0, fewest)
    least = min(unit.min_cut, *least_pieces(unit, span))
    many = math.floor((room - extra * joint + EPS) / (least + joint))
    if joint != unit.joint:
        many = min(many, fewest + CUTS_ADJUSTED)

    def taken(pieces: int) -> float:
        lengths = room - (pieces + extra) * joint
        return (lengths + pieces * wants.loss) / (unit.length + wants.loss)

    return max(0.0, min(taken(fewest), taken(max(fewest, many))))


def _joints(unit: Unit, odd: Span, even: Span, wants: Wants) -> tuple[float, ...]:
    """The nominal perp, and those that let a course take whole blocks only."""
    found = [unit.joint]
    if wants.joints is not None:
        for span in (odd, even):
            found += whole_joints(unit, span, *wants.joints)
    return tuple(dict.fromkeys(found))


def _rows(
    unit: Unit, nominal: Unit, odd: Span, even: Span, *, fine: bool
) -> tuple[tuple[Course, ...], tuple[Course, ...]]:
    """Candidates of the odd courses, and of the even ones."""
    both = (odd, even)
    return (
        _courses(unit, nominal, odd, both, fine=fine),
        _courses(unit, nominal, even, both, fine=fine),
    )


def _courses(
    unit: Unit, nominal: Unit, span: Span, both: tuple[Span, Span], *, fine: bool
) -> tuple[Course, ...]:
    """Candidates of one course: every one on the grid where they are few.

    Perps are opened or closed for rows with hardly a cut, not to stretch a row of cuts.
    """
    tried = phases(unit, both, fine=fine)
    usual = candidates(unit, span, tried)
    if unit.joint != nominal.joint:
        return tuple(c for c in usual if len(c.cut) <= CUTS_ADJUSTED)
    every = every_course(unit, span, FEW)
    if every is None:
        return usual
    known = {c.pieces for c in usual}
    return usual + tuple(c for c in every if c.pieces not in known)


def every_course(unit: Unit, span: Span, most: int) -> tuple[Course, ...] | None:
    """Every legal course whose pieces, but for the last, keep to the grid; None past `most`."""
    low, high = least_pieces(unit, span)
    start, end = span.clear(unit.joint)
    sizes = _sizes(unit, min(low, unit.min_cut))
    if (end - start) // unit.pitch * math.log(len(sizes)) > math.log(HOPELESS):
        return None
    found: list[Course] = []
    tries = 0
    rows: list[tuple[tuple[float, ...], float]] = [((), end - start)]
    while rows:
        row, left = rows.pop()
        tries += 1
        if tries > 40 * most or len(found) > most:
            return None
        if high - EPS <= left <= unit.length + EPS:
            pieces = (*row, round(left, 6))
            if legal(unit, span, pieces):
                found.append(Course(span, (unit.length,), unit.joint, pieces))
        least = low if not row else unit.min_cut
        for size in sizes:
            rest = left - size - unit.joint
            if size >= least - EPS and rest >= high - EPS:
                rows.append(((*row, size), rest))
    return tuple(found)


@lru_cache(maxsize=256)
def _sizes(unit: Unit, least: float) -> tuple[float, ...]:
    """Lengths of pieces: whole, or cut to the grid."""
    steps = range(math.ceil((least - EPS) / GRID), math.ceil((unit.length - EPS) / GRID))
    return (unit.length, *(k * GRID for k in steps))


def _legal(
    unit: Unit, odd: tuple[Course, ...], even: tuple[Course, ...], wants: Wants
) -> Iterator[_Laid]:
    """Legal bonds of two courses in turn."""
    if wants.raking and wants.step is not None:
        yield from _raking(unit, odd, even, wants)
        return
    if wants.count == 1:
        yield from (((c,), math.inf, 0) for c in odd)
        return
    for a, b in product(odd, even):
        value = lap(a, b)
        if value >= unit.min_lap - EPS:
            miss = 0 if as_wished(unit, wants, value) else wants.count - 1
            yield tuple((a, b)[k % 2] for k in range(wants.count)), value, miss


def as_wished(unit: Unit, wants: Wants, value: float) -> bool:
    """Whether a lap is the one wished for, to what can be cut."""
    if wants.step is None or math.isinf(value):
        return True
    return abs(value - (unit.pitch * wants.step - unit.joint)) <= TOLERANCE.cut


def _raking(
    unit: Unit, odd: tuple[Course, ...], even: tuple[Course, ...], wants: Wants
) -> Iterator[_Laid]:
    """The bond whose every course steps the same way as far as can be, with fewest cuts."""
    rows = (odd, even)
    best: dict[int, tuple[tuple[int, int, float], tuple[Course, ...]]] = {
        i: ((0, len(c.cut), 0.0), (c,)) for i, c in enumerate(odd)
    }
    for k in range(1, wants.count):
        after: dict[int, tuple[tuple[int, int, float], tuple[Course, ...]]] = {}
        for (_, ((misses, cuts, laps), way)), (j, upper) in product(
            best.items(), enumerate(rows[k % 2])
        ):
            value = lap(way[-1], upper)
            if value < unit.min_lap - EPS:
                continue
            miss = 0 if _steps_on(unit, wants, way[-1], upper, value) else 1
            height = laps - min(value, unit.length)
            cost = (misses + miss, cuts + len(upper.cut), round(height, 6))
            if j not in after or cost < after[j][0]:
                after[j] = (cost, (*way, upper))
        best = after
    if best:
        (misses, _, _), way = min(best.values(), key=lambda item: item[0])
        least = min((lap(a, b) for a, b in pairwise(way)), default=math.inf)
        yield way, least, misses


def _steps_on(unit: Unit, wants: Wants, lower: Course, upper: Course, value: float) -> bool:
    assert wants.step is not None
    step = (upper.phase - lower.phase) % unit.pitch
    right_way = abs(step - wants.step * unit.pitch) <= TOLERANCE.cut
    return as_wished(unit, wants, value) and (right_way or math.isinf(value))
