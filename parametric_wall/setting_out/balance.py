"""Mixed lengths brought nearer to their mix: neighbours changed for others as long together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import product
from random import Random

from parametric_wall.setting_out.bond import EPS, Course, Unit, lap
from parametric_wall.setting_out.family import Family, Tally
from parametric_wall.setting_out.mixed import bond_of, longest_alike
from parametric_wall.setting_out.ranking import Bond
from parametric_wall.setting_out.rows import family_of

TOGETHER = (2, 3)
"""So many neighbours are changed at once, each set of them twice."""
LEAST = 0.5
"""Blocks too many of some lengths that are let be."""

Row = tuple[float, ...]


def balanced(unit: Unit, bond: Bond, tally: Tally, dice: Random) -> tuple[Bond, Tally]:
    """A bond of the same perps and ends, and the tally with it, its lengths nearer to the mix."""
    family, courses = family_of(unit), list(bond.courses)
    places = [
        (k, i, size)
        for size in (*TOGETHER, *TOGETHER)
        for k, course in enumerate(courses)
        for i in range(len(course.pieces) - size + 1)
    ]
    dice.shuffle(places)
    for k, i, size in places:
        off = tally.off(family)
        if off <= LEAST:
            break
        pieces = courses[k].pieces
        others = list(_as_long(family.lengths, pieces[i : i + size]))
        dice.shuffle(others)
        for other in others:
            changed = tally.exchanged(pieces[i : i + size], other, family)
            if changed.off(family) > off - EPS:
                continue
            course = replace(courses[k], pieces=(*pieces[:i], *other, *pieces[i + size :]))
            if _legal(unit, course, courses, k):
                courses[k], tally = course, changed
                break
    return bond_of(unit, tuple(courses), family.most_alike), tally


def _as_long(lengths: Row, row: Row) -> Iterator[Row]:
    """Rows of as many whole blocks, as long together, that are not the same ones."""
    if all(x in lengths for x in row):
        rows = _rows_of(lengths, len(row))[round(sum(row), 6)]
        yield from (other for other in rows if sorted(other) != sorted(row))


@lru_cache(maxsize=64)
def _rows_of(lengths: Row, size: int) -> dict[float, list[Row]]:
    """Every row of so many whole blocks by what they come to."""
    found: dict[float, list[Row]] = {}
    for row in product(lengths, repeat=size):
        found.setdefault(round(sum(row), 6), []).append(row)
    return found


def _legal(unit: Unit, course: Course, courses: list[Course], k: int) -> bool:
    """Whether a course may stand in the place of one: it laps, and looks like none near it."""
    family: Family = family_of(unit)
    if longest_alike(course) > family.most_alike:
        return False
    if any(
        course.pieces == c.pieces for c in (*courses[max(0, k - 2) : k], *courses[k + 1 : k + 3])
    ):
        return False
    return all(
        lap(course, c) >= unit.min_lap - EPS
        for c in (*courses[max(0, k - 1) : k], *courses[k + 1 : k + 2])
    )
