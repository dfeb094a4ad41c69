"""What would bring a free-standing wall within its limits in the wind, one change at a time."""

from __future__ import annotations

from dataclasses import replace

from parametric_wall.checks.wind_section import pressure, read, readings, section_of, thicker
from parametric_wall.checks.wind_zones import pressed
from parametric_wall.job.model import Masonry, Wind
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.runs import CORNERS, runs_of

THICKEST = 600
"""mm: thicker than this is no answer for a garden wall."""
STEP = 5
"""mm: thicknesses are tried in such steps."""


def would_pass(spec: WallSpec, wind: Wind, masonry: Masonry) -> str:
    """The changes that each bring every ratio to 1 or less, in words."""
    ways = []
    if courses := _fewer_courses(spec, wind, masonry):
        ways.append(f"{courses} course{'s' if courses > 1 else ''}")
    if thickness := _thickness(spec, wind, masonry):
        ways.append(f"a wall {thickness:.0f} thick of such blocks")
    if _with_returns(spec, wind, masonry):
        ways.append("returns as long as it is high at its free ends")
    if not ways:
        return "neither less height, more thickness nor returns alone bring it to 1"
    return f"1 or less with {', or '.join(ways)}"


def _fewer_courses(spec: WallSpec, wind: Wind, masonry: Masonry) -> int:
    """The most courses that pass; 0 where none do. The damp-proof course stays in the wall."""
    least = 1 if spec.dpc is None else spec.dpc.under_course
    for n in range(spec.gauge.courses - 1, least - 1, -1):
        lower = replace(spec, gauge=replace(spec.gauge, heights=spec.gauge.heights[:n]))
        if lower.gauge.finished <= 0:
            return 0
        if max(r.governing for r in readings(lower, wind, masonry)) <= 1:
            return n
    return 0


def _thickness(spec: WallSpec, wind: Wind, masonry: Masonry) -> int:
    """The least thickness that passes, in whole steps, mm; 0 where none does."""
    section = section_of(spec, masonry, wind.solidity)
    kpa = pressure(section, wind)
    worst = max(pressed(spec, section.exposed, wind.solidity), key=lambda one: one.cp)
    first = (int(spec.thickness) // STEP + 1) * STEP
    tried = range(first, THICKEST + 1, STEP)
    return next((t for t in tried if read(thicker(section, t), kpa, worst).governing <= 1), 0)


def _with_returns(spec: WallSpec, wind: Wind, masonry: Masonry) -> bool:
    """Whether returns at the free ends are enough by themselves."""
    if not any(end not in CORNERS for run in runs_of(spec) for end in (run.start, run.end)):
        return False
    section = section_of(spec, masonry, wind.solidity)
    kpa = pressure(section, wind)
    zones = pressed(spec, section.exposed, wind.solidity, section.exposed)
    return all(read(section, kpa, one).governing <= 1 for one in zones)
