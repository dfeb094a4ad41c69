"""The footing: one body in plan, also where footings of two runs meet or overlap."""

from __future__ import annotations

from shapely import Polygon, box, unary_union
from shapely.geometry.polygon import orient

from parametric_wall.geometry import Placement, Point, Slab
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import Piece
from parametric_wall.setting_out.runs import Run


def strip(run: Run, front: float, back: float, past_end: float) -> Polygon:
    """A strip along a run in the wall's axes, mm.

    It reaches `front` before the front face, `back` behind the back face, and
    past its ends: at a corner around the corner's square, at a stop end by
    `past_end`; at an existing wall it stops.
    """
    a, b = run.core
    grow = {"convex": (run.thickness + front), "re-entrant": run.thickness + back}
    a -= grow.get(run.start, past_end if run.start == "stop" else 0.0)
    b += grow.get(run.end, past_end if run.end == "stop" else 0.0)
    x0, y0, _ = run.place.point(a, -front)
    x1, y1, _ = run.place.point(b, run.thickness + back)
    # Two strips that end on one line have to end on one number: else a sliver is left.
    x0, y0, x1, y1 = (round(v, 9) for v in (x0, y0, x1, y1))
    return box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))


def footing_plan(spec: WallSpec, runs: tuple[Run, ...]) -> Polygon:
    """The footing's outline in the wall's axes; the wall's own where there is no footing."""
    spread = spec.footing.spread_mm if spec.footing else 0.0
    merged = unary_union([strip(r, spread, spread, spread) for r in runs])
    assert isinstance(merged, Polygon)
    return merged


def slab_of(plan: Polygon, thickness: float) -> Slab:
    """A slab of a plan polygon, straight points left out."""
    clean = orient(plan.simplify(0.0))
    return Slab(
        _ring(clean.exterior.coords), tuple(_ring(h.coords) for h in clean.interiors), thickness
    )


def _ring(coords: object) -> tuple[Point, ...]:
    points = [(float(x), float(y)) for x, y in coords]  # type: ignore[attr-defined]
    return tuple(points[:-1])


def footing_piece(spec: WallSpec, runs: tuple[Run, ...]) -> Piece | None:
    """The footing; None on an existing base."""
    if spec.footing is None:
        return None
    z = spec.gauge.base - spec.footing.depth_mm
    slab = slab_of(footing_plan(spec, runs), spec.footing.depth_mm)
    return Piece(f"{spec.name}/footing", "footing", spec.name, 0, 0, slab, Placement(0.0, 0.0, z))
