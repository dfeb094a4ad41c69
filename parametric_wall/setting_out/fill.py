"""What fills a planter: drainage and soil, less what the footing takes inside."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from shapely import Polygon, unary_union

from parametric_wall.geometry import TOLERANCE, Placement
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.footing import footing_plan, slab_of, strip
from parametric_wall.setting_out.model import Kind, Piece
from parametric_wall.setting_out.runs import Run


def inside(runs: tuple[Run, ...]) -> Polygon:
    """The clear plan inside a closed wall, in the wall's axes."""
    body = unary_union([strip(r, 0.0, 0.0, 0.0) for r in runs])
    return Polygon(body.interiors[0]) if body.interiors else Polygon()


def fill_pieces(spec: WallSpec, runs: tuple[Run, ...]) -> Iterator[Piece]:
    """Layers from the bottom up; a layer is split where the footing's spread ends."""
    if spec.fill is None:
        return
    clear = inside(runs)
    low = spec.fill.base_level_mm
    layers: tuple[tuple[Kind, float, float], ...] = (
        ("drainage", low, low + spec.fill.drainage_mm),
        ("soil", low + spec.fill.drainage_mm, spec.soil_top),
    )
    top = spec.gauge.base
    bottom = top - spec.footing.depth_mm if spec.footing else top
    narrowed = clear.difference(footing_plan(spec, runs)) if spec.footing else clear
    for kind, base, upper in layers:
        cuts = [base, *(z for z in (bottom, top) if base < z < upper), upper]
        for number, (z0, z1) in enumerate(pairwise(cuts), 1):
            beside = bottom <= z0 and z1 <= top
            plan = narrowed if beside else clear
            if z1 - z0 < TOLERANCE.coincident or plan.is_empty:
                continue
            for part, polygon in enumerate(getattr(plan, "geoms", [plan]), 1):
                name = f"{spec.name}/fill/{kind}-{number}" + (f"-{part}" if part > 1 else "")
                at = Placement(0.0, 0.0, z0)
                yield Piece(name, kind, spec.name, 0, 0, slab_of(polygon, z1 - z0), at)
