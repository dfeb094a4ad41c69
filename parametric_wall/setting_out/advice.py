"""Lengths near a run's own, and heights near a wall's own, that its blocks suit better."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count

from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.gauge import Gauge, by_courses
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.corners import BondedRun, Task, bonds_of, suiting
from parametric_wall.setting_out.runs import Run


@dataclass(frozen=True, slots=True)
class Suits:
    """A run, and a length near its own that needs fewer cuts.

    Attributes:
        run: the run.
        cuts: that it needs as it is.
        length: the nearest one, shorter or longer, with the fewest cuts, mm.
        cuts_then: that it would need.
    """

    run: Run
    cuts: int
    length: float
    cuts_then: int


def better_lengths(task: Task, choice: tuple[BondedRun, ...]) -> Iterator[Suits]:
    """For every run the nearest shorter and the nearest longer length that needs fewer cuts."""
    for laid in choice:
        for way in (-1, 1):
            found = _nearest(task, laid, way)
            if found is not None:
                yield found


def _nearest(task: Task, laid: BondedRun, way: int) -> Suits | None:
    now, best = len(laid.bond.cut), None
    for step in suiting(task, laid.run, way):
        length = round(laid.run.length + way * step, 6)
        if step <= TOLERANCE.coincident or length <= 0:
            continue
        bonds = bonds_of(task, laid.run.resized(length), laid.before, laid.after)
        if bonds and (cuts := len(bonds[0].cut)) < (now if best is None else best.cuts_then):
            best = Suits(laid.run, now, length, cuts)
    return best


def nominal_heights(spec: WallSpec) -> tuple[Gauge, ...]:
    """The nearest lower and the nearest higher finished height of whole courses on nominal beds.

    None where the wall has nominal beds as it is, as one that asks for courses always has.
    """
    now, bed = spec.gauge, spec.joints.bed_mm
    near = TOLERANCE.coincident
    if now.wanted is None or (now.met and bed - near <= now.bed <= bed + near):
        return ()
    order = spec.bond.course_heights_mm or spec.block.heights
    rise = now.rise if now.coped else None
    stacks = (by_courses(n, spec.joints, order, now.base, rise) for n in count(1))
    below: tuple[Gauge, ...] = ()
    tried = next(stacks)
    while tried.finished < now.wanted:
        below, tried = (tried,), next(stacks)
    return (*below, tried)
