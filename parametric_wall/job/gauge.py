"""The gauge: courses, beds and levels, resolved once for everything that follows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import count, cycle, islice

from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.model import Height, Joints


@dataclass(frozen=True, slots=True)
class Gauge:
    """Courses and levels. z = 0 is ground level; all in mm.

    Attributes:
        heights: of the blocks of every course, from the bottom up.
        bed: thickness of every bed, and of the coping bed at its thin edge.
        base: z of the top of the footing or base.
        rise: from the top of the masonry plus one bed to the highest arris;
            0 without a coping, and then there is no last bed either.
        coped: whether a coping lies on a bed of its own.
        wanted: the finished height asked for; None when courses were asked for.
        below: the nearest finished height that gauges, under the one wanted.
        above: the nearest over it.
    """

    heights: tuple[float, ...]
    bed: float
    base: float
    rise: float
    coped: bool
    wanted: float | None = None
    below: float | None = None
    above: float | None = None

    @property
    def courses(self) -> int:
        """How many."""
        return len(self.heights)

    @property
    def gauges(self) -> tuple[float, ...]:
        """Bed and block, once for every height, as they come from the bottom."""
        return tuple(self.bed + height for height in dict.fromkeys(self.heights))

    @property
    def stacked(self) -> float:
        """The heights of all blocks one on another, without their beds."""
        return _total(self.heights)

    @property
    def masonry(self) -> float:
        """From the underside of the first bed to the top of the last course."""
        return _total(self.heights, self.bed)

    @property
    def masonry_top(self) -> float:
        """Level of the top of the last course."""
        return self.course_base(self.courses + 1)

    @property
    def finished(self) -> float:
        """Level of the highest arris."""
        return self.masonry_top + (self.bed + self.rise if self.coped else 0.0)

    @property
    def met(self) -> bool:
        """Whether the height asked for is the height got."""
        return self.wanted is None or abs(self.finished - self.wanted) <= TOLERANCE.coincident

    def block_height(self, course: int) -> float:
        """Height of the blocks of a course; courses count from 1."""
        return self.heights[course - 1]

    def course_height(self, course: int) -> float:
        """Bed and block of a course."""
        return self.bed + self.block_height(course)

    def course_base(self, course: int) -> float:
        """Level of the underside of a course's bed."""
        return self.base + _total(self.heights[: course - 1], self.bed)


def _total(heights: Sequence[float], bed: float = 0.0) -> float:
    """Courses one on another; equal ones are multiplied, so that rounding adds up nowhere."""
    return sum(n * (bed + height) for height, n in Counter(heights).items())


def stack(order: Sequence[float], courses: int) -> tuple[float, ...]:
    """Heights of so many courses: the stated ones in turn."""
    return tuple(islice(cycle(order), courses))


def gauge_of(
    height: Height, joints: Joints, order: Sequence[float], base: float, rise: float | None
) -> Gauge:
    """The gauge of a wall. All in mm.

    Args:
        height: as asked for.
        joints: beds.
        order: heights of the blocks, course by course from the bottom, repeated.
        base: top of what the wall stands on.
        rise: None without a coping.
    """
    if height.courses is not None:
        return by_courses(height.courses, joints, order, base, rise)
    assert height.finished_mm is not None
    return by_height(height.finished_mm, joints, order, base, rise)


def by_courses(
    courses: int, joints: Joints, order: Sequence[float], base: float, rise: float | None
) -> Gauge:
    """The gauge of so many courses with nominal beds; `rise` is None without a coping."""
    return Gauge(stack(order, courses), joints.bed_mm, base, rise or 0.0, rise is not None)


def by_height(
    finished: float, joints: Joints, order: Sequence[float], base: float, rise: float | None
) -> Gauge:
    """The gauge that meets a finished height with beds within their tolerance.

    Of several numbers of courses the one with beds nearest to nominal is taken.
    Where none meets it, the gauge of the nearest height below (or above, where
    there is none below) is given, with both heights.
    """
    last_bed = 0 if rise is None else 1
    body = finished - base - (rise or 0.0)

    def reach(n: int, bed: float) -> float:
        return _total(stack(order, n)) + (n + last_bed) * bed

    def gauge(n: int, bed: float) -> Gauge:
        return Gauge(stack(order, n), bed, base, rise or 0.0, last_bed == 1, finished)

    low = high = None
    fits: list[tuple[float, int, float]] = []
    for n in count(1):
        least, most = reach(n, joints.bed_min_mm), reach(n, joints.bed_max_mm)
        if least > body + TOLERANCE.coincident:
            high = (n, joints.bed_min_mm)
            break
        if most < body - TOLERANCE.coincident:
            low = (n, joints.bed_max_mm)
            continue
        bed = (body - reach(n, 0.0)) / (n + last_bed)
        fits.append((abs(bed - joints.bed_mm), n, bed))
    if fits:
        _, n, bed = min(fits)
        return gauge(n, bed)
    below, above = (None if c is None else gauge(*c).finished for c in (low, high))
    nearest = gauge(*(low or high or (1, joints.bed_mm)))
    return replace(nearest, below=below, above=above)
