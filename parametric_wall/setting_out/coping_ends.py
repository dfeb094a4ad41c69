"""Where the copings of a run begin and end: stop ends, existing walls, mitres, run-through corners.

At a mitre the joint is two halves, one in each run. Where copings run through,
the run that leads into the corner goes through and the next one butts against
its side; the bed under the through one's overhang, on the other run's wall, is
the through one's too. A slab bedded to a fall leans, so there the joint and the
bed are measured from its furthest arris; the few mm under or over its leaning
side are left to the pointing.

A movement joint between two panels goes on up through the copings in its own
width; it is the left panel's, past its end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from parametric_wall.geometry import End
from parametric_wall.job.coping import CopingLay
from parametric_wall.setting_out.runs import Run

CopingJoint = Literal["none", "mortar", "movement", "mitre"]


@dataclass(frozen=True, slots=True)
class CopingEnd:
    """One end of a run's copings, all planes in the run's own axes.

    Attributes:
        face: where the last coping ends.
        bed: where the bed ends.
        joint: the joint beyond the face, if any.
        joint_face: where that joint ends; a mitre's half ends on the diagonal.
    """

    face: End
    bed: End
    joint: CopingJoint
    joint_face: End


def start_of(run: Run, lay: CopingLay, perp: float) -> CopingEnd:
    """The left end of a run's copings. `perp` is the width of a movement joint in the wall, mm."""
    joint, end = lay.coping.joint_mm, lay.coping.overhang_end_mm
    if run.start == "stop":
        return CopingEnd(End(-end), End(0.0), "none", End(-end))
    if run.inner[0]:
        return CopingEnd(End(0.0), End(0.0), "none", End(0.0))
    if run.start == "movement":
        return CopingEnd(End(joint), End(perp), "movement", End(0.0))
    if run.start == "abutment":
        return CopingEnd(End(joint), End(0.0), "mortar", End(0.0))
    inward = 1.0 if run.start == "convex" else -1.0
    if lay.coping.corner == "mitred":
        half = joint / math.sqrt(2)
        return CopingEnd(End(half, inward), End(0.0, inward), "mitre", End(0.0, inward))
    # The through run's side: its back at a convex corner, its front at a re-entrant one.
    low, high = lay.reach()
    furthest = high if run.start == "convex" else -low
    return CopingEnd(End(furthest + joint), End(furthest), "mortar", End(furthest))


def end_of(run: Run, lay: CopingLay, perp: float) -> CopingEnd:
    """The right end of a run's copings."""
    joint, past, length = lay.coping.joint_mm, lay.coping.overhang_end_mm, run.length
    if run.end == "stop":
        return CopingEnd(End(length + past), End(length), "none", End(length + past))
    if run.inner[1]:
        return CopingEnd(End(length), End(length), "movement", End(length + run.joint))
    if run.end == "movement":
        return CopingEnd(End(length - joint), End(length - perp), "movement", End(length))
    if run.end == "abutment":
        return CopingEnd(End(length - joint), End(length), "mortar", End(length))
    convex = run.end == "convex"
    if lay.coping.corner == "mitred":
        outward = -1.0 if convex else 1.0
        half = joint / math.sqrt(2)
        diagonal = End(length, outward)
        return CopingEnd(End(length - half, outward), diagonal, "mitre", diagonal)
    past = lay.front if convex else run.thickness + lay.back
    face = End(length + past)
    return CopingEnd(face, End(length if convex else length + run.thickness), "none", face)


def corner_bed(run: Run, lay: CopingLay) -> tuple[float, float, float, float] | None:
    """s0, s1, u0, u1 of the bed under a run-through corner's overhang; None where there is none."""
    t, length = run.thickness, run.length
    if lay.coping.corner == "mitred":
        return None
    if run.end == "convex" and lay.back > 0:
        return length - t, length, t, t + lay.back
    if run.end == "re-entrant" and lay.front > 0:
        return length, length + t, -lay.front, 0.0
    return None
