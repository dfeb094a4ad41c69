"""Lengths and heights near a job's own, and what each would save: the whole job set out with it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeVar

from pydantic import ValidationError

from parametric_wall.checks.check import check
from parametric_wall.checks.finding import Grade
from parametric_wall.errors import JobError
from parametric_wall.job.gauge import Gauge
from parametric_wall.job.model import Height, Job, Plan, Rectangle, Straight, Table
from parametric_wall.job.resolve import JobSpec, WallSpec, resolve
from parametric_wall.setting_out.advice import Suits, better_lengths, nominal_heights
from parametric_wall.setting_out.choose import task_of
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.setting_out.set_out import set_out

Some = TypeVar("Some", bound=Table)

LENGTH_DIGITS = 6
HALF_TURN_DEG = 180.0


@dataclass(frozen=True, slots=True)
class Needs:
    """What a whole job takes: blocks bought, and pieces of block to cut."""

    blocks: int
    cuts: int


@dataclass(frozen=True, slots=True)
class NearLength:
    """A length near a run's own with which it needs fewer cuts.

    Attributes:
        wall: the wall's name.
        suits: the run by itself, as it is and with the other length.
        with_run: the run opposite that changes by as much, where the plan is closed.
        now: of the whole job as it is.
        then: of the whole job with that length.
    """

    wall: str
    suits: Suits
    with_run: int | None
    now: Needs
    then: Needs


@dataclass(frozen=True, slots=True)
class NearHeight:
    """A finished height near the one asked for that whole courses meet with nominal beds.

    Attributes:
        wall: the wall as it is.
        gauge: that it would have.
        now: of the whole job as it is.
        then: of the whole job with that height.
    """

    wall: WallSpec
    gauge: Gauge
    now: Needs
    then: Needs


def near_lengths(spec: JobSpec) -> Iterator[NearLength]:
    """For every run the nearest lengths, both ways, with fewer cuts in it and in the whole job."""
    laid = set_out(spec)
    now, tried = _needs(laid), _Tried(spec, laid)
    for i, (wall, placed) in enumerate(zip(spec.walls, laid.walls, strict=True)):
        if wall.block.lengths_mm:
            continue  # Nearly every length takes whole blocks of several lengths.
        for suits in better_lengths(task_of(spec, wall), placed.bonded):
            by = suits.length - suits.run.length
            found = [
                (then.blocks, then.cuts, with_run)
                for plan, with_run in _plans(spec, i, suits.run.number, by)
                if (then := tried.needs(i, {"plan": plan})) is not None and then.cuts < now.cuts
            ]
            if found:
                blocks, cuts, with_run = min(found, key=lambda one: one[:2])
                yield NearLength(wall.name, suits, with_run, now, Needs(blocks, cuts))


def near_heights(spec: JobSpec) -> Iterator[NearHeight]:
    """For every wall without nominal beds the nearest heights, both ways, that give them."""
    laid = set_out(spec)
    now, tried = _needs(laid), _Tried(spec, laid)
    for i, wall in enumerate(spec.walls):
        for gauge in nominal_heights(wall):
            finished = round(gauge.finished, LENGTH_DIGITS)
            height = spec.job.walls[i].height.model_copy(update={"finished_mm": finished})
            then = tried.needs(i, {"height": height})
            if then is not None:
                yield NearHeight(wall, gauge, now, then)


def _needs(laid: SettingOut) -> Needs:
    cuts = sum(len(run.bond.cut) for wall in laid.walls for run in wall.bonded)
    return Needs(sum(c.blocks for _, c in laid.certificates), cuts)


class _Tried:
    """A job with one wall changed, set out once for each change."""

    def __init__(self, spec: JobSpec, laid: SettingOut) -> None:
        self.spec = spec
        self.stops = _stops(spec, laid)
        self.known: dict[tuple[int, str], Needs | None] = {}

    def needs(self, wall: int, change: dict[str, Plan | Height]) -> Needs | None:
        """What it then takes; None where that is no job, or stops where this one does not."""
        key = (wall, repr(change))
        if key not in self.known:
            self.known[key] = self._needs(wall, change)
        return self.known[key]

    def _needs(self, wall: int, change: dict[str, Plan | Height]) -> Needs | None:
        old = self.spec.job
        walls = [w.model_copy(update=change) if i == wall else w for i, w in enumerate(old.walls)]
        job = old.model_copy(update={"walls": tuple(walls)})
        try:
            spec = resolve(Job.model_validate(job.model_dump(exclude_none=True)), self.spec.name)
        except (JobError, ValidationError):
            return None
        laid = set_out(spec)
        if any(w.unbonded for w in laid.walls) or _stops(spec, laid) - self.stops:
            return None
        return _needs(laid)


def _stops(spec: JobSpec, laid: SettingOut) -> set[tuple[str, str]]:
    return {(f.code, f.where) for f in check(spec, laid) if f.grade is Grade.STOP}


def _plans(spec: JobSpec, wall: int, number: int, by: float) -> Iterator[tuple[Plan, int | None]]:
    """Plans with one run longer by so many mm; of a closed one a run opposite is too."""
    plan, path = spec.job.walls[wall].plan, spec.walls[wall].path
    if isinstance(plan, Straight):
        yield _longer(plan, "length_mm", by), None
    elif isinstance(plan, Rectangle):
        key = "length_mm" if number % 2 else "width_mm"
        yield _longer(plan, key, by), (number + 1) % 4 + 1
    else:
        ways = {n: p.heading_deg for n, p in zip(path.numbers, path.placements(), strict=True)}
        others = [n for n, way in ways.items() if (way - ways[number]) % 360 == HALF_TURN_DEG]
        for other in others if path.closed else (None,):
            legs = tuple(
                _longer(leg, "length_mm", by) if n in (number, other) else leg
                for n, leg in enumerate(plan.legs, 1)
            )
            yield plan.model_copy(update={"legs": legs}), other


def _longer(table: Some, key: str, by: float) -> Some:
    return table.model_copy(update={key: round(getattr(table, key) + by, LENGTH_DIGITS)})
