"""What a section cuts: footing, courses, coping, ground and fill. x is u and y is z, mm.

Materials are told apart by the hatches of `hatching`, and named beside.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Region, Stroke, ViewMark
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.coping import CopingLay
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.courses import weep_course

BASE_DEEP = 100.0
"""How much of an existing base is drawn, mm."""
BASE_BESIDE = 150.0
"""How far it is drawn past either face, mm."""


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a section is drawn, mm.

    Attributes:
        left: least u, before the front face.
        right: greatest u, behind the back face.
    """

    left: float
    right: float


def underside(spec: WallSpec) -> float:
    """Level of the lowest thing built, mm."""
    return spec.gauge.base - (spec.footing.depth_mm if spec.footing else BASE_DEEP)


def foot(spec: WallSpec) -> tuple[float, float]:
    """From where to where the footing, or what is drawn of the base, lies across the wall."""
    beside = spec.footing.spread_mm if spec.footing else BASE_BESIDE
    return -beside, spec.thickness + beside


def section_marks(spec: WallSpec, reach: Reach) -> Iterator[ViewMark]:
    """Everything cut through and seen, from the ground up."""
    yield from _ground(spec, reach)
    yield from _fill(spec, reach)
    a, b = foot(spec)
    yield Region("footing", _box(a, underside(spec), b, spec.gauge.base), "concrete")
    yield from _courses(spec)
    yield from _coping(spec)
    yield from _damp_course(spec)
    yield from _weeps(spec)


def _box(x0: float, y0: float, x1: float, y1: float) -> tuple[Point, ...]:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _ground(spec: WallSpec, reach: Reach) -> Iterator[ViewMark]:
    """The ground as it was, and the sides of the trench; what is filled back is left white."""
    (a, b), low = foot(spec), underside(spec)
    floor = 0.0 if spec.fill is None else spec.fill.base_level_mm
    sides = ((reach.left, a, 0.0), (b, reach.right, floor))
    for x0, x1, top in sides:
        if top - low > TOLERANCE.cut:
            yield Region("ground", _box(x0, low, x1, top), "earth")
    if low < 0:
        yield Stroke("ground", ((a, low), (a, 0.0)))
    yield Stroke("ground", ((reach.left, 0.0), (0.0, 0.0)))
    if spec.fill is None:
        yield Stroke("ground", ((spec.thickness, 0.0), (reach.right, 0.0)))
    if floor - low > TOLERANCE.cut:
        yield Stroke("ground", ((b, low), (b, floor)))


def _fill(spec: WallSpec, reach: Reach) -> Iterator[ViewMark]:
    """The layers of a planter, over the footing's spread too where they reach so low."""
    if spec.fill is None:
        return
    low, t = spec.fill.base_level_mm, spec.thickness
    drained = low + spec.fill.drainage_mm
    if spec.fill.drainage_mm > 0:
        yield Region("drainage", tuple(_layer(spec, reach, low, drained)), "gravel")
        yield Stroke("membrane", ((t, drained), (reach.right, drained)))
    yield Region("soil", tuple(_layer(spec, reach, drained, spec.soil_top)), "earth")
    yield Stroke("soil", ((t, spec.soil_top), (reach.right, spec.soil_top)))
    yield Stroke("soil", ((t, low), (reach.right, low)))


def _layer(spec: WallSpec, reach: Reach, low: float, high: float) -> Iterator[Point]:
    """The outline of a layer, less what the footing takes of it."""
    _, b = foot(spec)
    top, t = spec.gauge.base, spec.thickness
    yield from ((reach.right, low), (reach.right, high))
    if spec.footing is None or low >= top:
        yield from ((t, high), (t, low))
    elif high <= top:
        yield from ((b, high), (b, low))
    else:
        yield from ((t, high), (t, top), (b, top), (b, low))


def _courses(spec: WallSpec) -> Iterator[ViewMark]:
    gauge, t = spec.gauge, spec.thickness
    for course in range(1, gauge.courses + 1):
        z = gauge.course_base(course)
        yield Region("mortar", _box(0.0, z, t, z + gauge.bed), "none")
        block = _box(0.0, z + gauge.bed, t, z + gauge.course_height(course))
        yield Region("blocks", block, "block")


def _coping(spec: WallSpec) -> Iterator[ViewMark]:
    if spec.coping is None:
        return
    bed, top = spec.gauge.bed, spec.gauge.masonry_top
    for layer, outline, hatched in (
        ("mortar", spec.coping.bed_section(bed), False),
        ("copings", spec.coping.section(bed), True),
    ):
        placed = tuple((u, z + top) for u, z in outline)
        yield Region(layer, placed, "block" if hatched else "none")


def _damp_course(spec: WallSpec) -> Iterator[ViewMark]:
    if spec.dpc is not None:
        z = damp_level(spec)
        yield Stroke("damp course", ((0.0, z), (spec.thickness, z)))


def arrises(lay: CopingLay, bed: float, top: float) -> tuple[Point, Point, Point, Point]:
    """Lower front, lower back, upper back and upper front arris of a coping in a section."""
    outline = [(u, z + top) for u, z in lay.section(bed)]
    return outline[0], outline[-3], outline[-2], outline[-1]


def damp_level(spec: WallSpec) -> float:
    """Level of the middle of the bed that the damp-proof course lies in."""
    assert spec.dpc is not None
    return spec.gauge.course_base(spec.dpc.under_course) + spec.gauge.bed / 2


def weep_level(spec: WallSpec) -> float:
    """Level of the underside of the blocks beside the weep holes."""
    return spec.gauge.course_base(weep_course(spec)) + spec.gauge.bed


def _weeps(spec: WallSpec) -> Iterator[ViewMark]:
    """A perp left open beyond the section, or the underside of the tubes."""
    if spec.weeps is None:
        return
    z, t = weep_level(spec), spec.thickness
    yield Stroke("weeps", ((0.0, z), (t, z)))
    if spec.weeps.kind == "open perps":
        top = z + spec.gauge.block_height(weep_course(spec))
        yield Stroke("weeps", ((0.0, top), (t, top)))
