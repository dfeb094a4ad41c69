"""The soil that a wall holds back, as a table of the job file."""

from __future__ import annotations

from pydantic import Field

from parametric_wall.job.parts import Table


class Soil(Table):
    """Soil behind a wall, or inside a planter. What is not given is assumed, and said so."""

    retained_mm: float | None = Field(
        default=None,
        ge=0,
        le=3000,
        description="behind an open wall: top of the soil above the ground in front",
    )
    weight_kN_m3: float | None = Field(default=None, ge=8, le=25)  # noqa: N815 (the unit's own)
    friction_deg: float | None = Field(default=None, gt=0, lt=90)
    slope_deg: float = Field(default=0.0, ge=0, lt=90, description="of the soil's top, rising")
    surcharge_kPa: float | None = Field(default=None, ge=0, le=50)  # noqa: N815
    water_mm: float | None = Field(
        default=None, ge=0, le=3000, description="standing water above the underside of the footing"
    )
