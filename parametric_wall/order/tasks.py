"""The tasks of a job, in the order in which they are done: how long, by whom, after what."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, get_args

from parametric_wall.checks.limits import lift_courses
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.order.digging import backfilled, digging, dug_inside, trench_of
from parametric_wall.order.outputs import Output, outputs
from parametric_wall.reference.tables import limit
from parametric_wall.setting_out.model import Kind, SettingOut, WallSetOut
from parametric_wall.takeoff.counted import counted
from parametric_wall.takeoff.quantities import centre_line
from parametric_wall.units import cubic_metres, metres, square_metres

Stage = Literal[
    "set out",
    "dig",
    "concrete",
    "lay",
    "copings",
    "point and clean",
    "backfill",
    "fill planter",
    "clear up",
]
STAGES: tuple[Stage, ...] = get_args(Stage)


@dataclass(frozen=True, slots=True)
class Work:
    """So much of one thing: `quantity` in the unit that the output is for."""

    output: Output
    quantity: float

    @property
    def hours(self) -> float:
        """Of one person."""
        return self.output.value * self.quantity


@dataclass(frozen=True, slots=True)
class Need:
    """Another task that has to be done before, and the nights that then have to pass."""

    task: str
    nights: int


@dataclass(frozen=True, slots=True)
class Task:
    """One task.

    Attributes:
        key: stable, for instance ``lay/front/2``.
        stage: what kind of work.
        wall: the wall's name; empty for the whole job.
        what: in words.
        works: what it consists of.
        needs: what has to be done before.
        whole: whether it is not left over night where a day can hold it.
        mixer: whether mortar or concrete is mixed for it.
    """

    key: str
    stage: Stage
    wall: str
    what: str
    works: tuple[Work, ...]
    needs: tuple[Need, ...] = ()
    whole: bool = False
    mixer: bool = False

    @property
    def hours(self) -> float:
        """Of one person."""
        return sum(work.hours for work in self.works)

    @property
    def people(self) -> int:
        """How many can be at it at once: as many as at the work that most can be at."""
        return max(work.output.people for work in self.works)


def tasks(spec: JobSpec, laid: SettingOut) -> tuple[Task, ...]:
    """Every task of a job: stage after stage, and in a stage wall after wall."""
    known = outputs(spec.job.outputs)
    carted = _carted(spec, laid)
    mixed = spec.job.concrete.made_of != "ready-mix"
    found = [
        task
        for wall, placed in zip(spec.walls, laid.walls, strict=True)
        for task in _wall_tasks(wall, placed, known, carted, mixed=mixed)
    ]
    found.sort(key=lambda task: (STAGES.index(task.stage), _lift(task)))
    last = tuple(Need(task.key, 0) for task in found)
    clear = Work(known["clearing_h_per_job"], 1.0)
    return (*found, Task("clear up", "clear up", "", "clear up", (clear,), last))


def _lift(task: Task) -> int:
    """Lifts go round the walls: while one sets, the next wall is built."""
    return int(task.key.rsplit("/", 1)[1]) if task.stage == "lay" else 0


def _carted(spec: JobSpec, laid: SettingOut) -> float:
    """Of what is not put back beside the walls, the part that is taken away."""
    left = sum(cubic_metres(_left_over(wall)) for wall in spec.walls)
    return digging(spec, laid).away / left if left > 0 else 0.0


def _left_over(spec: WallSpec) -> float:
    """What is dug and not put back beside the wall, in the ground, mm3."""
    return trench_of(spec) + dug_inside(spec) - backfilled(spec)


def _wall_tasks(
    spec: WallSpec, laid: WallSetOut, known: dict[str, Output], carted: float, *, mixed: bool
) -> Iterator[Task]:
    name = spec.name
    set_out = Work(known["setting_out_h_per_wall"], 1.0)
    yield Task(f"set out/{name}", "set out", name, f"set out, {name}", (set_out,))
    before = Need(f"set out/{name}", 0)
    volume = {kind: cubic_metres(much) for kind, much in counted(laid).items()}
    if trench_of(spec) + dug_inside(spec) > 0:
        yield _dig(spec, known, carted)
        before = Need(f"dig/{name}", 0)
    if spec.footing is not None:
        pour = (Work(known["concrete_h_per_m3"], volume["footing"]),)
        what = f"concrete footing, {name}"
        yield Task(
            f"concrete/{name}", "concrete", name, what, pour, (before,), whole=True, mixer=mixed
        )
        before = Need(f"concrete/{name}", _nights(known, "footing"))
    lifts = list(_lifts(spec, laid, known, before))
    yield from lifts
    ready = lifts[-1].key
    if spec.coping is not None:
        copings = Task(
            f"copings/{name}",
            "copings",
            name,
            f"bed copings, {name}",
            (
                Work(known["copings_h_per_m"], metres(centre_line(spec))),
                Work(
                    known["mortar_h_per_m3"], volume["coping bed"] + volume.get("coping joint", 0.0)
                ),
            ),
            (Need(ready, _nights(known, "coping")),),
            mixer=True,
        )
        yield copings
        ready = copings.key
    face = square_metres(centre_line(spec) * spec.gauge.masonry)
    clean = (Work(known["pointing_h_per_m2"], face),)
    what = f"point and clean, {name}"
    yield Task(f"point/{name}", "point and clean", name, what, clean, (Need(ready, 0),))
    yield from _filling(spec, volume, known, ready)


def _dig(spec: WallSpec, known: dict[str, Output], carted: float) -> Task:
    name = spec.name
    places = ("trench", trench_of(spec)), ("inside", dug_inside(spec))
    dug = sum(cubic_metres(volume) for _, volume in places)
    away = carted * cubic_metres(_left_over(spec))
    works = (Work(known["digging_h_per_m3"], dug), Work(known["carting_h_per_m3"], away))
    where = " and ".join(place for place, volume in places if volume > 0)
    needs = (Need(f"set out/{name}", 0),)
    return Task(f"dig/{name}", "dig", name, f"dig {where}, {name}", works, needs)


def _lifts(
    spec: WallSpec, laid: WallSetOut, known: dict[str, Output], before: Need
) -> Iterator[Task]:
    """Lifts of no more than six courses, nor 1.5 m: one a day."""
    per_lift, courses = lift_courses(spec), spec.gauge.courses
    for number in range(1, math.ceil(courses / per_lift) + 1):
        low, high = (number - 1) * per_lift + 1, min(number * per_lift, courses)
        mortar = sum(
            cubic_metres(p.volume)
            for p in laid.pieces
            if low <= p.course <= high and p.kind in ("bed", "perp")
        )
        works = (
            _laying(spec, laid, range(low, high + 1), known),
            Work(known["mortar_h_per_m3"], mortar),
        )
        shown = f"course {low}" if low == high else f"courses {low} to {high}"
        task = Task(
            f"lay/{spec.name}/{number}",
            "lay",
            spec.name,
            f"lay {shown}, {spec.name}",
            works,
            (before,),
            mixer=True,
        )
        yield task
        before = Need(task.key, _nights(known, "lift"))


def _laying(spec: WallSpec, laid: WallSetOut, courses: range, known: dict[str, Output]) -> Work:
    """Bricks by the m2, blocks by the piece, as price books have them."""
    b = spec.block
    if b.longest * b.width_mm * b.tallest <= limit("brick_volume"):
        height = sum(spec.gauge.heights[c - 1] + spec.gauge.bed for c in courses)
        return Work(known["bricks_h_per_m2"], square_metres(centre_line(spec) * height))
    count = sum(p.kind == "block" and p.course in courses for p in laid.pieces)
    return Work(known["blocks_h_per_nr"], float(count))


def _filling(
    spec: WallSpec, volume: dict[Kind, float], known: dict[str, Output], ready: str
) -> Iterator[Task]:
    name, beside = spec.name, cubic_metres(backfilled(spec))
    if beside > 0:
        works = (Work(known["backfill_h_per_m3"], beside),)
        needs = (Need(ready, _nights(known, "backfill")),)
        yield Task(f"backfill/{name}", "backfill", name, f"backfill, {name}", works, needs)
    if spec.fill is not None:
        works = (
            Work(known["fill_h_per_m3"], volume.get("drainage", 0.0) + volume.get("soil", 0.0)),
        )
        needs = (Need(ready, _nights(known, "fill")),)
        yield Task(f"fill/{name}", "fill planter", name, f"fill planter, {name}", works, needs)


def _nights(known: dict[str, Output], what: str) -> int:
    return int(known[f"{what}_nights"].value)
