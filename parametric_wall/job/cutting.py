"""How blocks are cut, and what makes one bond better than another."""

from __future__ import annotations

from typing import Literal, get_args

from pydantic import Field, field_validator

from parametric_wall.job.parts import Table

LOSSES_MM = {"hammer and bolster": 10.0, "saw": 4.0}
"""Lost between two pieces of one unit: breakage, or the kerf of a blade (common practice)."""
Criterion = Literal["wish", "blocks", "cuts", "side by side", "lap", "lengths", "symmetry", "joint"]
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
