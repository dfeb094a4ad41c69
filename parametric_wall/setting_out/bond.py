"""The bond of one run: which lengths each course is made of. Pure numbers, mm.

The whole blocks of a course stand at one pitch, so that the perps between them
have one phase: their place within the pitch. What is left at the two ends is
filled by one piece, or, where that would be a sliver, shared between two. A bond
is a row of such courses, each lapping the one below.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise, product
from typing import Literal

from parametric_wall.geometry import TOLERANCE

Meeting = Literal["free", "joint", "through", "butt"]
"""How a course meets the end of its run: at a stop end, at a joint to an
existing wall, through a corner, or against the run that goes through."""

EPS = TOLERANCE.coincident
GRID = 5.0
"""mm. Step of the finer search, taken only where the usual phases give no bond."""
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
        step: the step from course to course that is wished for, in pitches.
        raking: whether every course steps the same way.
    """

    length: float
    joint: float
    min_lap: float
    min_cut: float
    min_closer: float
    step: float
    raking: bool = False

    @property
    def pitch(self) -> float:
        """A whole block and its joint."""
        return self.length + self.joint

    @property
    def wish(self) -> float:
        """The lap that the wished step gives."""
        return self.pitch * self.step - self.joint


@dataclass(frozen=True, slots=True)
class Span:
    """The stretch that one course of a run has to fill, along the run's own axis.

    Attributes:
        start: where its first block begins.
        end: where its last block ends.
        meets: how it meets the two ends.
    """

    start: float
    end: float
    meets: tuple[Meeting, Meeting]


@dataclass(frozen=True)
class Course:
    """One course of one run.

    Attributes:
        span: what it fills.
        joint: its perps.
        pieces: the lengths of its blocks, from the left.
        phase: where its perps stand in the pitch.
    """

    span: Span
    joint: float
    pieces: tuple[float, ...]
    phase: float

    @cached_property
    def perps(self) -> tuple[float, ...]:
        """Left edges of the perps that the next course must lap, in order.

        The joint at a corner is one of them. The joint to an existing wall is
        not: every course has it at the same place.
        """
        edges = [self.span.start - self.joint] if self.span.meets[0] == "butt" else []
        edges += [at + length for at, length in self.placed()][:-1]
        if self.span.meets[1] == "butt":
            edges.append(self.span.end)
        return tuple(edges)

    def placed(self) -> Iterator[tuple[float, float]]:
        """Where each piece begins, and its length."""
        at = self.span.start
        for length in self.pieces:
            yield at, length
            at += length + self.joint

    def cuts(self, whole: float) -> int:
        """How many pieces are not whole."""
        return sum(p < whole - EPS for p in self.pieces)


@dataclass(frozen=True, slots=True)
class Bond:
    """A run's courses from the bottom up, and how they were ranked.

    Attributes:
        courses: one for each course of the wall.
        laps: the least lap of each course on the one below.
        misses: how many of them differ from the wish.
        cuts: pieces that are not whole.
    """

    courses: tuple[Course, ...]
    laps: tuple[float, ...]
    misses: int
    cuts: int

    @property
    def rank(self) -> tuple[float, ...]:
        """Smaller is better: the wish first, then fewer cuts, then greater laps."""
        return (self.misses, self.cuts, -sum(x for x in self.laps if x < math.inf))


def lap(lower: Course, upper: Course) -> float:
    """Least overlap of the blocks of two courses, mm; negative where perps run on."""
    least = math.inf
    edges = lower.perps
    for left in upper.perps:
        i = bisect_left(edges, left)
        if i < len(edges):
            least = min(least, edges[i] - left - upper.joint)
        if i:
            least = min(least, left - edges[i - 1] - lower.joint)
    return least


def phases(unit: Unit, spans: Iterable[Span], *, fine: bool) -> tuple[float, ...]:
    """Phases to try: whole blocks from either end of either course, and the usual shares."""
    starts = {end for s in spans for end in (s.start - unit.joint, s.end)}
    found = {_phase(unit, at + share * unit.pitch) for at in starts for share in SHARES}
    if fine:
        found |= {_phase(unit, k * GRID) for k in range(math.ceil(unit.pitch / GRID))}
    return tuple(sorted(found))


def _phase(unit: Unit, at: float) -> float:
    phase = round(at % unit.pitch, 6)
    return 0.0 if phase >= unit.pitch - EPS else phase


def _remainders(unit: Unit, left: float, least: float) -> Iterator[tuple[float, ...]]:
    """Fill what is left beside the whole blocks: one piece, or one more whole shared by two."""
    if left < EPS:
        yield ()
    elif left >= least - EPS:
        if left <= unit.length + EPS:
            yield (min(left, unit.length),)
    else:
        half = (left + unit.length) / 2
        if half >= unit.min_cut - EPS:
            yield (half, half)


def candidates(unit: Unit, span: Span, tried: tuple[float, ...]) -> tuple[Course, ...]:
    """Every legal course of a span with its whole blocks at one of the phases tried."""
    found: dict[tuple[float, ...], Course] = {}
    for phase in tried:
        for pieces in _fillings(unit, span, phase):
            key = tuple(round(p, 6) for p in pieces)
            if _legal(unit, span, key) and key not in found:
                found[key] = Course(span, unit.joint, key, phase)
    return tuple(found.values())


