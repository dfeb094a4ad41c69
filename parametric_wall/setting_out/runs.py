"""The runs of a wall: straight lengths between corners or ends.

Who owns a corner: in every course one of the two runs that meet goes through,
and its block, its bed and its share of the coping bed cover the corner's square.
The other run butts against it; the upright joint between them is the butting
run's. The next course has it the other way round. At an abutment the joint to
the existing wall is the run's own.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from parametric_wall.geometry import Placement
from parametric_wall.job.model import Abutment, StopEnd
from parametric_wall.job.path import LEFT
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.bond import Meeting

EndKind = Literal["stop", "abutment", "movement", "convex", "re-entrant"]
CORNERS: frozenset[EndKind] = frozenset({"convex", "re-entrant"})


@dataclass(frozen=True, slots=True)
class Run:
    """One run, measured along its outer face; all in mm.

    Attributes:
        index: from 0, in the order of the path.
        number: as the job file counts its legs.
        length: along the outer face.
        place: its axes in the wall's.
        start: what stands at its left end, seen from the front.
        end: what stands at its right end.
        core: the stretch that no corner's square takes from.
        thickness: of the wall.
        panel: its letter among the panels of a divided run; empty where it is not divided.
        inner: whether another panel of the same run stands past its start, past its end.
        joint: width of the movement joint past its end, which is this panel's, mm.
    """

    index: int
    number: int
    length: float
    place: Placement
    start: EndKind
    end: EndKind
    core: tuple[float, float]
    thickness: float
    panel: str = ""
    inner: tuple[bool, bool] = (False, False)
    joint: float = 0.0

    @property
    def name(self) -> str:
        """As it stands in ids."""
        return f"r{self.number}{self.panel}"

    def span(self, start: Meeting, end: Meeting, movement_joint: float) -> tuple[float, float]:
        """Where a course begins and ends: its bed, and its blocks with the joints at its ends.

        A movement joint to an existing wall is taken off; one between panels lies past them.
        """
        a, b = self.core
        if start == "through":
            a -= self.thickness
        if end == "through":
            b += self.thickness
        if self.start == "movement" and not self.inner[0]:
            a += movement_joint
        if self.end == "movement" and not self.inner[1]:
            b -= movement_joint
        return a, b

    def resized(self, length: float) -> Run:
        """The same run with another length."""
        a, b = self.core
        return replace(self, length=length, core=(a, b + length - self.length))


def _end_kind(turn: int | None, end: StopEnd | Abutment) -> EndKind:
    if turn is not None:
        return "convex" if turn == LEFT else "re-entrant"
    if isinstance(end, Abutment):
        return "movement" if end.joint == "movement" else "abutment"
    return "stop"


def runs_of(spec: WallSpec) -> tuple[Run, ...]:
    """The runs of a wall, in the order of its path, before any is divided."""
    path, t = spec.path, spec.thickness
    runs = []
    for i, place in enumerate(path.placements()):
        start = _end_kind(path.turn_before(i), path.start)
        end = _end_kind(path.turn_after(i), path.end)
        length = path.lengths[i]
        core = (t if start == "convex" else 0.0, length - (t if end == "convex" else 0.0))
        runs.append(Run(i, path.numbers[i], length, place, start, end, core, t))
    return tuple(runs)


def meetings(run: Run, course: int, before: int, after: int) -> tuple[Meeting, Meeting]:
    """How a course meets the two ends of its run.

    Args:
        run: the run.
        course: from 1.
        before: phase of the corner at its start: 0 where the run that leads
            into the corner goes through in odd courses, 1 in even ones.
        after: phase of the corner at its end.
    """

    def at(kind: EndKind, goes_through: bool) -> Meeting:
        if kind in CORNERS:
            return "through" if goes_through else "butt"
        return "joint" if kind == "abutment" else "free"

    return (
        at(run.start, (course + before) % 2 == 0),
        at(run.end, (course + after) % 2 == 1),
    )
