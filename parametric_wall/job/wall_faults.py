"""Faults of a wall that take more than one of its tables to see."""

from __future__ import annotations

from typing import TYPE_CHECKING

from parametric_wall.errors import Fault
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.model import Abutment, Wall
from parametric_wall.job.path import Path

if TYPE_CHECKING:
    from parametric_wall.job.resolve import WallSpec

MOST_BLOCKS = 20_000
"""More is not a garden wall, and the model would not fit a designer's computer."""


def dpc_faults(spec: WallSpec, at: str) -> list[Fault]:
    """A damp-proof course above the last course."""
    if spec.dpc is None or spec.dpc.under_course <= spec.gauge.courses:
        return []
    problem = f"the wall has {spec.gauge.courses} courses"
    return [Fault(f"{at}.dpc.under_course", str(spec.dpc.under_course), problem)]


def end_faults(wall: Wall, path: Path, at: str) -> list[Fault]:
    """An abutment of a plan that has no ends."""
    if not path.closed:
        return []
    hint = "leave it out; only an open plan meets existing walls"
    return [
        Fault(f"{at}.{key}", '"abutment"', "a closed plan has no ends", hint)
        for key, end in (("start", wall.start), ("end", wall.end))
        if isinstance(end, Abutment)
    ]


def level_faults(spec: WallSpec, at: str) -> list[Fault]:
    """What lies too low for the ground, or for the footing."""
    faults = []
    gauge = spec.gauge
    if gauge.wanted is None and gauge.finished <= TOLERANCE.coincident:
        problem = f"the wall ends {abs(gauge.finished):.0f} below ground"
        hint = "give more courses, or start the first one higher"
        faults.append(Fault(f"{at}.height.courses", str(gauge.courses), problem, hint))
    if spec.fill is not None and spec.footing is not None:
        under = spec.underside
        if spec.fill.base_level_mm < under - TOLERANCE.coincident:
            problem = f"must not be less than {under:g}, the underside of the footing"
            hint = "deeper digging would undermine it: raise the fill, or found the wall deeper"
            given = f"{spec.fill.base_level_mm:g}"
            faults.append(Fault(f"{at}.fill.base_level_mm", given, problem, hint))
    return faults


def too_many(walls: list[WallSpec]) -> list[Fault]:
    """More blocks than one job may have."""
    count = sum(
        sum(w.path.lengths) / (w.block.mean_length + w.joints.perp_mm) * w.gauge.courses
        for w in walls
    )
    if count <= MOST_BLOCKS:
        return []
    problem = f"at most {MOST_BLOCKS} in one job; this one wants about {count:.0f}"
    return [Fault("walls", f"{count:.0f} blocks", problem, "split the job")]
