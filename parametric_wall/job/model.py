"""The job file's tables, as frozen models. Bare numbers in mm; keys carry their unit."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Literal, Self

from pydantic import Field, field_validator, model_validator

from parametric_wall.job.cutting import Cutting
from parametric_wall.job.parts import (
    Base,
    Block,
    Bond,
    Coping,
    Drip,
    Fall,
    Footing,
    Joints,
    Movement,
    RuleError,
    Table,
)
from parametric_wall.job.site import Ground, Site
from parametric_wall.job.soil import Soil
from parametric_wall.job.wind import Masonry, Wind

__all__ = [
    "Abutment",
    "Base",
    "Block",
    "Bond",
    "Coping",
    "Dpc",
    "Drip",
    "Fall",
    "Fill",
    "Footing",
    "Ground",
    "Height",
    "Job",
    "Joints",
    "Leg",
    "Legs",
    "Masonry",
    "Movement",
    "Place",
    "Plan",
    "Rectangle",
    "RuleError",
    "Site",
    "Soil",
    "StopEnd",
    "Straight",
    "Table",
    "Wall",
    "WallEnd",
    "Weeps",
    "Wind",
]

LEAST_DESIGNER = 8
"""Characters: fewer name nobody and no calculations."""

Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$", max_length=40)]


class StopEnd(Table):
    """A free end."""

    kind: Literal["stop"] = "stop"


class Abutment(Table):
    """An end that meets an existing wall."""

    kind: Literal["abutment"]
    joint: Literal["mortar", "movement"] = "mortar"
    fixing: Literal["ties", "toothing", "none"] = "ties"


WallEnd = Annotated[StopEnd | Abutment, Field(discriminator="kind")]


class Leg(Table):
    """One straight leg and the turn after it, seen along the way of travel."""

    length_mm: float = Field(ge=100, le=200_000)
    turn: Literal["left", "right"] | None = None


class Straight(Table):
    """A plan of one straight length."""

    shape: Literal["straight"]
    length_mm: float = Field(ge=100, le=1_000_000)


class Rectangle(Table):
    """A closed plan: a planter. Outside sizes."""

    shape: Literal["rectangle"]
    length_mm: float = Field(ge=200, le=200_000)
    width_mm: float = Field(ge=200, le=200_000)


class Legs(Table):
    """A plan of legs with quarter turns, open or closed. Lengths along the outer face."""

    shape: Literal["legs"]
    legs: tuple[Leg, ...] = Field(min_length=2, max_length=60, strict=False)
    closed: bool = False

    @model_validator(mode="after")
    def _turns(self) -> Self:
        last = len(self.legs) - 1
        wanted = last + 1 if self.closed else last
        problems = {
            f"legs.{i}.turn": f"is missing: leg {i + 1} needs one, left or right, to the next"
            for i, leg in enumerate(self.legs[:wanted])
            if leg.turn is None
        }
        if not self.closed and self.legs[last].turn is not None:
            problem = f"leg {last + 1} is the last of an open plan: it has no turn"
            problems[f"legs.{last}.turn"] = problem
        if problems:
            raise RuleError(problems)
        return self


Plan = Annotated[Straight | Rectangle | Legs, Field(discriminator="shape")]


class Height(Table):
    """The height: so many courses, or the finished height above ground."""

    courses: int | None = Field(default=None, ge=1, le=60)
    finished_mm: float | None = Field(
        default=None, ge=50, le=10_000, description="to the highest arris of the coping"
    )

    @model_validator(mode="after")
    def _one(self) -> Self:
        if (self.courses is None) == (self.finished_mm is None):
            msg = "give either courses or finished_mm"
            raise ValueError(msg)
        return self


class Place(Table):
    """Where the wall's first point stands on the site, and which way its first leg runs."""

    x_mm: float = Field(default=0.0, ge=-1_000_000, le=1_000_000)
    y_mm: float = Field(default=0.0, ge=-1_000_000, le=1_000_000)
    heading_deg: float = Field(default=0.0, ge=-360, le=360)


class Fill(Table):
    """What goes into a planter."""

    base_level_mm: float = Field(
        default=0.0, ge=-2000, le=1000, description="underside of the fill, above ground"
    )
    drainage_mm: float = Field(default=0.0, ge=0, le=2000)
    below_coping_mm: float = Field(
        default=50.0, ge=0, le=2000, description="from the underside of the coping to the soil"
    )


class Weeps(Table):
    """Weep holes through the wall, one course above ground."""

    kind: Literal["open perps", "tubes"]
    spacing_mm: float = Field(default=1000.0, ge=100, le=10_000)


class Dpc(Table):
    """A damp-proof course in the bed under the named course."""

    under_course: int = Field(ge=1, le=60)


class Wall(Table):
    """One wall. Tables given here replace the job's own of the same name."""

    name: Name
    place: Place = Place()
    body: Literal["left", "right"] = Field(
        default="left", description="the side of the outer face, seen along the way of travel"
    )
    plan: Plan
    height: Height
    start: WallEnd = StopEnd()
    end: WallEnd = StopEnd()
    block: Block | None = None
    joints: Joints | None = None
    bond: Bond | None = None
    coping: Coping | None = None
    footing: Footing | None = None
    base: Base | None = None
    movement: Movement | None = None
    fill: Fill | None = None
    soil: Soil | None = None
    weeps: Weeps | None = None
    dpc: Dpc | None = None


class Job(Table):
    """A whole job: what it is called, what it is built of, and its walls."""

    title: str = Field(min_length=1, max_length=200)
    client: str = Field(default="", max_length=200)
    date: dt.date | None = None
    notes: str = Field(default="", max_length=5000)
    designed_by: str = Field(
        default="",
        max_length=200,
        description="who answers for a wall past the common limits: name and calculations",
    )
    block: Block | None = None
    joints: Joints = Joints()
    bond: Bond = Bond()
    cutting: Cutting = Cutting()
    coping: Coping | None = None
    footing: Footing | None = None
    base: Base | None = None
    movement: Movement | None = None
    masonry: Masonry = Masonry()
    soil: Soil | None = None
    ground: Ground = Ground()
    site: Site = Site()
    wind: Wind | None = None
    walls: tuple[Wall, ...] = Field(min_length=1, max_length=40, strict=False)

    @field_validator("designed_by")
    @classmethod
    def _named(cls, name: str) -> str:
        if name and len(name.strip()) < LEAST_DESIGNER:
            msg = (
                f"must have at least {LEAST_DESIGNER} characters: "
                "the name and reference of the calculations"
            )
            raise ValueError(msg)
        return name

    @field_validator("walls")
    @classmethod
    def _names_differ(cls, walls: tuple[Wall, ...]) -> tuple[Wall, ...]:
        names = [w.name for w in walls]
        twice = sorted({n for n in names if names.count(n) > 1})
        if twice:
            msg = f"two walls are called {', '.join(twice)}: every wall needs a name of its own"
            raise ValueError(msg)
        return walls
