"""What is written of the movement joints between panels."""

from __future__ import annotations

from collections.abc import Iterator

from typing_extensions import TypedDict

from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import WallSetOut
from parametric_wall.setting_out.panels import tie_count


class JointRecord(TypedDict):
    """One movement joint: the panel whose end it lies past, and where along its run it begins."""

    wall: str
    run: int
    after: str
    at_mm: float
    width_mm: float
    ties: str
    tie_count: int


def joint_records(spec: WallSpec, placed: WallSetOut) -> Iterator[JointRecord]:
    """The joints between the panels of a wall, from the left."""
    if spec.movement is None:
        return
    along = 0.0
    for laid in placed.bonded:
        run = laid.run
        along = along + run.length if run.inner[0] else run.length
        if run.inner[1]:
            yield {
                "wall": spec.name,
                "run": run.number,
                "after": run.name,
                "at_mm": round(along, 6),
                "width_mm": round(run.joint, 6),
                "ties": spec.movement.ties,
                "tie_count": tie_count(spec),
            }
            along += run.joint
