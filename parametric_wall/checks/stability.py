"""How far a section of a wall that holds soil back is used up: lumped factors and partial ones."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from parametric_wall.checks.calculation import Use
from parametric_wall.checks.earth import Section, Weight
from parametric_wall.reference.en1997 import factors
from parametric_wall.reference.gravity import base_pressure
from parametric_wall.reference.tables import limit, limits
from parametric_wall.units import MM_PER_M, metres

THICKEST_MM = 1000
STEP_MM = 5
OVERTURNS, SLIDES, TILTS, BEARS = (
    "retaining-overturns",
    "retaining-slides",
    "retaining-tilts",
    "retaining-bearing",
)


def uses(section: Section) -> dict[str, tuple[Use, ...]]:
    """Each way in which the section can fail, by the code of its finding; the lumped use first."""
    equ = factors("EQU")
    third = section.base_m / 6 * MM_PER_M
    found = {
        OVERTURNS: (
            Use(
                "overturning, lumped factor",
                section.overturning(),
                section.restoring / limit("overturning_factor"),
                "kNm/m",
                limits()["overturning_factor"].cited,
            ),
            Use(
                f"overturning, {equ.name}",
                section.overturning(equ),
                equ.gamma_G_fav * section.restoring,
                "kNm/m",
                equ.cited,
            ),
        ),
        SLIDES: (
            Use(
                "sliding, lumped factor",
                section.push(),
                section.grip() / limit("sliding_factor"),
                "kN/m",
                limits()["sliding_factor"].cited,
            ),
            *(_design_sliding(section, key) for key in ("C1", "C2")),
        ),
        TILTS: (
            Use(
                "resultant in the middle third",
                section.eccentricity * MM_PER_M,
                third,
                "mm",
                "statics: no tension within B/6 of the middle",
            ),
        ),
    }
    pressure = ground_pressure(section)
    if section.ground is not None and pressure is not None:
        bears = section.ground
        name = f"pressure on {bears.name}"
        use = Use(name, max(pressure[:2]), bears.value, "kPa", bears.cited)
        found[BEARS] = (use,)
    return found


def _design_sliding(section: Section, key: str) -> Use:
    by = factors(key)
    name = f"sliding, {by.name}"
    return Use(name, section.push(by), section.grip(by), "kN/m", by.cited)


def ground_pressure(section: Section) -> tuple[float, float, float] | None:
    """Pressure at toe and heel, kPa, and the width that bears, m; None where the wall goes over."""
    if not 0 < section.meets < section.base_m:
        return None
    return base_pressure(section.vertical, section.meets, section.base_m)


def worst(section: Section, code: str) -> float:
    """The greatest use of one way to fail; infinite where nothing bears any more."""
    if code == BEARS and section.ground is not None and ground_pressure(section) is None:
        return math.inf
    return max((use.ratio for use in uses(section).get(code, ())), default=0.0)


def thickness_that_stands(section: Section, code: str) -> float | None:
    """Thickness at which the wall alone does not fail in one way at its foot, mm.

    Its coping is left out. None where no thickness up to a metre will do.
    """
    blocks = next(w for w in section.weights if w.name == "blocks")

    def stands(steps: int) -> bool:
        t = metres(steps * STEP_MM)
        heavier = Weight("blocks", blocks.force * t / section.base_m, t / 2)
        return worst(replace(section, base_m=t, weights=(heavier,)), code) <= 1

    steps = _first(stands, THICKEST_MM // STEP_MM)
    return None if steps is None else float(steps * STEP_MM)


def height_that_stands(
    at: Callable[[float], Section | None], code: str, most: float
) -> float | None:
    """Height of soil above the ground in front, mm, up to which a section does not fail in one way.

    None where even the least of soil is too much.

    Args:
        at: the section with the soil at a level, mm; None where it is above the soil.
        code: of the way to fail.
        most: a level, mm, at which it fails.
    """
    highest = int(most // STEP_MM)

    def stands(lower: int) -> bool:
        section = at((highest - lower) * STEP_MM)
        return section is None or worst(section, code) <= 1

    lower = _first(stands, highest - 1)
    return None if lower is None else float((highest - lower) * STEP_MM)


def _first(holds: Callable[[int], bool], most: int) -> int | None:
    """The least number from 1 at which something holds that goes on holding; None above `most`."""
    if most < 1 or not holds(most):
        return None
    low, high = 0, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high
