"""The room that each layer of a wall has to fill, from the job alone.

A course fills the wall's plan from one joint to the next; here that plan is cut
along the mitre of each corner, whichever run goes through.
"""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.geometry import Bar, End, Placement, Point, Shape, Slab, block, rectangle
from parametric_wall.job.coping import CopingLay
from parametric_wall.job.model import StopEnd
from parametric_wall.job.path import LEFT, Path
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.takeoff.plan_area import Rect, cells_outside, inner_face, strips
from parametric_wall.verify.gap import Envelope

Part = tuple[Shape, Placement]


def envelopes(spec: JobSpec) -> Iterator[Envelope]:
    """The room of every layer of every wall."""
    for wall in spec.walls:
        yield from _wall(wall)


def _wall(spec: WallSpec) -> Iterator[Envelope]:
    gauge, t = spec.gauge, spec.thickness
    if spec.footing is not None:
        low, deep = gauge.base - spec.footing.depth_mm, spec.footing.depth_mm
        rects = strips(spec.path, t, spec.footing.spread_mm)
        yield Envelope(spec.name, "footing", tuple(_box(r, low, deep) for r in rects))
    for course in range(1, gauge.courses + 1):
        body = rectangle(t, gauge.course_height(course))
        parts = tuple(_mitred_runs(spec.path, body, 0.0, gauge.course_base(course)))
        yield Envelope(spec.name, f"course {course}", parts)
    if spec.coping is not None:
        yield Envelope(spec.name, "copings", tuple(_copings(spec, spec.coping)))
    if spec.fill is not None:
        yield Envelope(spec.name, "fill", tuple(_fill(spec)))


def _box(rect: Rect, z: float, height: float) -> Part:
    x0, y0, x1, y1 = rect
    return block(x1 - x0, y1 - y0, height), Placement(x0, y0, z)


def _mitred_runs(
    path: Path, section: tuple[Point, ...], past_stop: float, z: float
) -> Iterator[Part]:
    """A section along every run, cut along the mitres, past stop ends by `past_stop`."""
    for i, place in enumerate(path.placements()):
        before, after = path.turn_before(i), path.turn_after(i)
        start = End(0.0, float(before)) if before else End(-_past(path.start, past_stop))
        length = path.lengths[i]
        end = End(length, -float(after)) if after else End(length + _past(path.end, past_stop))
        yield Bar(section, start, end), Placement(0.0, 0.0, z).then(place)


def _past(end: object, past_stop: float) -> float:
    return past_stop if isinstance(end, StopEnd) else 0.0


def _copings(spec: WallSpec, lay: CopingLay) -> Iterator[Part]:
    bed, z, past = spec.gauge.bed, spec.gauge.masonry_top, lay.coping.overhang_end_mm
    if lay.coping.corner == "mitred":
        yield from _mitred_runs(spec.path, lay.bed_section(bed), 0.0, z)
        yield from _mitred_runs(spec.path, lay.section(bed), past, z)
        return
    yield from _run_through(spec, lay)


def _run_through(spec: WallSpec, lay: CopingLay) -> Iterator[Part]:
    """Each run goes through the corner at its end and butts at its start."""
    path, t, bed, z = spec.path, spec.thickness, spec.gauge.bed, spec.gauge.masonry_top
    low, high = lay.reach()
    past = lay.coping.overhang_end_mm
    for i, run in enumerate(path.placements()):
        before, after, length = path.turn_before(i), path.turn_after(i), path.lengths[i]
        bed_a, bed_b = 0.0, length
        coping_a, coping_b = -_past(path.start, past), length + _past(path.end, past)
        place = Placement(0.0, 0.0, z).then(run)
        if before:
            bed_a = coping_a = high if before == LEFT else -low
        if after:
            convex = after == LEFT
            bed_b += 0.0 if convex else t
            coping_b = length + (lay.front if convex else t + lay.back)
            u0, u1 = (t, t + lay.back) if convex else (-lay.front, 0.0)
            under = (
                (u0, 0.0),
                (u1, 0.0),
                (u1, lay.underside(u1, bed)),
                (u0, lay.underside(u0, bed)),
            )
            if u1 > u0:
                yield Bar(under, End(bed_b - t), End(bed_b)), place
        yield Bar(lay.bed_section(bed), End(bed_a), End(bed_b)), place
        yield Bar(lay.section(bed), End(coping_a), End(coping_b)), place


def _fill(spec: WallSpec) -> Iterator[Part]:
    """The clear plan up to the soil, less the footing where it reaches inside."""
    assert spec.fill is not None
    inner = inner_face(spec.path, spec.thickness)
    bottom, top = spec.fill.base_level_mm, spec.soil_top
    high = spec.gauge.base
    low = high - spec.footing.depth_mm if spec.footing else high
    for a, b in ((bottom, min(top, low)), (max(bottom, high), top)):
        if b > a:
            yield Slab(inner, (), b - a), Placement(0.0, 0.0, a)
    a, b = max(bottom, low), min(top, high)
    if spec.footing is not None and b > a:
        rects = strips(spec.path, spec.thickness, spec.footing.spread_mm)
        for cell in cells_outside(inner, rects):
            yield _box(cell, a, b - a)