def _fillings(unit: Unit, span: Span, phase: float) -> Iterator[tuple[float, ...]]:
    pitch, joint = unit.pitch, unit.joint
    length = span.end - span.start
    if length <= unit.length + EPS:
        yield (length,)
    # The perps of this phase within the span: the first one's left edge, and how many.
    first = span.start + (phase - span.start) % pitch
    count = math.floor((span.end - joint - first + EPS) / pitch) + 1
    if count < 1:
        return
    low, high = _least(unit, span)
    left = first - span.start
    right = span.end - (first + (count - 1) * pitch + joint)
    for a, b in product(_remainders(unit, left, low), _remainders(unit, right, high)):
        wholes = count - 1 - max(len(a) - 1, 0) - max(len(b) - 1, 0)
        if wholes >= 0:
            yield (*a, *(unit.length,) * wholes, *b)


def _least(unit: Unit, span: Span) -> tuple[float, float]:
    """The shortest piece at either end: a closer only beside a return."""
    a, b = (unit.min_closer if m == "butt" else unit.min_cut for m in span.meets)
    return a, b


def _legal(unit: Unit, span: Span, pieces: tuple[float, ...]) -> bool:
    if not pieces:
        return False
    low, high = _least(unit, span)
    filled = sum(pieces) + (len(pieces) - 1) * unit.joint
    return (
        abs(filled - (span.end - span.start)) < 1e-3
        and pieces[0] >= low - EPS
        and pieces[-1] >= high - EPS
        and all(p >= unit.min_cut - EPS for p in pieces[1:-1])
        and max(pieces) <= unit.length + EPS
    )


@lru_cache(maxsize=4096)
def bond(unit: Unit, odd: Span, even: Span, count: int, *, fine: bool = False) -> Bond | None:
    """The best-ranked bond among the phases tried; None where none of them is legal.

    Args:
        unit: block and rules.
        odd: span of courses 1, 3, 5 ...
        even: span of courses 2, 4, 6 ...
        count: number of courses.
        fine: whether to try every phase on a 5 mm grid.
    """
    tried = phases(unit, (odd, even), fine=fine)
    rows = (candidates(unit, odd, tried), candidates(unit, even, tried))
    steps = _steps(unit, *rows)
    best: _Ways = {i: ((0, c.cuts(unit.length), 0.0), (i,)) for i, c in enumerate(rows[0])}
    for k in range(1, count):
        best = _next_course(unit, rows[k % 2], steps[k % 2], best)
    if not best:
        return None
    (misses, cuts, _), way = min(best.values())
    laid = tuple(rows[k % 2][i] for k, i in enumerate(way))
    return Bond(laid, tuple(lap(a, b) for a, b in pairwise(laid)), misses, cuts)


def exists(unit: Unit, odd: Span, even: Span, count: int, *, fine: bool = False) -> bool:
    """Whether any bond is legal among the phases tried; see `bond`."""
    tried = phases(unit, (odd, even), fine=fine)
    lower, upper = candidates(unit, odd, tried), candidates(unit, even, tried)
    if count == 1:
        return bool(lower)
    return any(lap(a, b) >= unit.min_lap - EPS for a, b in product(lower, upper))


_Ways = dict[int, tuple[tuple[int, int, float], tuple[int, ...]]]
"""For each candidate of a course, the cost of the best way up to it, and that way."""
_Step = tuple[int, int, float, int]
"""A lower and an upper candidate, their lap, and 1 where it is not as wished."""


def _steps(
    unit: Unit, odd: tuple[Course, ...], even: tuple[Course, ...]
) -> tuple[list[_Step], list[_Step]]:
    """Every legal step from an even course to an odd one, and from an odd to an even one."""
    up: list[_Step] = []
    down: list[_Step] = []
    for (a, lower), (b, upper) in product(enumerate(odd), enumerate(even)):
        value = lap(lower, upper)
        if value >= unit.min_lap - EPS:
            up.append((a, b, value, not _as_wished(unit, lower, upper, value)))
            down.append((b, a, value, not _as_wished(unit, upper, lower, value)))
    return down, up


def _next_course(unit: Unit, here: tuple[Course, ...], steps: list[_Step], best: _Ways) -> _Ways:
    """The best ways one course further up."""
    after: _Ways = {}
    for i, j, value, miss in steps:
        if i not in best:
            continue
        (misses, cuts, laps), way = best[i]
        laps = round(laps - value, 6) if value < math.inf else laps
        cost = (misses + miss, cuts + here[j].cuts(unit.length), laps)
        if j not in after or cost < after[j][0]:
            after[j] = (cost, (*way, j))
    return after


def _as_wished(unit: Unit, lower: Course, upper: Course, value: float) -> bool:
    """Whether one course steps over another as the wish has it, to what can be cut."""
    if math.isinf(value):
        return True
    if abs(value - unit.wish) > TOLERANCE.cut:
        return False
    step = (upper.phase - lower.phase) % unit.pitch
    return not unit.raking or abs(step - unit.step * unit.pitch) <= TOLERANCE.cut
