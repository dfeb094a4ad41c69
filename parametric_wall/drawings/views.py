"""All drawings of a job in the order of their sheets.

First what is needed to set out all walls, then their sections, then what is needed to
lay each.

Names say what is drawn and of which wall, run or corner; they are unique in a job and
the same every time. A wall that no bond fills has none, and of copings that do not fit
there is no plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from parametric_wall.drawings.elevations import elevation, gauge_rod
from parametric_wall.drawings.pages import Drawing
from parametric_wall.drawings.paper import A4
from parametric_wall.drawings.plans import coping_plan, course_plan
from parametric_wall.drawings.plans.footing_plan import footing_plan
from parametric_wall.drawings.plans.lines_plan import lines_plan, squares_plan
from parametric_wall.drawings.plans.site_plan import needed, site_plan
from parametric_wall.drawings.plans.wall_plan import Numbered, numbered, outer, small
from parametric_wall.drawings.sections.section import section
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.model import SettingOut, WallSetOut

FULL_SIZE = (1.0,)
PLAN = 50.0
"""Smallest scale of plans as long as they fit on a sheet."""


def views(spec: JobSpec, laid: SettingOut) -> tuple[Drawing, ...]:
    """The drawings of a job.

    Args:
        spec: the job.
        laid: the same, set out.
    """
    return tuple(_drawings(spec, laid))


def _drawings(spec: JobSpec, laid: SettingOut) -> Iterator[Drawing]:
    points = numbered(spec)
    if needed(spec):
        yield Drawing(partial(site_plan, spec, laid, points, "site-plan"), smallest=PLAN)
    walls = [
        (one, wall, points[one.name], letter(number))
        for number, (one, wall) in enumerate(zip(spec.walls, laid.walls, strict=True))
        if wall.pieces
    ]
    for one, wall, own, sign in walls:
        yield from _setting_out(one, wall, own, sign)
    for one, _, _, sign in walls:
        yield Drawing(partial(section, one, sign, f"section-{one.name}"), group="sections")
    for one, wall, own, _ in walls:
        yield from _laying(one, wall, own)


def letter(number: int) -> str:
    """Of the section of a wall: A to Z, then AA, AB and so on; walls count from 0."""
    more, last = divmod(number, 26)
    return (letter(more - 1) if more else "") + chr(ord("A") + last)


def _setting_out(
    spec: WallSpec, wall: WallSetOut, points: tuple[Numbered, ...], sign: str
) -> Iterator[Drawing]:
    name = spec.name
    yield Drawing(
        partial(footing_plan, spec, wall, points, sign, f"footing-plan-{name}"), smallest=PLAN
    )
    yield Drawing(partial(lines_plan, spec, points, f"lines-plan-{name}"), smallest=PLAN)
    if len(outer(spec)) > 2:
        yield Drawing(partial(squares_plan, spec, points, f"squares-plan-{name}"), smallest=PLAN)


def _laying(spec: WallSpec, wall: WallSetOut, points: tuple[Numbered, ...]) -> Iterator[Drawing]:
    for number in dict.fromkeys(spec.path.numbers):
        yield Drawing(
            partial(elevation.elevation, spec, wall, number),
            partial(elevation.divided, spec, wall, number),
        )
    yield from _courses(spec, wall, points)
    yield from _copings(spec, wall)
    yield from _gauge_rod(spec)


def _courses(spec: WallSpec, wall: WallSetOut, points: tuple[Numbered, ...]) -> Iterator[Drawing]:
    """Corner by corner, the courses that differ one after another."""
    groups = course_plan.course_groups(wall)
    for corner in course_plan.windows(spec):
        at = "" if corner is None else f"-p{points[corner].number}"
        for group in groups:
            name = f"course-plan-{spec.name}{at}-c{group.courses[0]:02d}"
            point = None if corner is None else points[corner].number
            yield Drawing(
                partial(course_plan.course_plan, spec, group, corner, point, name),
                group=f"courses of {spec.name}",
            )


def _copings(spec: WallSpec, wall: WallSetOut) -> Iterator[Drawing]:
    if not wall.coped or not all(one.lengths for one in wall.coped):
        return
    name = f"coping-plan-{spec.name}"
    if small(spec):
        yield Drawing(partial(coping_plan.coping_plan, spec, wall, name), smallest=PLAN)
        return
    for number in spec.path.numbers:
        leg = f"{name}-r{number}"
        yield Drawing(
            partial(coping_plan.leg_plan, spec, wall, number, leg),
            partial(coping_plan.divided, spec, wall, number, leg),
        )


def _gauge_rod(spec: WallSpec) -> Iterator[Drawing]:
    yield Drawing(partial(gauge_rod.gauge_rod, spec))
    for sheet in range(gauge_rod.sheets(spec)):
        make = partial(gauge_rod.rod_tiles, spec, sheet)
        yield Drawing(make, scales=FULL_SIZE, papers=((A4[1],),))
