"""Quantities from the job alone, by girth and section, as a quantity surveyor measures them.

Nothing here knows how the wall is set out: a section is taken along the wall by
its girth through the section's centroid, and corners, ends and joints to other
walls are added and taken off as formulas. All volumes in mm3.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from parametric_wall.job.coping import CopingLay
from parametric_wall.job.model import Abutment, Movement, StopEnd
from parametric_wall.job.path import LEFT, RIGHT
from parametric_wall.job.resolve import WallSpec
from parametric_wall.takeoff.plan_area import (
    area_outside,
    inner_face,
    outline_area,
    strips,
    union_area,
)


@dataclass(frozen=True, slots=True)
class Measure:
    """What the formulas need of a wall's plan.

    Attributes:
        outside: sum of the lengths along the outer face, mm.
        convex: number of convex corners.
        re_entrant: number of re-entrant corners.
        stops: number of stop ends.
        moving: number of ends with a movement joint.
        between: number of movement joints inside the runs.
        width: of each of those, mm.
    """

    outside: float
    convex: int
    re_entrant: int
    stops: int
    moving: int
    between: int
    width: float

    def girth(self, u: float) -> float:
        """Length of the line at a depth `u` behind the outer face, mm."""
        return self.outside - 2 * u * (self.convex - self.re_entrant)


def measure(spec: WallSpec) -> Measure:
    """Count what the formulas need."""
    path = spec.path
    ends = () if path.closed else (path.start, path.end)
    movement = spec.movement
    return Measure(
        outside=sum(path.lengths),
        convex=path.turns.count(LEFT),
        re_entrant=path.turns.count(RIGHT),
        stops=sum(isinstance(e, StopEnd) for e in ends),
        moving=sum(isinstance(e, Abutment) and e.joint == "movement" for e in ends),
        between=0 if movement is None else sum(joints_in(x, movement) for x in path.lengths),
        width=0.0 if movement is None else movement.width_mm,
    )


def joints_in(length: float, movement: Movement) -> int:
    """Movement joints in a run: as many as leave no panel longer than their spacing."""
    return math.ceil(round(length / movement.spacing_mm, 9)) - 1


def closed_form(spec: WallSpec) -> dict[str, float]:
    """Volume of each component of a wall, by the component's name.

    Open perps are not taken off here: their number follows from the bond.
    """
    m, t, g = measure(spec), spec.thickness, spec.gauge
    joint = spec.joints.perp_mm
    joints = m.moving * joint + m.between * m.width
    plan = (m.girth(t / 2) - joints) * t
    filler = joints * t * g.masonry
    found = {
        "blocks and perps": plan * g.stacked,
        "beds": plan * g.courses * g.bed,
        **_footing(spec),
        **_fill(spec),
    }
    if spec.coping is not None:
        bed, bed_filler = _coping_bed(spec, spec.coping, m)
        copings, coping_filler = _copings(spec.coping, m)
        found |= {"coping bed": bed, "copings and joints": copings}
        filler += bed_filler + coping_filler
    return found | {"filler": filler}


def blocks_by_area(spec: WallSpec) -> float:
    """The usual estimate of blocks: face area on the centre line over one block and its joints.

    Of blocks of several lengths it takes the mean, as they come.
    """
    pitch = spec.block.mean_length + spec.joints.perp_mm
    return measure(spec).girth(spec.thickness / 2) * spec.gauge.courses / pitch


def _footing(spec: WallSpec) -> dict[str, float]:
    footing = spec.footing
    if footing is None:
        return {}
    area = union_area(strips(spec.path, spec.thickness, footing.spread_mm))
    return {
        "footing": area * footing.depth_mm,
        "trench": area * (footing.depth_mm + footing.below_ground_mm),
    }


def _wedge(breadth: float, thin: float, thick: float) -> tuple[float, float]:
    """Area of a section that tapers evenly, and how far its centroid is from the thin side."""
    area = breadth * (thin + thick) / 2
    return area, breadth * (thin + 2 * thick) / (3 * (thin + thick))


def _coping_bed(spec: WallSpec, lay: CopingLay, m: Measure) -> tuple[float, float]:
    """Volume of the bed under the copings, and of the filler beside it."""
    t, bed, fall = spec.thickness, spec.gauge.bed, abs(lay.tilt)
    area, from_thin = _wedge(t, bed, bed + t * fall)
    u = from_thin if lay.tilt >= 0 else t - from_thin
    filler = area * (m.moving * spec.joints.perp_mm + m.between * m.width)
    if lay.coping.corner == "mitred":
        return area * m.girth(u) - filler, filler
    # One run goes through each corner; the other begins at its furthest arris.
    front_lean, back_lean = _lean(lay)
    length = m.outside - m.convex * (t + lay.back + back_lean)
    length += m.re_entrant * (t - lay.front - front_lean)
    front, back = _under_overhang(lay, bed)
    return area * length - filler + t * (m.convex * back + m.re_entrant * front), filler


def _under_overhang(lay: CopingLay, bed: float) -> tuple[float, float]:
    """Section between a wall's top and the overhang that passes over it: front, back."""
    at_front = bed + (0.0 if lay.tilt >= 0 else -lay.thickness * lay.tilt)
    at_back = bed + (lay.thickness * lay.tilt if lay.tilt >= 0 else 0.0)
    front = lay.front * (at_front - lay.front * lay.tilt / 2)
    back = lay.back * (at_back + lay.back * lay.tilt / 2)
    return front, back


