"""The job file's tables, as frozen models. Bare numbers in mm; keys carry their unit."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Any, Literal, Self, get_args

from pydantic import BaseModel, ConfigDict, Field, field_validator, model_validator

from parametric_wall.reference import tables

Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$", max_length=40)]


class Table(BaseModel):
    """A table of the job file: frozen, exact types, unknown keys are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, allow_inf_nan=False)


def _fill_in_size(row: object, known: dict[str, tables.KnownSize], depth: str) -> object:
    """Replace a named size by its figures; figures given beside it win."""
    if not isinstance(row, dict) or row.get("size") is None:
        return row
    size = known.get(row["size"]) if isinstance(row["size"], str) else None
    if size is None:
        choices = ", ".join(known)
        msg = f"no size of that name; known: {choices}"
        raise ValueError(msg)
    figures = {
        "length_mm": size.length_mm,
        "width_mm": size.width_mm,
        depth: size.depth_mm,
        "density_kg_m3": size.density_kg_m3,
    }
    return figures | row


def _size_or_figures(schema: dict[str, Any]) -> None:
    """A known size stands for the figures that a table without one has to give."""
    schema["anyOf"] = [{"required": ["size"]}, {"required": schema.pop("required")}]


class Block(Table):
    """The walling block: a known size by name, or its figures."""

    model_config = ConfigDict(json_schema_extra=_size_or_figures)

    size: str | None = None
    length_mm: float = Field(ge=100, le=1000)
    width_mm: float = Field(ge=50, le=500)
    height_mm: float = Field(ge=40, le=500)
    density_kg_m3: float = Field(default=2000.0, ge=300, le=3500)

    @model_validator(mode="before")
    @classmethod
    def _known(cls, row: object) -> object:
        return _fill_in_size(row, tables.blocks(), "height_mm")

    @property
    def name(self) -> str:
        """Its work size, length x width x height."""
        return f"{self.length_mm:g}x{self.width_mm:g}x{self.height_mm:g}"

    @model_validator(mode="after")
    def _longer_than_wide(self) -> Self:
        if self.length_mm <= self.width_mm:
            msg = (
                f"length {self.length_mm:g} must be more than width {self.width_mm:g}: "
                "stretchers lie along the wall"
            )
            raise ValueError(msg)
        return self


class Joints(Table):
    """Bed and perp joints, and how far they may open or close."""

    bed_mm: float = Field(default=10.0, ge=3, le=25)
    bed_min_mm: float = Field(default=6.0, ge=3, le=25)
    bed_max_mm: float = Field(default=15.0, ge=3, le=25)
    perp_mm: float = Field(default=10.0, ge=3, le=25)
    perp_min_mm: float = Field(default=6.0, ge=3, le=25)
    perp_max_mm: float = Field(default=15.0, ge=3, le=25)

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        for name in ("bed", "perp"):
            low, mid, high = (getattr(self, f"{name}{part}_mm") for part in ("_min", "", "_max"))
            if not low <= mid <= high:
                msg = f"{name} joints must have min {low:g} <= nominal {mid:g} <= max {high:g}"
                raise ValueError(msg)
        return self


class Bond(Table):
    """The bond wished for, and the rules that no bond may break."""

    wish: Literal["best", "half", "third", "quarter"] = Field(
        default="best", description="best wastes least; the others come before waste"
    )
    third: Literal["raking", "to and fro"] = "to and fro"
    min_lap_mm: float | None = Field(default=None, ge=10, le=500)
    min_cut_mm: float | None = Field(default=None, ge=10, le=500)
    min_closer_mm: float | None = Field(default=None, ge=10, le=500)
    adjust: bool = Field(
        default=True, description="open or close perps within their range where that saves cuts"
    )


class Fall(Table):
    """How a coping sheds water: so many mm in so many mm, or degrees."""

    to: Literal["front", "back"]
    mm: float | None = Field(default=None, gt=0, le=200)
    in_mm: float | None = Field(default=None, gt=0, le=1000)
    deg: float | None = Field(default=None, gt=0, le=30)

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        if (self.mm is None) == (self.deg is None) or (self.mm is None) != (self.in_mm is None):
            msg = "give either mm and in_mm (for instance 10 in 220), or deg"
            raise ValueError(msg)
        if self.mm is not None and self.in_mm is not None and self.mm / self.in_mm > 0.6:
            msg = (
                f"{self.mm:g} in {self.in_mm:g} is steeper than 0.6: this is not a coping any more"
            )
            raise ValueError(msg)
        return self


class Drip(Table):
    """A groove in the underside of each overhang."""

    width_mm: float = Field(gt=0, le=50)
    depth_mm: float = Field(gt=0, le=50)
    distance_mm: float = Field(
        gt=0, le=200, description="from the coping's edge to the groove, along the underside"
    )
    sides: Literal["both", "front", "back"] = "both"


