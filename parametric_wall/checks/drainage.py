"""Where water stands in the soil that a wall holds back, as far as the job file tells."""

from __future__ import annotations

from dataclasses import dataclass

from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.courses import weep_course


@dataclass(frozen=True, slots=True)
class Standing:
    """Standing water: its level, mm; why; and whether nobody gave it."""

    level: float
    why: str
    assumed: bool


def standing_water(spec: WallSpec) -> Standing | None:
    """Water in the soil held back: as given, else up to where it can get out; None where dry."""
    given = spec.soil.water_mm if spec.soil else None
    if given is not None:
        level = spec.underside + given
        return Standing(level, "as the job file says", assumed=False) if given else None
    if spec.weeps is None:
        return Standing(spec.soil_top, "no weep holes let it out", assumed=True)
    weeps = spec.gauge.course_base(weep_course(spec))
    if spec.soil_top <= weeps + TOLERANCE.coincident:
        return Standing(spec.soil_top, "the weep holes are above the soil", assumed=True)
    if drains(spec, weeps):
        return None
    return Standing(weeps, "no drainage leads to the weep holes", assumed=True)


def drains(spec: WallSpec, weeps: float) -> bool:
    """Whether a drainage layer leads to weep holes at a level, mm."""
    if spec.fill is not None:
        drained = spec.fill.base_level_mm + spec.fill.drainage_mm
        return weeps <= drained + TOLERANCE.coincident
    return spec.soil is not None and spec.soil.drainage_strip_mm > 0
