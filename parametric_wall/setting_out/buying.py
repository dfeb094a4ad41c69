"""What is asked of the bonds of a wall, and how many blocks they take. Pure numbers, mm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from parametric_wall.setting_out.ranking import Bond
from parametric_wall.setting_out.stock import pack

Cut = tuple[float, bool]
"""Length of a cut piece, and whether it shows an end at a stop end."""


@dataclass(frozen=True, slots=True)
class Wants:
    """What is asked of the bonds of a wall.

    Attributes:
        count: courses.
        step: the step wished for from course to course, in pitches; None for the best.
        raking: whether every course steps the same way.
        joints: least and greatest perp; None where it is not to be opened or closed.
        reuse: whether offcuts are used.
        loss: mm lost between two pieces cut from one block.
        order: criteria in the order in which they count.
        heights: of the blocks of every course, from the bottom up; none where all are alike.
    """

    count: int
    step: float | None
    raking: bool
    joints: tuple[float, float] | None
    reuse: bool
    loss: float
    order: tuple[str, ...]
    heights: tuple[float, ...] = ()

    def courses(self, height: float | None) -> tuple[int, int]:
        """How many odd courses there are, and how many even ones; of one height, if given."""
        if height is None:
            return self.count - self.count // 2, self.count // 2
        return self.heights[::2].count(height), self.heights[1::2].count(height)


def at_height(laid: Iterable[tuple[Bond, Wants]], height: float) -> tuple[int, tuple[Cut, ...]]:
    """Whole blocks of one height, and the pieces that have to be cut from others of it."""
    courses = [
        course
        for bond, wants in laid
        for course, own in zip(bond.courses, wants.heights, strict=True)
        if own == height
    ]
    whole = sum(len(c.pieces) - len(c.cut) for c in courses)
    return whole, tuple(cut for c in courses for cut in c.cut)


def bought_for(laid: Iterable[tuple[Bond, Wants]], length: float) -> int:
    """Blocks that bonds of one length of block take: a piece is cut from a block of its height."""
    laid = tuple(laid)
    wants = laid[0][1]
    heights = {height for _, asked in laid for height in asked.heights}
    if len(heights) > 1:
        needs = [at_height(laid, height) for height in sorted(heights)]
    else:
        cut = tuple(cut for bond, _ in laid for cut in bond.cut)
        needs = [(sum(bond.whole for bond, _ in laid), cut)]
    return sum(whole + bought(cut, length, wants) for whole, cut in needs)


def bought(cut: tuple[Cut, ...], length: float, wants: Wants) -> int:
    """Blocks that cut pieces of one height come from."""
    if not cut or not wants.reuse:
        return len(cut)
    return _packed(tuple(sorted(cut)), length, wants.loss)


@lru_cache(maxsize=65536)
def _packed(cut: tuple[Cut, ...], length: float, loss: float) -> int:
    lengths, ends = zip(*cut, strict=True)
    return len(pack(lengths, length, loss, ends=ends, seconds=0.0).units)
