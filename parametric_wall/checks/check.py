"""Checks a whole job: the one door to this room."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from parametric_wall.checks.bonding import bond_findings, mix_findings
from parametric_wall.checks.calculation import Calculation
from parametric_wall.checks.coping_checks import coping_findings
from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.checks.footing import footing_calculations, footing_findings
from parametric_wall.checks.limits import building_findings, height_findings
from parametric_wall.checks.movement import movement_findings
from parametric_wall.checks.permission import permission_findings
from parametric_wall.checks.plan import plan_findings
from parametric_wall.checks.retaining import retaining_calculations, retaining_findings
from parametric_wall.checks.site import existing_findings, water_findings
from parametric_wall.checks.wind import wind_calculations, wind_findings
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.model import SettingOut, WallSetOut

CAUTIONS = (
    "buried-services",
    "trees-and-drains",
    "line-of-junction",
    "wet-mortar",
    "dust-and-saws",
    "local-rules",
)
"""They stand on every job."""

ORDER = tuple(reversed(Grade))


@dataclass(frozen=True, slots=True)
class Check:
    """One check of a wall.

    Attributes:
        name: as "no objection found by these checks" names it.
        covers: what it looks at.
        find: gives the findings of one wall.
    """

    name: str
    covers: str
    find: Callable[[WallSpec, WallSetOut, JobSpec], Iterable[Finding]]


WALL_CHECKS = (
    Check(
        "heights",
        "height above ground and soil held back against common limits; whether the height gauges",
        lambda spec, _, job: height_findings(spec, job.job.designed_by),
    ),
    Check(
        "permission",
        "the public height table by zone; planning limits; retaining walls near streets; digging "
        "near a neighbour's foundation",
        lambda spec, _, job: permission_findings(spec, job),
    ),
    Check(
        "building",
        "lifts, masses of blocks and copings, joint widths, rules of the bond",
        lambda spec, *_: building_findings(spec),
    ),
    Check(
        "footing",
        "width, thickness and depth of the footing against load and ground; an existing base; "
        "the depth of digging",
        lambda spec, *_: footing_findings(spec),
    ),
    Check(
        "soil held back",
        "overturning, sliding, middle third and pressure on the ground of a metre of wall that "
        "stands by its weight alone; standing water",
        lambda spec, *_: retaining_findings(spec),
    ),
    Check(
        "wind",
        "overturning and bending of a free-standing wall, zone by zone, where a wind is given",
        lambda spec, _, job: wind_findings(spec, job.job),
    ),
    Check("water", "damp-proof courses, weep holes, drainage", lambda s, *_: water_findings(s)),
    Check("movement", "spacing and width of movement joints, by material", movement_findings),
    Check("existing walls", "ends that meet an old wall", lambda s, *_: existing_findings(s)),
    Check("bond", "laps, cuts and the bond wished for", lambda s, wall, _: bond_findings(s, wall)),
    Check(
        "copings",
        "overhang, drip, bed, joints and corners of the copings",
        lambda spec, wall, _: () if wall.unbonded else coping_findings(spec, wall),
    ),
)
"""Every check of a wall, in the order of its findings."""

PLAN = ("plan", "walls and footings that overlap each other")


def check(spec: JobSpec, laid: SettingOut) -> tuple[Finding, ...]:
    """Every finding of a job, the gravest first, the standing cautions last."""
    found = sorted(_findings(spec, laid), key=lambda f: ORDER.index(f.grade))
    return (*found, *(Finding(code, Grade.KNOW, "", _title(code)) for code in CAUTIONS))


def looked_at() -> tuple[tuple[str, str], ...]:
    """Every check made of every job, and what it covers."""
    return (*((made.name, made.covers) for made in WALL_CHECKS), PLAN)


def calculations(spec: JobSpec) -> tuple[Calculation, ...]:
    """Every calculation of a job, wall by wall."""
    return tuple(
        found
        for wall in spec.walls
        for found in (
            *footing_calculations(wall),
            *retaining_calculations(wall),
            *wind_calculations(wall, spec.job),
        )
    )


def _title(code: str) -> str:
    return Finding(code, Grade.KNOW, "", "").meaning.title


def _findings(spec: JobSpec, laid: SettingOut) -> Iterator[Finding]:
    for wall, set_out in zip(spec.walls, laid.walls, strict=True):
        for made in WALL_CHECKS:
            yield from made.find(wall, set_out, spec)
    yield from mix_findings(laid)
    yield from plan_findings(spec)
