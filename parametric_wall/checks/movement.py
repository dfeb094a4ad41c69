"""Movement joints: how far apart and how wide, by the material of the units."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.reference.movement_joints import joint_width_min, movement_rule
from parametric_wall.reference.tables import limit, limits
from parametric_wall.setting_out.model import WallSetOut
from parametric_wall.setting_out.runs import CORNERS, Run, runs_of


def movement_findings(spec: WallSpec, wall: WallSetOut, job: JobSpec) -> Iterator[Finding]:
    """Runs, or the panels they are divided into, and the joints between these."""
    unit, runs = job.job.masonry.unit, _panels(spec, wall)
    for run in runs:
        yield from _long(spec, run, unit)
    if spec.movement is not None and any(run.joint for run in runs):
        longest, width = max(run.length for run in runs), spec.movement.width_mm
        least, rule = joint_width_min(unit, longest), movement_rule(unit)
        if width < least - TOLERANCE.coincident:
            text = f"joints of {width:.0f} in {unit}, panels of up to {longest / 1000:.2f} m"
            cited = (rule.source, rule.standing)
            yield Finding(
                "joint-narrow", Grade.LOOK, spec.name, text, width, least, "mm", rule=cited
            )


def _panels(spec: WallSpec, wall: WallSetOut) -> tuple[Run, ...]:
    if spec.movement is None:
        return runs_of(spec)
    return tuple(one.run for one in wall.bonded) + tuple(one.run for one in wall.unbonded)


def _long(spec: WallSpec, run: Run, unit: str) -> Iterator[Finding]:
    rule, where = movement_rule(unit), f"{spec.name}/{run.name}"
    most = rule.from_corner if {run.start, run.end} & CORNERS else rule.spacing
    text = f"{run.length / 1000:.2f} m of {unit} without a movement joint"
    free = limits()["clay_freestanding_joint"]
    if run.length > most:
        cited = (rule.source, rule.standing)
        yield Finding("long-panel", Grade.LOOK, where, text, run.length, most, "mm", rule=cited)
    elif unit == "clay" and run.length > limit("clay_freestanding_joint"):
        cited = (free.source, free.standing)
        yield Finding(
            "long-panel", Grade.KNOW, where, text, run.length, free.value, "mm", rule=cited
        )
