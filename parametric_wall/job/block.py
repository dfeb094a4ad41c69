"""The walling block of the job file, or a family of blocks: several heights, or several lengths."""

from __future__ import annotations

from itertools import pairwise, product
from typing import Annotated, Any

from pydantic import ConfigDict, Field, ValidationInfo, field_validator, model_validator
from pydantic_core import PydanticCustomError

from parametric_wall.job.parts import BlockHeight, Table, fill_in_size, known_size
from parametric_wall.reference import tables

LENGTHS = ("length_mm", "lengths_mm")
HEIGHTS = ("height_mm", "heights_mm")
FAMILIES = ("lengths_mm", "heights_mm")
TENTHS = 10
"""Of a mm: the finest step by which the lengths of a family differ."""


def _schema(schema: dict[str, Any]) -> None:
    """A known size, or figures: one length or those of a family, and its heights likewise."""
    figures = schema.pop("required")
    pairs = [pair for pair in product(LENGTHS, HEIGHTS) if pair != FAMILIES]
    schema["anyOf"] = [
        {"required": ["size"]},
        *({"required": [*figures, *pair]} for pair in pairs),
    ]
    schema["not"] = {"anyOf": [{"required": list(two)} for two in (LENGTHS, HEIGHTS, FAMILIES)]}
    schema["dependentRequired"] = {"mix": ["lengths_mm"]}
    # No TOML value stands for none: what is given is a number, or a list of them.
    for key in (*LENGTHS, *HEIGHTS, "mix"):
        optional = schema["properties"][key]
        optional |= optional.pop("anyOf")[0]
        optional.pop("default")


BlockLength = Annotated[float, Field(ge=100, le=1000)]
Packed = Annotated[int, Field(ge=1, le=100)]


class Block(Table):
    """The walling block: a known size by name, or its figures.

    A family of blocks has one length and width and several heights, a course each; or one
    width and height and several lengths, mixed in every course.
    """

    model_config = ConfigDict(json_schema_extra=_schema)

    size: str | None = None
    lengths_mm: tuple[BlockLength, ...] | None = Field(
        default=None,
        min_length=2,
        max_length=4,
        strict=False,
        description="of blocks mixed in every course, the shortest first, in place of length_mm",
    )
    length_mm: float | None = Field(default=None, ge=100, le=1000, validate_default=True)
    mix: tuple[Packed, ...] | None = Field(
        default=None,
        min_length=2,
        max_length=4,
        strict=False,
        description="how many of each length come in a pack; without it they come one by one",
    )
    width_mm: float = Field(ge=50, le=500)
    heights_mm: tuple[BlockHeight, ...] | None = Field(
        default=None,
        min_length=2,
        max_length=3,
        strict=False,
        description="of a family of blocks, in place of height_mm",
    )
    height_mm: float | None = Field(default=None, ge=40, le=500, validate_default=True)
    density_kg_m3: float = Field(default=2000.0, ge=300, le=3500)

    @model_validator(mode="before")
    @classmethod
    def _known(cls, row: object) -> object:
        filled = fill_in_size(row, tables.blocks(), "height_mm")
        if not isinstance(row, dict) or not isinstance(filled, dict):
            return filled
        # A family's figures stand in place of the named size's own.
        own = {one for one, several in (LENGTHS, HEIGHTS) if several in row} - row.keys()
        return {k: v for k, v in filled.items() if k not in own}

    @field_validator("lengths_mm", "heights_mm")
    @classmethod
    def _differ(
        cls, sizes: tuple[float, ...] | None, info: ValidationInfo
    ) -> tuple[float, ...] | None:
        if sizes is not None and len(set(sizes)) < len(sizes):
            msg = f"every {str(info.field_name).removesuffix('s_mm')} of a family is named once"
            raise ValueError(msg)
        return sizes

    @field_validator("lengths_mm")
    @classmethod
    def _rising(cls, lengths: tuple[float, ...] | None) -> tuple[float, ...] | None:
        """In one order a family has one name; rows are found by the lengths' common step."""
        steps = [round((b - a) * TENTHS, 6) for a, b in pairwise(lengths or ())]
        if any(step < 0 for step in steps):
            msg = "must begin with the shortest length and rise"
            raise ValueError(msg)
        if not all(step >= 1 and step.is_integer() for step in steps):
            msg = "lengths of a family must differ by whole tenths of a mm"
            raise ValueError(msg)
        return lengths

    @field_validator("length_mm", "height_mm")
    @classmethod
    def _one_or_several(cls, size: float | None, info: ValidationInfo) -> float | None:
        several = f"{str(info.field_name).removesuffix('_mm')}s_mm"
        if size is None and info.data.get(several, ()) is None:
            kind, text = "missing", "is missing"
            raise PydanticCustomError(kind, text)
        if size is not None and info.data.get(several) is not None:
            msg = f"give {info.field_name} or {several}, not both"
            raise ValueError(msg)
        return size

    @field_validator("heights_mm")
    @classmethod
    def _one_family(
        cls, heights: tuple[float, ...] | None, info: ValidationInfo
    ) -> tuple[float, ...] | None:
        if heights is not None and info.data.get("lengths_mm") is not None:
            msg = "a family has several lengths or several heights, not both"
            raise ValueError(msg)
        return heights

    @field_validator("mix")
    @classmethod
    def _as_many(cls, mix: tuple[int, ...] | None, info: ValidationInfo) -> tuple[int, ...] | None:
        lengths = info.data.get("lengths_mm", ())
        if mix is not None and lengths is None:
            msg = "only blocks of several lengths come mixed: give lengths_mm"
            raise ValueError(msg)
        if mix is not None and lengths and len(mix) != len(lengths):
            msg = f"names {len(mix)} numbers for {len(lengths)} lengths"
            raise ValueError(msg)
        return mix

    @field_validator("size")
    @classmethod
    def _listed(cls, name: str | None) -> str | None:
        return known_size(name, tables.blocks())

    @property
    def lengths(self) -> tuple[float, ...]:
        """Its length, or those of its family, mm."""
        return self.lengths_mm or (() if self.length_mm is None else (self.length_mm,))

    @property
    def longest(self) -> float:
        """The greatest of its lengths, mm: it rules the cut and is the heaviest."""
        return max(self.lengths)

    @property
    def shortest(self) -> float:
        """The least of its lengths, mm."""
        return min(self.lengths)

    @property
    def mean_length(self) -> float:
        """Of a block as they come, mm; of lengths that come one by one, as many of each."""
        mix = self.mix or (1,) * len(self.lengths)
        return sum(x * n for x, n in zip(self.lengths, mix, strict=True)) / sum(mix)

    @property
    def heights(self) -> tuple[float, ...]:
        """Its height, or those of its family, mm."""
        return self.heights_mm or (() if self.height_mm is None else (self.height_mm,))

    @property
    def tallest(self) -> float:
        """The greatest of its heights, mm: it rules the lap and is the heaviest."""
        return max(self.heights)

    def name_at(self, height: float, length: float | None = None) -> str:
        """Work size of the block of one height, length x width x height; of one length, or all."""
        long = "/".join(f"{x:g}" for x in (self.lengths if length is None else (length,)))
        return f"{long}x{self.width_mm:g}x{height:g}"

    @model_validator(mode="after")
    def _longer_than_wide(self) -> Block:
        if self.shortest <= self.width_mm:
            msg = (
                f"length {self.shortest:g} must be more than width {self.width_mm:g}: "
                "stretchers lie along the wall"
            )
            raise ValueError(msg)
        return self
