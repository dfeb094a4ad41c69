"""The gauge: courses, beds and levels, resolved once for everything that follows."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import count

from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.model import Height, Joints


@dataclass(frozen=True, slots=True)
class Gauge:
    """Courses and levels. z = 0 is ground level; all in mm.

    Attributes:
        courses: how many.
        bed: thickness of every bed, and of the coping bed at its thin edge.
        block_height: of one course's blocks.
        base: z of the top of the footing or base.
        rise: from the top of the masonry plus one bed to the highest arris;
            0 without a coping, and then there is no last bed either.
        coped: whether a coping lies on a bed of its own.
        wanted: the finished height asked for; None when courses were asked for.
        below: the nearest finished height that gauges, under the one wanted.
        above: the nearest over it.
    """

    courses: int
    bed: float
    block_height: float
    base: float
    rise: float
    coped: bool
    wanted: float | None = None
    below: float | None = None
    above: float | None = None

    @property
    def gauge(self) -> float:
        """Bed and block."""
        return self.bed + self.block_height

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

    def course_base(self, course: int) -> float:
        """Level of the underside of a course's bed; courses count from 1."""
        return self.base + (course - 1) * self.gauge


def gauge_of(
    height: Height, joints: Joints, block_height: float, base: float, rise: float | None
) -> Gauge:
    """The gauge of a wall; `rise` is None without a coping. All in mm."""
    if height.courses is not None:
        return by_courses(height.courses, joints, block_height, base, rise)
    assert height.finished_mm is not None
    return by_height(height.finished_mm, joints, block_height, base, rise)


def by_courses(
    courses: int, joints: Joints, block_height: float, base: float, rise: float | None
) -> Gauge:
    """The gauge of so many courses with nominal beds; `rise` is None without a coping."""
    return Gauge(courses, joints.bed_mm, block_height, base, rise or 0.0, rise is not None)


def by_height(
    finished: float, joints: Joints, block_height: float, base: float, rise: float | None
) -> Gauge:
    """The gauge that meets a finished height with beds within their tolerance.

    Of several numbers of courses the one with beds nearest to nominal is taken.
    Where none meets it, the gauge of the nearest height below (or above, where
    there is none below) is given, with both heights.
    """
    last_bed = 0 if rise is None else 1
    body = finished - base - (rise or 0.0)

    def reach(n: int, bed: float) -> float:
        return n * block_height + (n + last_bed) * bed

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
        bed = (body - n * block_height) / (n + last_bed)
        fits.append((abs(bed - joints.bed_mm), n, bed))
    if fits:
        _, n, bed = min(fits)
        return Gauge(n, bed, block_height, base, rise or 0.0, last_bed == 1, finished)
    heights = [
        None if c is None else Gauge(*c, block_height, base, rise or 0.0, last_bed == 1).finished
        for c in (low, high)
    ]
    n, bed = low or high or (1, joints.bed_mm)
    return Gauge(n, bed, block_height, base, rise or 0.0, last_bed == 1, finished, *heights)
