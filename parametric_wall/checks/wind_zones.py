"""The zones of wind pressure along a free-standing wall, run by run."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.resolve import WallSpec
from parametric_wall.reference.en1991_1_4 import ZONES, Zone, cp_net, zone_ends
from parametric_wall.setting_out.runs import CORNERS, EndKind, Run, runs_of


@dataclass(frozen=True, slots=True)
class Pressed:
    """A stretch of a run with one net pressure coefficient.

    Attributes:
        run: its run's name.
        zone: A nearest a free end or corner, D furthest.
        start: from the left end of the run, mm.
        end: as `start`, mm.
        before: length of the runs before it, mm: along the wall unrolled.
        cp: net pressure coefficient.
    """

    run: str
    zone: Zone
    start: float
    end: float
    before: float
    cp: float

    @property
    def where(self) -> str:
        """As a finding or a calculation names it."""
        return f"{self.run} {self.start / 1000:.2f}-{self.end / 1000:.2f} m, zone {self.zone}"


def pressed(
    spec: WallSpec, height: float, solidity: float, at_free_ends: float = 0.0
) -> tuple[Pressed, ...]:
    """The zones of every run of a wall, each place of it once, from its start.

    A corner is a return as long as the other run. An existing wall that the end meets may
    be lower than this one: that end is taken as free.

    Args:
        spec: the wall.
        height: exposed to the wind, mm.
        solidity: solid over gross area.
        at_free_ends: length of a return to be thought of at every free end, mm.
    """
    runs = runs_of(spec)
    zones: list[Pressed] = []
    before = 0.0
    for i, run in enumerate(runs):
        # A closed path's first run follows its last.
        left = _return(run.start, runs[i - 1], at_free_ends)
        right = _return(run.end, runs[(i + 1) % len(runs)], at_free_ends)
        zones += _along(run, (left, right), (height, solidity), before)
        before += run.length
    return tuple(zones)


def _return(end: EndKind, beside: Run, at_free_ends: float) -> float:
    """Length of the return at an end, mm."""
    return beside.length if end in CORNERS else at_free_ends


def _along(
    run: Run, returns: tuple[float, float], wall: tuple[float, float], before: float
) -> list[Pressed]:
    """Zones from both ends; where they meet, the greater coefficient counts."""
    length, (height, solidity) = run.length, wall
    ends = zone_ends(height)
    cps = [{z: cp_net(z, length, height, lr, solidity) for z in ZONES} for lr in returns]
    found: list[Pressed] = []
    for a, b in pairwise(_marks(length, ends)):
        middle = (a + b) / 2
        near = (_zone(middle, ends), _zone(length - middle, ends))
        cp, zone = min(zip((cps[0][near[0]], cps[1][near[1]]), near, strict=True), key=_worst)
        if found and (found[-1].zone, found[-1].cp) == (zone, cp):
            found[-1] = replace(found[-1], end=b)
        else:
            found.append(Pressed(run.name, zone, a, b, before, cp))
    return found


def _marks(length: float, ends: tuple[float, float, float]) -> list[float]:
    """Where a zone may begin or end, from 0 to the whole length; near ones are one."""
    marks = [0.0]
    for mark in sorted((*ends, *(length - end for end in ends))):
        if marks[-1] + TOLERANCE.coincident < mark < length - TOLERANCE.coincident:
            marks.append(mark)
    return [*marks, length]


def _worst(one: tuple[float, Zone]) -> tuple[float, Zone]:
    return -one[0], one[1]


def _zone(distance: float, ends: tuple[float, float, float]) -> Zone:
    return next((z for z, end in zip(ZONES, ends, strict=False) if distance < end), "D")
