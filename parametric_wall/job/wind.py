"""The wind on a free-standing wall and what its bed joints bear, as tables of the job file."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from parametric_wall.job.parts import Table


class Wind(Table):
    """The wind of the place: a basic wind velocity and the terrain, or a pressure."""

    basic_velocity_m_s: float | None = Field(default=None, gt=0, le=60)
    altitude_m: float = Field(default=0.0, ge=0, le=2000)
    terrain: Literal["0", "I", "II", "III", "IV"] = "II"
    peak_pressure_Pa: float | None = Field(default=None, gt=0, le=5000)  # noqa: N815
    solidity: float = Field(default=1.0, ge=0.8, le=1.0)

    @model_validator(mode="after")
    def _one(self) -> Self:
        if (self.basic_velocity_m_s is None) == (self.peak_pressure_Pa is None):
            msg = "give either basic_velocity_m_s or peak_pressure_Pa"
            raise ValueError(msg)
        return self


class Masonry(Table):
    """What the bed joints are made of, for their strength in bending."""

    unit: Literal["concrete block", "concrete brick", "calcium silicate", "clay"] = "concrete block"
    mortar: Literal["M12", "M6", "M4", "M2"] = "M4"
    control: Literal[1, 2] = Field(default=2, description="class of execution control")
