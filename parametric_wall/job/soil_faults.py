"""Faults of the soil that a wall holds back which take more than one key to see."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from parametric_wall.errors import Fault
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.soil import Soil
from parametric_wall.reference.en1997 import factors, phi_d

if TYPE_CHECKING:
    from parametric_wall.job.resolve import WallSpec


def soil_faults(spec: WallSpec, at: str, soil_at: str) -> Iterator[Fault]:
    """Faults of a wall's fill and soil.

    Args:
        spec: the wall.
        at: dotted path of its table.
        soil_at: dotted path of the soil that it has, its own or the job's.
    """
    yield from _fill(spec, at)
    soil = spec.soil
    if soil is None:
        return
    yield from _slope(soil, soil_at)
    if soil.retained_mm is not None:
        yield from _retained(spec, soil.retained_mm, f"{soil_at}.retained_mm")
    if spec.holds_soil and soil.water_mm is not None:
        most = spec.soil_top - spec.underside
        if soil.water_mm > most + TOLERANCE.coincident:
            yield Fault(
                f"{soil_at}.water_mm",
                f"{soil.water_mm:g}",
                f"must be from 0 to {most:g}, the soil's top: water cannot stand above the soil",
                "water_mm counts from the underside of the footing, or from the top of a base",
            )


def _fill(spec: WallSpec, at: str) -> Iterator[Fault]:
    fill = spec.fill
    if fill is not None and not spec.path.closed:
        hint = "give soil.retained_mm for soil behind an open wall: a retaining wall"
        yield Fault(f"{at}.fill", "", "only a closed plan can be filled", hint)
    elif fill is not None and spec.soil_top - fill.base_level_mm - fill.drainage_mm <= 0:
        room = spec.soil_top + fill.below_coping_mm - fill.base_level_mm
        problem = (
            f"drainage and the gap under the coping leave no soil: there are {room:.0f} mm in all"
        )
        yield Fault(f"{at}.fill.drainage_mm", f"{fill.drainage_mm:g}", problem)


def _slope(soil: Soil, at: str) -> Iterator[Fault]:
    """A slope that slips by itself has no answer; with the factor on friction it is less."""
    most = phi_d(soil.friction, factors("C2").gamma_phi)
    if soil.slope_deg >= most:
        problem = (
            f"must be from 0 to less than {most:.1f}: soil with a friction of {soil.friction:g} "
            f"slips on a steeper slope, its factor of {factors('C2').gamma_phi:g} counted"
        )
        hint = "lay the slope back, or step it with a second wall"
        yield Fault(f"{at}.slope_deg", f"{soil.slope_deg:g}", problem, hint)


def _retained(spec: WallSpec, retained: float, at: str) -> Iterator[Fault]:
    top, given = spec.gauge.masonry_top, f"{retained:g}"
    if spec.fill is not None:
        hint = "leave retained_mm out: a planter's soil stands as high as its fill"
        yield Fault(at, given, "fill and retained_mm both say how high the soil stands", hint)
    elif spec.path.closed:
        hint = "give fill for a planter"
        yield Fault(at, given, "only an open plan has soil behind it", hint)
    elif retained > top + TOLERANCE.coincident:
        hint = "build higher, or hold back less"
        yield Fault(at, given, f"must be from 0 to {top:g}, the top of the blocks", hint)
