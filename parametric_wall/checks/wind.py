"""The wind on a free-standing wall: what is worked out, and what is found."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from parametric_wall.checks.calculation import Calculation, Use
from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.checks.permission import height_table, tabled
from parametric_wall.checks.wind_figures import wall_given, wall_steps, wind_given, wind_steps
from parametric_wall.checks.wind_remedies import would_pass
from parametric_wall.checks.wind_section import (
    Reading,
    Section,
    ground_use,
    joint_uses,
    pressure,
    readings,
    section_of,
)
from parametric_wall.checks.wind_zones import pressed
from parametric_wall.job.model import Job, Wind
from parametric_wall.job.resolve import WallSpec

NOT_COUNTED = (
    "returns and piers as buttresses: every metre stands by itself",
    "hold of an existing wall at an end, which is taken as a free end: it may be lower",
    "soil beside the wall and on the footing, for or against; soil held back is worked out apart",
    "how the ground gives under the edge of the footing, and sliding",
    "people, vehicles and plants that lean or climb on it",
    "mortar lighter than the blocks",
    "hills, funnels between buildings, and shelter",
)


def free_standing(spec: WallSpec) -> bool:
    """Whether wind governs: the soil of a filled planter braces its walls."""
    return spec.fill is None


def wind_calculations(spec: WallSpec, job: Job) -> tuple[Calculation, ...]:
    """The wind on a free-standing wall; none for a planter, or where no wind is given."""
    if job.wind is None or not free_standing(spec):
        return ()
    section = section_of(spec, job.masonry, job.wind.solidity)
    return (
        Calculation(
            code="wind",
            title="Wind on a free-standing wall",
            where=spec.name,
            given=(*wind_given(job.wind), *wall_given(section, job.masonry)),
            steps=(*wind_steps(section, job.wind), *wall_steps(section)),
            uses=tuple(_uses(spec, section, job.wind)),
            not_counted=NOT_COUNTED,
            source="BS EN 1991-1-4:2005 7.4.1; BS EN 1996-1-1 6.3.1; factors of BS EN 1990",
            beside=(height_table(spec, job.site, job.masonry),) if tabled(spec) else (),
        ),
    )


def _uses(spec: WallSpec, section: Section, wind: Wind) -> Iterator[Use]:
    kpa = pressure(section, wind)
    for one in pressed(spec, section.exposed, wind.solidity):
        for level in section.levels:
            yield from joint_uses(section, level, kpa, one)
        ground = ground_use(section, kpa, one)
        if ground is not None:
            yield ground


def wind_findings(spec: WallSpec, job: Job) -> Iterator[Finding]:
    """What the wind makes of a free-standing wall; nothing for a planter."""
    if not free_standing(spec):
        return
    if job.wind is None:
        text = "give [wind] basic_velocity_m_s and terrain, or peak_pressure_Pa"
        yield Finding("wind-not-given", Grade.KNOW, spec.name, text)
        return
    read_all = readings(spec, job.wind, job.masonry)
    worst = max(r.governing for r in read_all)
    bond = max(r.overturning for r in read_all)
    if worst > 1:
        at = next(r for r in read_all if r.governing == worst)
        zones = _zones(read_all, lambda r: r.governing)
        text = f"{zones}, {at.level}; {would_pass(spec, job.wind, job.masonry)}"
        yield _finding("wind-past-limit", spec, text, worst)
    elif bond > 1:
        zones = _zones(read_all, lambda r: r.overturning)
        text = f"{zones}: its weight alone would not hold it"
        yield _finding("wind-on-bond", spec, text, bond)


def _finding(code: str, spec: WallSpec, text: str, ratio: float) -> Finding:
    """Without a value where nothing resists, as the text says."""
    value = ratio if math.isfinite(ratio) else None
    return Finding(code, Grade.LOOK, spec.name, text, value, 1.0)


def _zones(found: tuple[Reading, ...], ratio: Callable[[Reading], float]) -> str:
    """The zones past the limit, each with its worst ratio and the places of that."""
    worst: dict[str, float] = {}
    for r in found:
        if ratio(r) > 1:
            worst[r.zone.zone] = max(ratio(r), worst.get(r.zone.zone, 0.0))
    rows = sorted(worst.items())
    texts = [f"{value:.2f} in zone {zone}" for zone, value in rows if math.isfinite(value)]
    if bare := [zone for zone, value in rows if math.isinf(value)]:
        texts.append(f"nothing resists in zone {', '.join(bare)}")
    first = max(found, key=ratio).zone
    return f"wind over resistance: {', '.join(texts)}; worst at {first.where}"
