"""How the copings lie: overhang, drip, bed, joints, corners."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from shapely import Polygon, unary_union

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.coping import CopingLay
from parametric_wall.job.resolve import WallSpec
from parametric_wall.reference.tables import limit
from parametric_wall.setting_out.copings import near_lengths
from parametric_wall.setting_out.model import Piece, WallSetOut
from parametric_wall.setting_out.runs import Run


def coping_findings(spec: WallSpec, wall: WallSetOut) -> Iterator[Finding]:
    """Findings of a wall's copings."""
    if spec.coping is None:
        yield Finding("no-coping", Grade.LOOK, spec.name, "nothing lies on the last course")
        return
    yield from _section(spec, spec.coping)
    yield from _corners(spec, spec.coping, wall)
    yield from _joints(spec, spec.coping, wall)
    yield from _collisions(spec, wall)


def _section(spec: WallSpec, lay: CopingLay) -> Iterator[Finding]:
    advised, least = limit("coping_overhang"), limit("coping_overhang_practical")
    overhang = min(lay.front, lay.back)
    if overhang < advised - TOLERANCE.cut:
        grade = Grade.LOOK if overhang < least - TOLERANCE.cut else Grade.KNOW
        text = f"overhangs {lay.front:.0f} in front and {lay.back:.0f} behind"
        yield Finding("coping-overhang", grade, spec.name, text, overhang, advised, "mm")
    drip = lay.coping.drip
    if drip is None:
        yield Finding("no-drip", Grade.KNOW, spec.name, "the coping has no groove underneath")
    else:
        clear = min(lay.front, lay.back) - drip.distance_mm - drip.width_mm
        if clear < (near := limit("drip_from_face")):
            text = f"the groove is {clear:.0f} from the face"
            yield Finding("drip-near-face", Grade.KNOW, spec.name, text, clear, near, "mm")
    thick = spec.gauge.bed + spec.thickness * abs(lay.tilt)
    if thick > (most := limit("coping_bed_thick")):
        text = f"the wedge bed is {thick:.1f} at its high edge"
        yield Finding("coping-bed-thick", Grade.LOOK, spec.name, text, thick, most, "mm")


def _corners(spec: WallSpec, lay: CopingLay, wall: WallSetOut) -> Iterator[Finding]:
    falls = lay.tilt != 0 or lay.weathering != 0
    ends = [(laid.run.name, laid.run.end) for laid in wall.coped]
    if not falls:
        return
    to_front = lay.tilt + lay.weathering > 0
    for name, end in ends:
        where = f"{spec.name}/{name}"
        if lay.coping.corner == "mitred" and end in ("convex", "re-entrant"):
            # A fall runs into the mitre on the inside of the bend.
            if (end == "re-entrant") == to_front:
                text = f"the {'front' if to_front else 'back'} falls meet at the end of {name}"
                yield Finding("valley", Grade.LOOK, where, text)
        elif end in ("convex", "re-entrant"):
            step = abs(lay.weathering) or lay.coping.width_mm * abs(lay.tilt) / math.hypot(
                1, lay.tilt
            )
            text = f"a step of {step:.0f} at the end of {name}"
            yield Finding("corner-step", Grade.KNOW, where, text, step, None, "mm")
            yield from _dips(spec, lay, where, end)


def _dips(spec: WallSpec, lay: CopingLay, where: str, end: str) -> Iterator[Finding]:
    """Whether a run-through coping's overhang dips into the bed of the run beside it."""
    u = spec.thickness + lay.back if end == "convex" else -lay.front
    bed, least = spec.gauge.bed, spec.joints.bed_min_mm
    left = lay.underside(u, bed)
    text = f"only {left:.1f} of a bed of {bed:.1f} is left under the overhang"
    if left < min(bed, least) - TOLERANCE.coincident:
        yield Finding("corner-bed-thin", Grade.STOP, where, text, left, least, "mm")
    elif left < bed - limit("corner_bed_loss") - TOLERANCE.coincident:
        yield Finding("corner-bed-thin", Grade.LOOK, where, text, left, bed, "mm")


def _joints(spec: WallSpec, lay: CopingLay, wall: WallSetOut) -> Iterator[Finding]:
    for laid in wall.coped:
        where = f"{spec.name}/{laid.run.name}"
        if not laid.lengths:
            yield Finding("no-coping-fit", Grade.STOP, where, _misfit(spec, lay, laid.run))
        elif laid.clearance < lay.clear - TOLERANCE.coincident:
            text = f"a coping joint is {max(laid.clearance, 0):.0f} from a perp below"
            yield Finding(
                "coping-near-perp", Grade.LOOK, where, text, laid.clearance, lay.clear, "mm"
            )


def _misfit(spec: WallSpec, lay: CopingLay, run: Run) -> str:
    near = [f"{x:.0f}" for x in near_lengths(lay, run, spec.joints.perp_mm)]
    advice = f"nearest lengths it fits: {' and '.join(near)}" if near else "it fits no near length"
    return (
        f"no row of copings of {lay.coping.length_mm:.0f} fits {run.length:.0f} with pieces of "
        f"{lay.min_cut:.0f} or more and {lay.shoulder:.0f} or more on the short side of a mitred "
        f"one; {advice}"
    )


def outline(piece: Piece) -> Polygon:
    """A piece seen from above, in the wall's axes."""
    return Polygon([piece.at.point(s, u)[:2] for s, u in piece.shape.plan()])


def _collisions(spec: WallSpec, wall: WallSetOut) -> Iterator[Finding]:
    plans = {
        laid.run.name: unary_union(
            [
                outline(p)
                for p in wall.pieces
                if p.kind in ("coping", "coping joint")
                and p.id.startswith(f"{spec.name}/{laid.run.name}/")
            ]
        )
        for laid in wall.coped
    }
    for (a, one), (b, other) in combinations(plans.items(), 2):
        area = one.intersection(other).area
        if area > TOLERANCE.cut:
            text = f"{a} and {b} share {area / 1e6:.4f} m2 at coping level"
            yield Finding("copings-collide", Grade.STOP, spec.name, text, area / 1e6, 0.0, "m2")
