"""How things are bought, mixed and dug, as tables of the job file. Defaults: common practice."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, field_validator, model_validator

from parametric_wall.job.parts import RuleError, Table
from parametric_wall.reference import mixes
from parametric_wall.reference.tables import table

Percent = Annotated[float | None, Field(ge=0, le=100)]
MOST_IN_PACK = 10_000
PackOf = Annotated[int, Field(ge=1, le=MOST_IN_PACK)]
SkipYards = Literal[2, 4, 6, 8]
GroundKind = Literal[
    "topsoil",
    "loam",
    "common earth",
    "sand or gravel",
    "dry gravel",
    "wet gravel",
    "clay",
    "dry clay",
    "damp clay",
    "rock",
]


class Waste(Table):
    """What is added for waste, in place of the usual figures; on top of what cutting loses."""

    block_percent: Percent = None
    coping_percent: Percent = None
    mortar_percent: Percent = None
    concrete_percent: Percent = None
    drainage_percent: Percent = None
    soil_percent: Percent = Field(default=None, description="settlement of soil in a planter")


class Packs(Table):
    """What is sold in packs, and in what loose materials come."""

    blocks: PackOf = Field(default=1, description="blocks of every size to a pack; 1: singly")
    copings: PackOf = Field(default=1, description="copings of every size to a pack; 1: singly")
    sizes: dict[str, int] = Field(
        default={}, description="units of one size to a pack, as 440x100x140 = 72"
    )
    loose: Literal["as it suits", "25 kg bags", "bulk bags", "loose tonnes", "loose m3"] = Field(
        default="as it suits",
        description="how sand, ballast, gravel and soil are bought: a little in 25 kg bags, "
        "more in bulk bags",
    )
    bulk_bag_kg: float | None = Field(default=None, ge=100, le=2000)
    dpc_roll_m: float | None = Field(default=None, ge=1, le=100)
    ties: PackOf = Field(default=1, description="ties to a box; 1: singly")

    @field_validator("sizes")
    @classmethod
    def _some_in_each(cls, sizes: dict[str, int]) -> dict[str, int]:
        odd = [
            f"{size} = {count}" for size, count in sizes.items() if not 1 <= count <= MOST_IN_PACK
        ]
        if odd:
            msg = f"a pack holds from 1 to {MOST_IN_PACK} units, not {', '.join(odd)}"
            raise ValueError(msg)
        return sizes


class Mortar(Table):
    """The mortar: parts by volume, and what it yields."""

    mix: str = Field(
        default="1:3",
        description="cement to sand, cement to lime to sand, or M12, M6, M4, M2",
    )
    dry_to_wet: float | None = Field(
        default=None, ge=1, le=1.6, description="m3 of dry parts to the m3 of mortar"
    )
    plasticiser: bool = Field(default=True, description="in mixes without lime")
    plasticiser_ml_per_bag: float | None = Field(
        default=None, gt=0, le=5000, description="the maker's dosage to a 25 kg bag of cement"
    )

    @field_validator("mix")
    @classmethod
    def _known(cls, mix: str) -> str:
        named = table("mixes")["mortar"]
        if ":" not in mix and mix not in named:
            msg = f"no mortar of that name; known: {', '.join(named)}, or parts, as 1:3 or 1:1:6"
            raise ValueError(msg)
        return mix if mix in named else mixes.checked(mix, (2, 3))


class Concrete(Table):
    """The concrete of the footing: mixed on site, or ready-mixed."""

    made_of: Literal["ballast", "sand and coarse", "ready-mix"] = "ballast"
    mix: str | None = Field(
        default=None,
        description="cement to ballast (1:6), or cement to sand to coarse aggregate (1:2:4)",
    )
    dry_to_wet: float | None = Field(
        default=None, ge=1.2, le=1.8, description="of sand and coarse aggregate, not of ballast"
    )
    ready_mix: Literal["GEN1", "GEN3", "ST2", "ST3", "ST4"] = "GEN1"
    least_load_m3: float | None = Field(default=None, ge=0, le=10)

    @model_validator(mode="after")
    def _fits(self) -> Self:
        known = ", ".join(table("mixes")["ballast"])
        problems = {}
        if self.made_of == "ballast" and self.mix not in (None, *table("mixes")["ballast"]):
            problems["mix"] = f"has no known yield with ballast; known: {known}"
        if self.made_of == "ready-mix" and self.mix is not None:
            problems["mix"] = "is the supplier's matter: ready_mix names the concrete"
        if self.made_of == "sand and coarse" and self.mix is not None:
            try:
                mixes.checked(self.mix, (3,))
            except ValueError as error:
                problems["mix"] = str(error)
        if self.made_of != "sand and coarse" and self.dry_to_wet is not None:
            problems["dry_to_wet"] = "is for sand and coarse aggregate only: ballast fills itself"
        if problems:
            raise RuleError(problems)
        return self


class Mixing(Table):
    """With what is mixed: the mixing sheet counts in these."""

    mixer_l: float | None = Field(
        default=None, ge=5, le=2000, description="wet mix it turns out at a time, litres"
    )
    bucket_l: float | None = Field(default=None, ge=1, le=200)

    @model_validator(mode="after")
    def _room(self) -> Self:
        if self.mixer_l is not None and self.bucket_l is not None and self.mixer_l < self.bucket_l:
            problem = f"must not be less than bucket_l, {self.bucket_l:g}: a bucket has to go in"
            raise RuleError({"mixer_l": problem})
        return self


class Digging(Table):
    """What is dug, and where it goes."""

    soil: GroundKind | None = Field(default=None, description="without it, common earth")
    swell_percent: float | None = Field(default=None, ge=0, le=100)
    density_kg_m3: float | None = Field(
        default=None, ge=800, le=3000, description="in the ground, undisturbed"
    )
    compacted: bool = Field(
        default=False, description="backfill by a plate: takes more than its volume in the ground"
    )
    reuse_as_fill: bool = Field(
        default=False, description="what is left over goes into the planters, where it is fit to"
    )
    skip_yd: SkipYards | None = Field(default=None, description="size of skip, cubic yards")
    skip_payload_kg: float | None = Field(default=None, ge=500, le=20_000)

    @model_validator(mode="after")
    def _known_compaction(self) -> Self:
        row = table("soils_bulking")[self.soil or "common earth"]
        if self.compacted and "compacted" not in row:
            known = ", ".join(k for k, r in table("soils_bulking").items() if "compacted" in r)
            raise RuleError({"compacted": f"has no known figure for this soil; known: {known}"})
        if self.skip_payload_kg is not None and self.skip_yd is None:
            raise RuleError({"skip_payload_kg": "belongs to a size of skip: give skip_yd too"})
        return self


class Planting(Table):
    """What lines a planter."""

    geotextile: bool = Field(default=True, description="between drainage layer and soil")
    back_face: Literal["membrane", "none"] = Field(
        default="membrane", description="against the inside of the walls"
    )
