"""Whether the walls of a job lie on each other in plan."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from shapely import Polygon, affinity, unary_union
from shapely.geometry.base import BaseGeometry

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.footing import footing_plan, strip
from parametric_wall.setting_out.runs import runs_of
from parametric_wall.units import square_metres


def plan_findings(spec: JobSpec) -> Iterator[Finding]:
    """Walls and footings that overlap in plan."""
    walls = [(w.name, _wall_plan(w), _footing_plan(w)) for w in spec.walls]
    for (a, wall_a, foot_a), (b, wall_b, foot_b) in combinations(walls, 2):
        where = f"{a}, {b}"
        for code, one, other in (
            ("walls-overlap", wall_a, wall_b),
            ("footings-overlap", foot_a, foot_b),
        ):
            shared = one.intersection(other).area
            if shared > TOLERANCE.cut:
                area = square_metres(shared)
                text = f"they share {area:.3f} m2"
                yield Finding(code, Grade.STOP, where, text, area, 0.0, "m2")
                break


def _on_site(spec: WallSpec, plan: Polygon) -> BaseGeometry:
    turned = affinity.rotate(plan, spec.place.heading_deg, origin=(0.0, 0.0))
    return affinity.translate(turned, spec.place.x, spec.place.y)


def _wall_plan(spec: WallSpec) -> BaseGeometry:
    """The wall and its copings, seen from above."""
    front, back, end = 0.0, 0.0, 0.0
    if spec.coping is not None:
        low, high = spec.coping.reach()
        front, back = -low, high - spec.thickness
        end = spec.coping.coping.overhang_end_mm
    return _on_site(spec, unary_union([strip(r, front, back, end) for r in runs_of(spec)]))


def _footing_plan(spec: WallSpec) -> BaseGeometry:
    return _on_site(spec, footing_plan(spec, runs_of(spec)))
