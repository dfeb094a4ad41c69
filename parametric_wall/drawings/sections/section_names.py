"""What the parts of a section are called, with a point of each that a line comes from."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.drawings.placing.beside import Mark
from parametric_wall.drawings.sections.section_marks import (
    Reach,
    arrises,
    damp_level,
    foot,
    underside,
    weep_level,
)
from parametric_wall.job.coping import CopingLay
from parametric_wall.job.resolve import WallSpec

FALL_DIGITS = 1
"""Decimals of a fall told as one in so much."""


def fall_words(lay: CopingLay) -> str:
    """A fall as it is asked for on site: so many mm in so many, and one in so much."""
    fall = lay.coping.fall
    if fall is None:
        return "level"
    drop = abs(lay.tilt or lay.weathering / lay.coping.width_mm)
    one_in = f"1:{round(1 / drop, FALL_DIGITS):g}"
    given = f"{fall.deg:g}°" if fall.deg is not None else f"{fall.mm:g} in {fall.in_mm:g}"
    return f"fall {given} ({one_in}) to the {fall.to}"


def named(spec: WallSpec, reach: Reach) -> Iterator[Mark]:
    """What everything is, from the bottom up, with a point of it."""
    gauge, t = spec.gauge, spec.thickness
    middle = t * 0.75
    if spec.footing is not None:
        deep, wide = spec.footing.depth_mm, t + 2 * spec.footing.spread_mm
        at = (foot(spec)[1] * 0.9, underside(spec) + deep / 2)
        yield Mark(at, f"concrete footing {wide:g} x {deep:g}")
    else:
        yield Mark((t, gauge.base - 30.0), "existing base")
    floor = 0.0 if spec.fill is None else spec.fill.base_level_mm
    if spec.footing is not None and spec.footing.spread_mm > 0 and gauge.base < floor:
        at = (t + spec.footing.spread_mm / 2, (gauge.base + floor) / 2)
        yield Mark(at, "trench filled back")
    yield Mark((middle, gauge.course_base(1) + gauge.bed / 2), f"beds {round(gauge.bed, 1):g}")
    sizes = ", ".join(spec.block.name_at(height) for height in dict.fromkeys(gauge.heights))
    yield Mark((middle, gauge.course_base(1) + gauge.course_height(1) / 2), f"blocks {sizes}")
    if spec.dpc is not None:
        yield Mark((middle, damp_level(spec)), "damp-proof course")
    yield from _named_fill(spec, reach)
    if spec.coping is not None:
        yield from _named_coping(spec, spec.coping)


def _named_fill(spec: WallSpec, reach: Reach) -> Iterator[Mark]:
    if spec.weeps is not None:
        kind = "open perp" if spec.weeps.kind == "open perps" else "weep tube"
        at = (spec.thickness / 2, weep_level(spec))
        yield Mark(at, f"{kind}, one every {spec.weeps.spacing_mm:g} at most")
    if spec.fill is None:
        return
    u = reach.right - (reach.right - spec.thickness) / 4
    low = spec.fill.base_level_mm
    drained = low + spec.fill.drainage_mm
    if spec.fill.drainage_mm > 0:
        yield Mark((u, (low + drained) / 2), "drainage: clean gravel")
        yield Mark((u, drained), "membrane that lets water through")
    yield Mark((u, (drained + spec.soil_top) / 2), "soil")


def _named_coping(spec: WallSpec, lay: CopingLay) -> Iterator[Mark]:
    c, top, bed = lay.coping, spec.gauge.masonry_top, spec.gauge.bed
    _, back, back_up, front_up = arrises(lay, bed, top)
    size = f"coping {c.length_mm:g} x {c.width_mm:g} x {c.thickness_mm:g}"
    drip = c.drip
    if drip is not None and lay.grooves():
        u, z = lay.section(bed)[3]
        words = f"drip {drip.width_mm:g} x {drip.depth_mm:g}, {drip.distance_mm:g} from the edge"
        if len(lay.grooves()) == 2:
            words += ", front and back"
            u, z = lay.section(bed)[7]
        yield Mark((u, z + top), words)
    yield Mark((back[0] * 0.8, (back[1] + back_up[1]) / 2), size)
    yield Mark(((front_up[0] + back_up[0]) / 2, (front_up[1] + back_up[1]) / 2), fall_words(lay))
