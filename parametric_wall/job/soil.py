"""The soil that a wall holds back, as a table of the job file."""

from __future__ import annotations

from pydantic import Field, field_validator

from parametric_wall.job.parts import Table
from parametric_wall.reference import tables


class Soil(Table):
    """Soil behind a wall, or inside a planter. What is not given is assumed, and said so."""

    kind: str = Field(default="topsoil", description="the soil whose figures are assumed")
    retained_mm: float | None = Field(
        default=None,
        ge=0,
        le=3000,
        description="behind an open wall: top of the soil above the ground in front",
    )
    weight_kN_m3: float | None = Field(  # noqa: N815 (the unit's own)
        default=None, ge=11, le=25, description="as it stands, moist or wet"
    )
    friction_deg: float | None = Field(default=None, ge=10, le=50)
    slope_deg: float = Field(
        default=0.0, ge=0, le=45, description="of the soil's top, rising from the wall"
    )
    surcharge_kPa: float | None = Field(default=None, ge=0, le=50)  # noqa: N815
    water_mm: float | None = Field(
        default=None,
        ge=0,
        le=5000,
        description="standing water above the underside of the footing, or the top of a base",
    )
    drainage_strip_mm: float = Field(
        default=0.0,
        ge=0,
        le=1000,
        description="behind an open wall: breadth of gravel that reaches down to the weep holes",
    )

    @field_validator("kind")
    @classmethod
    def _listed(cls, name: str) -> str:
        if name not in (known := tables.soils()):
            msg = f"no soil of that name; known: {', '.join(known)}"
            raise ValueError(msg)
        return name

    @property
    def known(self) -> tables.KnownSoil:
        """The soil of the table whose figures stand for those not given."""
        return tables.soils()[self.kind]

    @property
    def weight(self) -> float:
        """Unit weight, kN/m3, given or assumed."""
        return self.known.weight_kN_m3 if self.weight_kN_m3 is None else self.weight_kN_m3

    @property
    def friction(self) -> float:
        """Angle of shearing resistance, degrees, given or assumed."""
        return self.known.friction_deg if self.friction_deg is None else self.friction_deg

    @property
    def surcharge(self) -> float:
        """Load on the soil's top, kPa, given or assumed."""
        return tables.limit("foot_traffic") if self.surcharge_kPa is None else self.surcharge_kPa
