"""The wind on a free-standing wall and what its bed joints bear, as tables of the job file."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from parametric_wall.job.parts import RuleError, Table


class Wind(Table):
    """The wind of the place: a basic wind velocity and the terrain, or a pressure."""

    basic_velocity_m_s: float | None = Field(
        default=None, gt=0, le=60, description="of the wind map, at sea level"
    )
    altitude_m: float = Field(default=0.0, ge=0, le=2000, description="of the site")
    terrain: Literal["0", "I", "II", "III", "IV"] = Field(
        default="II", description="sea, flat and open, low growth, villages and woods, town"
    )
    peak_pressure_Pa: float | None = Field(  # noqa: N815 (the unit's own)
        default=None, gt=0, le=5000, description="at the top of the wall, from a designer or chart"
    )
    solidity: float = Field(
        default=1.0, ge=0.8, le=1.0, description="of a pierced wall: solid over gross area"
    )

    @model_validator(mode="after")
    def _one(self) -> Self:
        if (self.basic_velocity_m_s is None) == (self.peak_pressure_Pa is None):
            msg = "give either basic_velocity_m_s or peak_pressure_Pa"
            raise ValueError(msg)
        told = [key for key in ("altitude_m", "terrain") if key in self.model_fields_set]
        if self.peak_pressure_Pa is not None and told:
            raise RuleError(dict.fromkeys(told, "is in peak_pressure_Pa already: leave it out"))
        return self


class Masonry(Table):
    """What the bed joints are made of, for their strength in bending."""

    unit: Literal["concrete block", "concrete brick", "calcium silicate", "clay"] = "concrete block"
    water_absorption_percent: float | None = Field(
        default=None, ge=0, le=100, description="of clay units; without it the weakest are taken"
    )
    mortar: Literal["M12", "M6", "M4", "M2"] = "M4"
    control: int = Field(default=2, ge=1, le=2, description="class of execution control")
