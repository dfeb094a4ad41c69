"""Fills a length with units so that its joints stay clear of given places. Pure numbers, mm."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections import deque
from dataclasses import dataclass

from parametric_wall.geometry import TOLERANCE

EPS = TOLERANCE.coincident


@dataclass(frozen=True, slots=True)
class Stretch:
    """A length to fill.

    Attributes:
        length: over all.
        unit: length of a whole unit.
        joint: between units.
        least: shortest piece inside.
        first: shortest first piece.
        last: shortest last piece.
        square: whether a whole unit may stand at the start and at the end uncut.
    """

    length: float
    unit: float
    joint: float
    least: float
    first: float
    last: float
    square: tuple[bool, bool] = (True, True)


Cost = tuple[int, int]
NEVER: Cost = (1 << 30, 0)


def fill(stretch: Stretch, keep_clear: tuple[tuple[float, float], ...]) -> tuple[float, ...]:
    """Lengths of the pieces that fill a stretch with the fewest cuts, then the fewest pieces.

    Args:
        stretch: what to fill.
        keep_clear: open intervals, in order, where no joint may begin.

    Returns:
        The lengths from the start; empty where nothing fits.
    """
    if stretch.first - EPS <= stretch.length <= stretch.unit + EPS and (
        stretch.last - EPS <= stretch.length
    ):
        return (stretch.length,)
    if not _holds(stretch):
        return ()
    step = _lattice(stretch)
    table = _Table(stretch, step, keep_clear)
    return table.backwards()


def _holds(s: Stretch) -> bool:
    """Whether two or more pieces can add up to the length: known without trying any."""
    fewest = math.ceil((s.length + s.joint) / (s.unit + s.joint) - EPS)
    shortest = s.first + s.last + (fewest - 2) * s.least + (fewest - 1) * s.joint
    return fewest >= 2 and shortest <= s.length + EPS


def _lattice(stretch: Stretch) -> float:
    """The coarsest of 1, 0.5 and 0.1 mm that a whole unit and its joint keep to."""
    for step in (1.0, 0.5):
        if all(abs(x / step - round(x / step)) < EPS for x in (stretch.unit, stretch.joint)):
            return step
    return 0.1


class _Table:
    """Least cost of a row of pieces whose last joint begins at each place of the lattice."""

    def __init__(
        self, s: Stretch, step: float, keep_clear: tuple[tuple[float, float], ...]
    ) -> None:
        self.s, self.step = s, step
        self.whole = math.floor(s.unit / step + EPS)
        self.joint = math.ceil(s.joint / step - EPS)
        self.least = math.ceil(s.least / step - EPS)
        self.first = math.ceil(s.first / step - EPS)
        self.count = math.floor((s.length - s.joint) / step)
        self.cost: list[Cost] = [NEVER] * (self.count + 1)
        self.back: list[int] = [-1] * (self.count + 1)
        self._sweep(_blocked(keep_clear, step, self.count))

    def _sweep(self, blocked: bytearray) -> None:
        window: deque[int] = deque()
        cost, back = self.cost, self.back
        far, near = self.whole + self.joint, self.least + self.joint
        for x in range(self.count + 1):
            came = x - near
            if came >= 0 and cost[came] < NEVER:
                while window and cost[window[-1]] >= cost[came]:
                    window.pop()
                window.append(came)
            while window and window[0] <= x - far:
                window.popleft()
            if blocked[x]:
                continue
            best, origin = self._first_piece(x), -1
            if x >= far and cost[x - far] < NEVER:
                cuts, pieces = cost[x - far]
                best, origin = min((best, origin), ((cuts, pieces + 1), x - far))
            if window:
                cuts, pieces = cost[window[0]]
                best, origin = min((best, origin), ((cuts + 1, pieces + 1), window[0]))
            cost[x], back[x] = best, origin

    def _first_piece(self, x: int) -> Cost:
        if x == self.whole and self.s.square[0]:
            return (0, 1)
        return (1, 1) if self.first <= x <= self.whole else NEVER

    def backwards(self) -> tuple[float, ...]:
        """The pieces of the best row that a last piece completes."""
        s, step = self.s, self.step
        best: tuple[Cost, int] = (NEVER, -1)
        for x in range(self.count + 1):
            last = s.length - x * step - s.joint
            if self.cost[x] >= NEVER or not s.last - EPS <= last <= s.unit + EPS:
                continue
            cuts, pieces = self.cost[x]
            whole = s.square[1] and last >= s.unit - EPS
            best = min(best, ((cuts + (0 if whole else 1), pieces + 1), x))
        x = best[1]
        if x < 0:
            return ()
        row = [s.length - x * step - s.joint]
        while x >= 0:
            before = self.back[x]
            begun = 0.0 if before < 0 else before * step + s.joint
            row.append(x * step - begun)
            x = before
        return tuple(reversed(row))


def _blocked(intervals: tuple[tuple[float, float], ...], step: float, count: int) -> bytearray:
    marks = bytearray(count + 1)
    for low, high in intervals:
        a = max(0, math.floor(low / step + EPS) + 1)
        b = min(count, math.ceil(high / step - EPS) - 1)
        if a <= b:
            marks[a : b + 1] = b"\x01" * (b - a + 1)
    return marks


def clearance(joints: list[float], width: float, perps: list[float], perp: float) -> float:
    """Least distance between joints and the perps below, both given by left edges, in order."""
    least = math.inf
    for left in joints:
        i = bisect_left(perps, left)
        if i < len(perps):
            least = min(least, perps[i] - left - width)
        if i:
            least = min(least, left - perps[i - 1] - perp)
    return least
