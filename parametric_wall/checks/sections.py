"""The levels at which a wall that holds soil back is looked at, from what the job file says."""

from __future__ import annotations

import math

from parametric_wall.checks.drainage import standing_water
from parametric_wall.checks.earth import Section, Weight
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.resolve import WallSpec
from parametric_wall.job.soil import Soil
from parametric_wall.reference.presumed_bearing import presumed
from parametric_wall.reference.tables import limit
from parametric_wall.units import metres, square_metres, unit_weight

FOOT = "the wall's foot"
UNDERSIDE = "the underside of the footing"


def code_of(section: Section) -> str:
    """The code of a section's calculation."""
    return "retaining-foot" if section.name == FOOT else "retaining-footing"


def sections(spec: WallSpec, top: float | None = None) -> tuple[Section, ...]:
    """The foot of the wall, and the underside of the footing where there is one.

    None where no soil is held above the ground outside, and none that lies above the soil.

    Args:
        spec: the wall.
        top: level of the soil, mm, in place of the wall's own.
    """
    if spec.retained <= 0:
        return ()
    levels = [(FOOT, spec.gauge.base, 0.0)]
    if spec.footing is not None:
        levels.append((UNDERSIDE, spec.underside, spec.footing.spread_mm))
    top = spec.soil_top if top is None else top
    least = top - TOLERANCE.coincident
    return tuple(_section(spec, top, *level) for level in levels if level[1] < least)


def _section(spec: WallSpec, top: float, name: str, level: float, spread: float) -> Section:
    soil, water = spec.soil or Soil(), standing_water(spec)
    rise = spread * math.tan(math.radians(soil.slope_deg))
    # Water stands no higher than the soil, to the last float.
    wet = level if water is None else min(water.level, top)
    return Section(
        name=name,
        base_m=metres(spec.thickness + 2 * spread),
        weights=(*_wall(spec, spread), *_below(spec, soil, spread, level, top)),
        height_m=metres(top + rise - level),
        weight_kN_m3=soil.weight,
        friction_deg=soil.friction,
        slope_deg=soil.slope_deg,
        surcharge_kPa=soil.surcharge,
        water_m=metres(wet - level) if wet > level else 0.0,
        bed_friction=limit("bed_friction") if name == FOOT else None,
        ground=None if name == FOOT else presumed(spec.ground.kind),
    )


def _wall(spec: WallSpec, toe: float) -> tuple[Weight, ...]:
    """Blocks with their joints, as heavy as the blocks; and copings."""
    t, gauge = spec.thickness, spec.gauge
    heavy = unit_weight(spec.block.density_kg_m3)
    blocks = Weight("blocks", heavy * square_metres(t * gauge.masonry), metres(toe + t / 2))
    lay = spec.coping
    if lay is None:
        return (blocks,)
    deep = lay.coping.thickness_mm - math.fabs(lay.weathering) / 2
    heavy = unit_weight(lay.coping.density_kg_m3)
    middle = toe + (t + lay.back - lay.front) / 2
    area = square_metres(lay.coping.width_mm * deep)
    return blocks, Weight("coping", heavy * area, metres(middle))


def _below(
    spec: WallSpec, soil: Soil, spread: float, level: float, top: float
) -> tuple[Weight, ...]:
    """The footing, and the soil on its heel up to the level of the soil at the wall."""
    deep, base = spec.gauge.base - level, spec.thickness + 2 * spread
    if deep <= 0:
        return ()
    footing = limit("concrete_weight") * square_metres(base * deep)
    heel = soil.weight * square_metres(spread * (top - spec.gauge.base))
    return (
        Weight("footing", footing, metres(base / 2)),
        Weight("soil on the heel", heel, metres(base - spread / 2)),
    )
