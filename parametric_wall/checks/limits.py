"""Heights, masses, joints and lifts against common limits."""

from __future__ import annotations

import math
from collections.abc import Iterator

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.coping import CopingLay
from parametric_wall.job.model import Block
from parametric_wall.job.resolve import WallSpec
from parametric_wall.reference.en1996 import overlap_min
from parametric_wall.reference.tables import limit
from parametric_wall.units import mass_kg


def height_findings(spec: WallSpec, designed_by: str) -> Iterator[Finding]:
    """Heights that common practice leaves to a professional, and heights that do not gauge."""
    designed = bool(designed_by)
    grade = Grade.LOOK if designed else Grade.STOP
    by = f"; designed by {designed_by}, as the job file says" if designed_by else ""
    tall, held = spec.gauge.finished, spec.retained
    if tall > (most := limit("wall_height")):
        text = f"{tall:.0f} above ground{by}"
        yield Finding("wall-height", grade, spec.name, text, tall, most, "mm", designed)
    thin = spec.thickness <= limit("single_skin_thickness")
    if thin and tall > (most := limit("single_skin_height")):
        text = f"{tall:.0f} above ground, {spec.thickness:g} thick"
        yield Finding("thin-wall", Grade.LOOK, spec.name, text, tall, most, "mm")
    if held > (most := limit("retained_height")):
        text = f"holds back {held:.0f} of soil{by}"
        yield Finding("retained-height", grade, spec.name, text, held, most, "mm", designed)
    gauge = spec.gauge
    if not gauge.met:
        near = [f"{h:.0f}" for h in (gauge.below, gauge.above) if h is not None]
        text = f"{gauge.wanted:.0f} does not gauge; the nearest are {' and '.join(near)}"
        yield Finding("height-not-met", Grade.STOP, spec.name, text, gauge.wanted, None, "mm")
    elif abs(gauge.bed - spec.joints.bed_mm) > TOLERANCE.coincident:
        marks = " / ".join(f"{g:.1f}" for g in gauge.gauges)
        text = f"beds of {gauge.bed:.1f}, gauge {marks}, to finish at {gauge.finished:.0f}"
        yield Finding("bed-adjusted", Grade.KNOW, spec.name, text, gauge.bed, None, "mm")


def lift_courses(spec: WallSpec) -> int:
    """Courses in one lift: the fewer of six and what stands within 1.5 m, were all the tallest."""
    within = int(limit("lift_height") // max(spec.gauge.gauges))
    return max(1, min(int(limit("lift_courses")), within))


def building_findings(spec: WallSpec) -> Iterator[Finding]:
    """Lifts, masses, joints and rules."""
    per_lift = lift_courses(spec)
    if (lifts := math.ceil(spec.gauge.courses / per_lift)) > 1:
        text = f"{spec.gauge.courses} courses in {lifts} lifts of at most {per_lift}"
        yield Finding("lifts", Grade.KNOW, spec.name, text, spec.gauge.courses, per_lift, "courses")
    yield from _mass("block", block_mass(spec.block), spec)
    if spec.coping is not None:
        yield from _mass("coping", coping_mass(spec.coping), spec)
    low, high = limit("joint_min"), limit("joint_max")
    for name, width in (("bed", spec.gauge.bed), ("perp", spec.joints.perp_mm)):
        if not low <= round(width, 6) <= high:
            text = f"{name} joints of {width:.1f}"
            most = low if width < low else high
            yield Finding("joint-width", Grade.LOOK, spec.name, text, width, most, "mm")
    block = spec.block
    usual = {
        "lap": (spec.rules.min_lap, overlap_min(block.tallest)),
        "cut": (spec.rules.min_cut, min(limit("min_cut"), block.longest / 4, block.shortest)),
    }
    for name, (value, least) in usual.items():
        if value < least - TOLERANCE.coincident:
            text = f"the job allows a {name} of {value:.0f}"
            yield Finding("slivers-relaxed", Grade.LOOK, spec.name, text, value, least, "mm")


def block_mass(block: Block) -> float:
    """Mass of a whole block, kg; of a family, of its heaviest."""
    return mass_kg(block.longest * block.width_mm * block.tallest, block.density_kg_m3)


def coping_mass(lay: CopingLay) -> float:
    """Mass of a whole coping, kg; its drips are too small to count."""
    c = lay.coping
    volume = c.length_mm * c.width_mm * (c.thickness_mm - abs(lay.weathering) / 2)
    return mass_kg(volume, c.density_kg_m3)


def _mass(what: str, mass: float, spec: WallSpec) -> Iterator[Finding]:
    if mass > (most := limit("unit_mass")):
        text = f"a whole {what} is {mass:.1f} kg"
        yield Finding("heavy-block", Grade.LOOK, spec.name, text, mass, most, "kg")
