"""Who builds, how long a day, and how fast: tables of the job file."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Literal, Self, get_args

from pydantic import Field, model_validator

from parametric_wall.job.parts import Table

Weekday = Literal["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"]
WEEKDAYS: tuple[Weekday, ...] = get_args(Weekday)

Output = Annotated[float | None, Field(gt=0, le=100)]
Nights = Annotated[int | None, Field(ge=0, le=60)]


class Crew(Table):
    """Those who build the job, and when they work."""

    people: int = Field(default=2, ge=1, le=20)
    hours_a_day: float = Field(default=8.0, ge=1, le=14)
    starts: dt.date | None = Field(
        default=None, description="first day of work; the job's own date where left out"
    )
    days_off: tuple[Weekday, ...] = Field(
        default=("Saturday", "Sunday"), strict=False, description="of every week"
    )
    closed: tuple[dt.date, ...] = Field(
        default=(), max_length=366, strict=False, description="single days without work"
    )

    @model_validator(mode="after")
    def _some_day_is_left(self) -> Self:
        if set(self.days_off) == set(WEEKDAYS):
            msg = "days_off leaves no day of the week to work on"
            raise ValueError(msg)
        return self


class Outputs(Table):
    """Hours of one person for one unit, and nights to wait: those that differ from the usual.

    The usual ones, with source and standing, are the rows of the same keys in the
    reference table of outputs.
    """

    setting_out_h_per_wall: Output = None
    digging_h_per_m3: Output = None
    carting_h_per_m3: Output = None
    concrete_h_per_m3: Output = None
    mortar_h_per_m3: Output = None
    bricks_h_per_m2: Output = None
    blocks_h_per_nr: Output = None
    copings_h_per_m: Output = None
    pointing_h_per_m2: Output = None
    backfill_h_per_m3: Output = None
    fill_h_per_m3: Output = None
    clearing_h_per_job: Output = None
    footing_nights: Nights = None
    lift_nights: Nights = None
    coping_nights: Nights = None
    backfill_nights: Nights = None
    fill_nights: Nights = None