def _copings(lay: CopingLay, m: Measure) -> tuple[float, float]:
    """Volume of copings and their joints, and of the filler in them."""
    area, u = _coping_section(lay)
    filler = area * (m.moving * lay.coping.joint_mm + m.between * m.width)
    past = m.stops * lay.coping.overhang_end_mm
    if lay.coping.corner == "mitred":
        return area * (m.girth(u) + past) - filler, filler
    front_lean, back_lean = _lean(lay)
    t, front, back = lay.thickness, lay.front, lay.back
    convex = front - (t + back + back_lean)
    re_entrant = (t + back) - (front + front_lean)
    length = m.outside + m.convex * convex + m.re_entrant * re_entrant + past
    return area * length - filler, filler


def _lean(lay: CopingLay) -> tuple[float, float]:
    """How far a tilted slab's upper arris stands out past the lower one: front, back."""
    lean = lay.coping.thickness_mm * lay.tilt / math.hypot(1, lay.tilt)
    return max(0.0, lean), max(0.0, -lean)


def _coping_section(lay: CopingLay) -> tuple[float, float]:
    """Area of a coping's section, and u of its centroid."""
    c = lay.coping
    width, deep, drop = c.width_mm, c.thickness_mm, abs(lay.weathering)
    area, from_thin = _wedge(width, deep - drop, deep)
    p = from_thin if lay.weathering >= 0 else width - from_thin
    q = deep / 2  # Only of use where the slab leans, and then it is not weathered.
    parts = [(area, p, q)]
    if c.drip is not None:
        groove = c.drip.width_mm * c.drip.depth_mm
        front = c.drip.distance_mm + c.drip.width_mm / 2
        sides = {"front": (front,), "back": (width - front,), "both": (front, width - front)}
        over = {front: lay.front, width - front: lay.back}
        parts += [(-groove, at, c.drip.depth_mm / 2) for at in sides[c.drip.sides] if over[at] > 0]
    total = sum(a for a, _, _ in parts)
    p = sum(a * at for a, at, _ in parts) / total
    q = sum(a * up for a, _, up in parts) / total
    cosine = 1 / math.hypot(1, lay.tilt)
    return total, -lay.front + (p - q * lay.tilt) * cosine


def _fill(spec: WallSpec) -> dict[str, float]:
    fill = spec.fill
    if fill is None:
        return {}
    inner = inner_face(spec.path, spec.thickness)
    clear = outline_area(inner)
    narrow, low, high = clear, spec.gauge.base, spec.gauge.base
    if spec.footing is not None:
        rects = strips(spec.path, spec.thickness, spec.footing.spread_mm)
        narrow, low = area_outside(inner, rects), high - spec.footing.depth_mm
    base, between = fill.base_level_mm, fill.base_level_mm + fill.drainage_mm

    def volume(a: float, b: float) -> float:
        beside = max(0.0, min(b, high) - max(a, low))
        return clear * (b - a - beside) + narrow * beside

    return {"drainage": volume(base, between), "soil": volume(between, spec.soil_top)}
