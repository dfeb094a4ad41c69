"""The bond of one run: which lengths its courses are made of. Pure numbers, mm.

A run is built of two courses in turn, odd and even, and each laps the other. The
whole blocks of a course stand at one pitch, so that the perps between them have
one phase: their place within the pitch. What is left at the two ends is filled by
one piece, or, where that would be a sliver, shared between two; or the whole
blocks stand at both ends and what is left is cut further in.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise, product
from typing import Literal

from parametric_wall.geometry import TOLERANCE
from parametric_wall.setting_out.family import Family

Meeting = Literal["free", "joint", "through", "butt"]
"""How a course meets the end of its run: at a stop end, at a joint to an
existing wall, through a corner, or against the run that goes through."""

EPS = TOLERANCE.coincident
GRID = 5.0
"""mm. Step of the finer search, taken where the usual phases do not settle it."""
NEAR = 3
"""Pitches from an end or the middle within which cuts stand."""
SHARES = (0.0, 1 / 2, 1 / 3, 2 / 3, 1 / 4, 3 / 4)
"""The usual phases, in pitches from either end of either course."""


@dataclass(frozen=True, slots=True)
class Unit:
    """The block and the rules of its bond, mm.

    Attributes:
        length: of a whole block.
        joint: perp.
        min_lap: least overlap of a block on the blocks below.
        min_cut: shortest piece.
        min_closer: shortest piece beside a return.
        family: of which it is the longest, where lengths are mixed.
    """

    length: float
    joint: float
    min_lap: float
    min_cut: float
    min_closer: float
    family: Family | None = None

    @property
    def pitch(self) -> float:
        """A whole block and its joint."""
        return self.length + self.joint

    def with_joint(self, joint: float) -> Unit:
        """The same block laid with another perp."""
        return replace(self, joint=joint)


@dataclass(frozen=True, slots=True)
class Span:
    """The stretch that one course of a run has to fill, its end joints included.

    Attributes:
        start: where the course begins, along the run's own axis.
        end: where it ends.
        meets: how it meets the two ends; at a joint or against another run, the
            joint there is the course's own.
    """

    start: float
    end: float
    meets: tuple[Meeting, Meeting]

    @property
    def jointed(self) -> tuple[bool, bool]:
        """Whether a joint stands at either end."""
        a, b = (m in ("butt", "joint") for m in self.meets)
        return a, b

    def clear(self, joint: float) -> tuple[float, float]:
        """Where the first block begins and the last one ends."""
        a, b = self.jointed
        return self.start + joint * a, self.end - joint * b


@dataclass(frozen=True)
class Course:
    """One course of one run.

    Attributes:
        span: what it fills.
        wholes: lengths of whole blocks, rising; one of them, unless lengths are mixed.
        joint: its perps.
        pieces: the lengths of its blocks, from the left.
        phase: where its perps stand in the pitch.
    """

    span: Span
    wholes: tuple[float, ...]
    joint: float
    pieces: tuple[float, ...]
    phase: float = 0.0

    @cached_property
    def perps(self) -> tuple[float, ...]:
        """Left edges of the perps that the next course must lap, in order.

        The joint at a corner is one of them. The joint to an existing wall is
        not: every course has it at the same place.
        """
        start, end = self.span.meets
        edges = [self.span.start] if start == "butt" else []
        edges += [at + length for at, length in self.placed()][:-1]
        if end == "butt":
            edges.append(self.span.end - self.joint)
        return tuple(edges)

    @cached_property
    def telling(self) -> tuple[float, ...]:
        """The perps that tell the lap with a course of the same pitch.

        Between its ends and its middle a long course steps on evenly, and so does the
        other: what holds at one step holds at all of them.
        """
        pitch = self.wholes[-1] + self.joint
        if len(self.wholes) > 1 or len(self.perps) <= 8 * NEAR:
            return self.perps
        low, high = self.span.start, self.span.end
        marks = (low, (low + high) / 2, high)
        return tuple(p for p in self.perps if any(abs(p - m) <= NEAR * pitch for m in marks))

    def placed(self) -> Iterator[tuple[float, float]]:
        """Where each piece begins, and its length."""
        at, _ = self.span.clear(self.joint)
        for length in self.pieces:
            yield at, length
            at += length + self.joint

    @cached_property
    def are_whole(self) -> tuple[bool, ...]:
        """Of each piece, whether it is a whole block."""
        return tuple(any(abs(p - whole) <= EPS for whole in self.wholes) for p in self.pieces)

    @cached_property
    def cut(self) -> tuple[tuple[float, bool], ...]:
        """The pieces that are not whole, and whether each shows an end at a stop end."""
        free = [m == "free" for m in self.span.meets]
        last = len(self.pieces) - 1
        return tuple(
            (length, (i == 0 and free[0]) or (i == last and free[1]))
            for i, (length, whole) in enumerate(zip(self.pieces, self.are_whole, strict=True))
            if not whole
        )

    @cached_property
    def beside(self) -> int:
        """Places where two cut pieces stand side by side."""
        return sum(not (a or b) for a, b in pairwise(self.are_whole))

    @cached_property
    def skew(self) -> bool:
        """Whether it is not the same from either end."""
        back = reversed(self.pieces)
        return any(abs(a - b) > EPS for a, b in zip(self.pieces, back, strict=True))


def lap(lower: Course, upper: Course) -> float:
    """Least overlap of the blocks of two courses, mm; negative where perps run on."""
    least = math.inf
    alike = lower.joint == upper.joint
    edges = lower.telling if alike else lower.perps
    for left in upper.telling if alike else upper.perps:
        i = bisect_left(edges, left)
        if i < len(edges):
            least = min(least, edges[i] - left - upper.joint)
        if i:
            least = min(least, left - edges[i - 1] - lower.joint)
    return least


def phases(unit: Unit, spans: Iterable[Span], *, fine: bool) -> tuple[float, ...]:
    """Phases to try: whole blocks from either end of either course, and the usual shares."""
    found = {0.0}
    for span in spans:
        a, b = span.clear(unit.joint)
        for at, share in product((a - unit.joint, b), SHARES):
            found.add(_phase(unit, at + share * unit.pitch))
        if fine:
            steps = range(math.ceil(unit.pitch / GRID))
            found |= {_phase(unit, a + k * GRID) for k in steps}
    return tuple(sorted(found))


def _phase(unit: Unit, at: float) -> float:
    phase = round(at % unit.pitch, 6)
    return 0.0 if phase >= unit.pitch - EPS else phase


def candidates(unit: Unit, span: Span, tried: tuple[float, ...]) -> tuple[Course, ...]:
    """Every legal course of a span with its whole blocks at one of the phases tried."""
    found: dict[tuple[float, ...], Course] = {}
    for phase, pieces in _all_fillings(unit, span, tried):
        key = tuple(round(p, 6) for p in pieces)
        if key not in found and legal(unit, span, key):
            found[key] = Course(span, (unit.length,), unit.joint, key, phase)
    return tuple(found.values())


def _all_fillings(
    unit: Unit, span: Span, tried: tuple[float, ...]
) -> Iterator[tuple[float, tuple[float, ...]]]:
    a, b = span.clear(unit.joint)
    if b - a <= unit.length + EPS:
        yield 0.0, (b - a,)
    for phase in tried:
        for pieces in _fillings(unit, span, phase):
            yield phase, pieces
    # Whole blocks from both ends, and what is left of them further in.
    count = math.ceil((b - a + unit.joint - EPS) / unit.pitch)
    left = b - a - (count - 1) * unit.pitch
    phase = _phase(unit, a - unit.joint)
    middle = (count - 1) // 2
    for k in sorted({1, 2, middle, count - 3, count - 2} & set(range(1, count - 1))):
        yield phase, (unit.length,) * k + (left,) + (unit.length,) * (count - 1 - k)
        half = (left + unit.length) / 2
        yield phase, (unit.length,) * k + (half, half) + (unit.length,) * (count - 2 - k)


def _fillings(unit: Unit, span: Span, phase: float) -> Iterator[tuple[float, ...]]:
    pitch, joint = unit.pitch, unit.joint
    start, end = span.clear(joint)
    # The perps of this phase within the span: the first one's left edge, and how many.
    first = start + (phase - start) % pitch
    count = math.floor((end - joint - first + EPS) / pitch) + 1
    if count < 1:
        return
    low, high = least_pieces(unit, span)
    left = first - start
    right = end - (first + (count - 1) * pitch + joint)
    for a, b in product(_remainders(unit, left, low), _remainders(unit, right, high)):
        wholes = count - 1 - max(len(a) - 1, 0) - max(len(b) - 1, 0)
        if wholes >= 0:
            yield (*a, *(unit.length,) * wholes, *b)


def _remainders(unit: Unit, left: float, least: float) -> Iterator[tuple[float, ...]]:
    """Fill what is left beside the whole blocks: one piece, or one more whole shared by two."""
    if left < EPS:
        yield ()
        return
    if least - EPS <= left <= unit.length + EPS:
        yield (min(left, unit.length),)
    half = (left + unit.length) / 2
    if unit.min_cut - EPS <= half < unit.length - EPS:
        yield (half, half)


def least_pieces(unit: Unit, span: Span) -> tuple[float, float]:
    """The shortest piece at either end: a closer only beside a return."""
    a, b = (unit.min_closer if m == "butt" else unit.min_cut for m in span.meets)
    return a, b


def legal(unit: Unit, span: Span, pieces: tuple[float, ...]) -> bool:
    """Whether a row of pieces fills a span without a sliver."""
    if not pieces:
        return False
    low, high = least_pieces(unit, span)
    start, end = span.clear(unit.joint)
    filled = sum(pieces) + (len(pieces) - 1) * unit.joint
    return (
        abs(filled - (end - start)) < 1e-3
        and pieces[0] >= low - EPS
        and pieces[-1] >= high - EPS
        and all(p >= unit.min_cut - EPS for p in pieces[1:-1])
        and max(pieces) <= unit.length + EPS
    )


def whole_joints(unit: Unit, span: Span, low: float, high: float) -> Iterator[float]:
    """Perps between two limits that let a span take whole blocks only."""
    length = span.end - span.start
    most = math.floor((length + EPS) / (unit.length + low)) + 1
    for count in range(max(1, most - 2), most + 1):
        joints = count - 1 + sum(span.jointed)
        if joints:
            joint = (length - count * unit.length) / joints
            if low - EPS <= joint <= high + EPS:
                yield joint
