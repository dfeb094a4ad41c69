"""What makes one bond better than another: the criteria, and how a choice is measured by them."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from parametric_wall.setting_out.bond import Course

LENGTH_DIGITS = 1
"""Decimals of a mm to which two cut lengths are one."""


@dataclass(frozen=True)
class Bond:
    """A run's courses from the bottom up.

    Attributes:
        joint: the nominal perp, mm.
        courses: one for each course of the wall.
        lap: the least lap of any course on the one below, mm; infinite without perps.
        misses: how many courses do not step over the one below as wished.
    """

    joint: float
    courses: tuple[Course, ...]
    lap: float
    misses: int

    @cached_property
    def cut(self) -> tuple[tuple[float, bool], ...]:
        """Every cut piece, and whether it shows an end at a stop end."""
        return tuple(cut for course in self.courses for cut in course.cut)

    @cached_property
    def whole(self) -> int:
        """How many whole blocks there are."""
        return sum(len(c.pieces) - len(c.cut) for c in self.courses)

    @property
    def opened(self) -> float:
        """How far its perps are from the nominal one, added up over the courses, mm."""
        return round(sum(abs(c.joint - self.joint) for c in self.courses), 6)


def measures(bonds: Iterable[Bond], blocks: int) -> dict[str, float]:
    """A choice of bonds by every criterion; smaller is better.

    Args:
        bonds: one a run.
        blocks: bought for all of them.
    """
    bonds = tuple(bonds)
    courses = {id(c): c for b in bonds for c in b.courses}
    lengths = {round(x, LENGTH_DIGITS) for c in courses.values() for x, _ in c.cut}
    least = min((b.lap for b in bonds), default=math.inf)
    return {
        "wish": sum(b.misses for b in bonds),
        "blocks": blocks,
        "cuts": sum(len(b.cut) for b in bonds),
        "side by side": sum(c.beside for b in bonds for c in b.courses),
        "lap": -round(least, 6),
        "lengths": len(lengths),
        "symmetry": sum(c.skew for b in bonds for c in b.courses),
        "joint": sum(b.opened for b in bonds),
    }


Rank = tuple[float, ...]


def rank(found: dict[str, float], order: tuple[str, ...]) -> Rank:
    """The measures in the order in which they count."""
    return tuple(found[name] for name in order)
