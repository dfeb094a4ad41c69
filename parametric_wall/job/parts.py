"""What a wall is made of and stands on, as tables of the job file: frozen models. See `model`."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    field_validator,
    model_validator,
)

from parametric_wall.reference import tables


class Table(BaseModel):
    """A table of the job file: frozen, exact types, unknown keys are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, allow_inf_nan=False)


class RuleError(ValueError):
    """A rule of a table that some of its keys break: each key's path in the table, and how."""

    def __init__(self, problems: dict[str, str]) -> None:
        self.problems = problems
        super().__init__("; ".join(f"{path} {problem}" for path, problem in problems.items()))


def fill_in_size(row: object, known: dict[str, tables.KnownSize], depth: str) -> object:
    """Put a named size's figures into its table; figures given beside it win.

    A name that is not known stands for any figures: it is told as a fault of its own,
    and the figures are not missing.
    """
    if not isinstance(row, dict) or row.get("size") is None:
        return row
    named = row["size"] if isinstance(row["size"], str) else ""
    size = known.get(named) or next(iter(known.values()))
    figures = {
        "length_mm": size.length_mm,
        "width_mm": size.width_mm,
        depth: size.depth_mm,
        "density_kg_m3": size.density_kg_m3,
    }
    return figures | row


def known_size(name: str | None, known: dict[str, tables.KnownSize]) -> str | None:
    """The name of a size, if there is one of that name."""
    if name is not None and name not in known:
        msg = f"no size of that name; known: {', '.join(known)}"
        raise ValueError(msg)
    return name


def _size_or_figures(schema: dict[str, Any]) -> None:
    """A known size stands for the figures that a table without one has to give."""
    schema["anyOf"] = [{"required": ["size"]}, {"required": schema.pop("required")}]


BlockHeight = Annotated[float, Field(ge=40, le=500)]


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
    course_heights_mm: tuple[BlockHeight, ...] | None = Field(
        default=None,
        min_length=1,
        max_length=60,
        strict=False,
        description="whole courses of a family of blocks from the bottom, repeated; "
        "without it the family's heights in turn",
    )
    min_lap_mm: float | None = Field(default=None, ge=10, le=500)
    min_cut_mm: float | None = Field(default=None, ge=10, le=500)
    min_closer_mm: float | None = Field(default=None, ge=10, le=500)
    adjust: bool = Field(
        default=True, description="open or close perps within their range where that saves cuts"
    )
    most_alike: int = Field(
        default=3, ge=1, le=20, description="blocks of one length side by side, of mixed lengths"
    )
    seed: int = Field(
        default=1, ge=0, le=1_000_000, description="another number lays mixed lengths another way"
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
        return fill_in_size(row, tables.copings(), "thickness_mm")

    @field_validator("size")
    @classmethod
    def _listed(cls, name: str | None) -> str | None:
        return known_size(name, tables.copings())

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


class Movement(Table):
    """Movement joints that divide every run longer than their spacing."""

    spacing_mm: float = Field(
        ge=1500,
        le=15_000,
        description="no panel is longer; blockwork garden walls take at most 6000",
    )
    width_mm: float = Field(default=10.0, ge=5, le=40)
    ties: Literal["slip ties", "none"] = "slip ties"


class Base(Table):
    """An existing base to build on, in place of a footing."""

    level_mm: float = Field(
        ge=-2000, le=1000, description="top of the base, above (+) or below (-) ground"
    )