class Coping(Table):
    """The coping: a known size by name, or its figures, and how it is laid."""

    model_config = ConfigDict(json_schema_extra=_size_or_figures)

    size: str | None = None
    length_mm: float = Field(ge=150, le=2000)
    width_mm: float = Field(ge=60, le=1000)
    thickness_mm: float = Field(ge=20, le=250)
    density_kg_m3: float = Field(default=2200.0, ge=300, le=3500)
    overhang_front_mm: float | None = Field(default=None, ge=0, le=300)
    overhang_back_mm: float | None = Field(default=None, ge=0, le=300)
    overhang_end_mm: float = Field(default=0.0, ge=0, le=300)
    joint_mm: float = Field(default=10.0, ge=3, le=25)
    corner: Literal["mitred", "run through"] = "mitred"
    profile: Literal["flat", "weathered"] = "flat"
    fall: Fall | None = None
    drip: Drip | None = None
    coping_clear_mm: float | None = Field(default=None, ge=0, le=300)
    min_cut_mm: float | None = Field(default=None, ge=10, le=1000)

    @model_validator(mode="before")
    @classmethod
    def _known(cls, row: object) -> object:
        return _fill_in_size(row, tables.copings(), "thickness_mm")

    @model_validator(mode="after")
    def _weathered_falls(self) -> Self:
        if self.profile == "weathered" and self.fall is None:
            msg = 'a weathered coping has a fall: give one, or use profile = "flat"'
            raise ValueError(msg)
        return self


class Footing(Table):
    """A concrete strip under the wall."""

    spread_mm: float = Field(default=100.0, ge=0, le=1000)
    depth_mm: float = Field(default=150.0, ge=50, le=2000)
    below_ground_mm: float = Field(
        default=50.0, ge=0, le=2000, description="how far the first course starts below ground"
    )


class Base(Table):
    """An existing base to build on, in place of a footing."""

    level_mm: float = Field(
        ge=-2000, le=1000, description="top of the base, above (+) or below (-) ground"
    )


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
        wanted = len(self.legs) if self.closed else len(self.legs) - 1
        missing = [i for i, leg in enumerate(self.legs[:wanted]) if leg.turn is None]
        if missing:
            msg = f"leg {missing[0]} needs a turn, left or right, to the next leg"
            raise ValueError(msg)
        if not self.closed and self.legs[-1].turn is not None:
            msg = "the last leg of an open plan has no turn: nothing follows it"
            raise ValueError(msg)
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
    fill: Fill | None = None
    weeps: Weeps | None = None
    dpc: Dpc | None = None


LOSSES_MM = {"hammer and bolster": 10.0, "saw": 4.0}
"""Lost between two pieces of one unit: breakage, or the kerf of a blade (common practice)."""
Criterion = Literal[
    "wish", "blocks", "cuts", "side by side", "lap", "lengths", "symmetry", "joint"
]
CRITERIA: tuple[Criterion, ...] = get_args(Criterion)


class Cutting(Table):
    """How blocks are cut, and what makes one bond better than another."""

    tool: Literal["hammer and bolster", "saw"] = "hammer and bolster"
    loss_mm: float | None = Field(default=None, ge=0, le=50)
    reuse_offcuts: bool = True
    order: tuple[Criterion, ...] = Field(
        default=CRITERIA, strict=False, description="criteria of the bond, the first counts most"
    )
    tries: int = Field(
        default=30_000,
        ge=0,
        le=100_000_000,
        description="bonds of one wall to look at beyond the usual ones, short of the bound",
    )
    seconds: float = Field(default=10.0, ge=0, le=600, description="for the proof of the cutting")

    @property
    def loss(self) -> float:
        """Lost between two pieces of one unit, mm."""
        return LOSSES_MM[self.tool] if self.loss_mm is None else self.loss_mm

    @field_validator("order")
    @classmethod
    def _all_of_them(cls, order: tuple[Criterion, ...]) -> tuple[Criterion, ...]:
        """Those that are not named follow in their usual order."""
        if len(set(order)) < len(order):
            msg = "a criterion is named twice"
            raise ValueError(msg)
        return (*order, *(c for c in CRITERIA if c not in order))


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
    walls: tuple[Wall, ...] = Field(min_length=1, max_length=40, strict=False)

    @field_validator("walls")
    @classmethod
    def _names_differ(cls, walls: tuple[Wall, ...]) -> tuple[Wall, ...]:
        names = [w.name for w in walls]
        twice = sorted({n for n in names if names.count(n) > 1})
        if twice:
            msg = f"two walls are called {', '.join(twice)}: every wall needs a name of its own"
            raise ValueError(msg)
        return walls
