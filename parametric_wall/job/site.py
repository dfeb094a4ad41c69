"""The place a wall stands in: exposure, highway, neighbours, ground. Tables of the job file."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from parametric_wall.job.parts import Table


class Site(Table):
    """What only the one who has been there knows. What is not given is asked, not assumed."""

    exposure_zone: int | None = Field(
        default=None, ge=1, le=4, description="of the public height table, from its map"
    )
    sheltered: bool = False
    highway: Literal["vehicles", "other", "none"] | None = Field(
        default=None, description="what kind of highway the wall stands next to"
    )
    street_distance_mm: float | None = Field(default=None, ge=0, le=1_000_000)
    street_level_mm: float | None = Field(
        default=None, ge=-20_000, le=20_000, description="of the boundary at the street"
    )
    neighbour_distance_mm: float | None = Field(
        default=None, ge=0, le=1_000_000, description="from our digging to his building or wall"
    )
    neighbour_founded_mm: float | None = Field(
        default=None, ge=0, le=20_000, description="his foundation's underside below ground"
    )


class Ground(Table):
    """The ground under the footing."""

    kind: (
        Literal[
            "rock",
            "medium dense sand or gravel",
            "stiff clay",
            "firm clay",
            "loose sand",
            "soft clay or silt",
            "peat or very soft",
        ]
        | None
    ) = None
    shrinkable: Literal["no", "low", "medium", "high"] = "no"
