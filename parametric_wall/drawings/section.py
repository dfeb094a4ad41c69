"""The section through a wall, from the underside of its footing to the highest arris.

The front is on the left. One section is true of the whole of a wall: it is taken in the
middle of its longest panel, off the movement joints.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from parametric_wall.drawings.beside import (
    HEIGHT,
    SLOT,
    Frame,
    Mark,
    Measured,
    beside,
    frame_of,
    overall,
    settled,
)
from parametric_wall.drawings.boxes import boxes
from parametric_wall.drawings.clear import Spot, clear_label, segments
from parametric_wall.drawings.dimension_lines import (
    ABOVE,
    STROKE,
    dimension_ends,
    measured_text,
    upright,
)
from parametric_wall.drawings.lettering import DEPTH, RISE, width
from parametric_wall.drawings.section_marks import (
    Reach,
    damp_level,
    foot,
    section_marks,
    underside,
    weep_level,
)
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Dimension, Label, Stroke, View, ViewMark
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.coping import CopingLay
from parametric_wall.job.resolve import WallSpec

BESIDE_FOOT = 18.0
"""How much ground is drawn beside the footing, mm of paper."""
INTO_FILL = 30.0
"""How much of the fill is drawn behind the wall, mm of paper."""
THICKNESS_OFF = 5.0
"""From the coping's edge to the dimension of its thickness, mm of paper."""
BEYOND = 1.8
"""From the end of a dimension line to a text that stands past it, mm of paper."""
FALL_DIGITS = 1


def section(spec: WallSpec, letter: str, name: str, scale: float) -> View:
    """The section through a wall, all of it dimensioned.

    Args:
        spec: the wall.
        letter: of its line in the footing plan.
        name: of the view.
        scale: mm of the wall on 1 mm of paper.
    """
    reach = _reach(spec, scale)
    drawn: list[ViewMark] = [*section_marks(spec, reach)]
    frame = _frame(spec, reach, scale)
    drawn += beside(frame, "left", list(_heights(spec, frame)))
    drawn += beside(frame, "below", list(_footing(spec, frame)))
    drawn += beside(frame, "above", list(_overhangs(spec, frame)))
    layers = beside(frame, "right", [list(_layers(spec, frame))])
    drawn += layers
    drawn += _names(frame, tuple(_named(spec, reach)), layers)
    for ground in _clear("ground", _over(reach.left, 0.0, scale), drawn, scale):
        drawn.append(ground)
    for dimension in _thicknesses(spec, scale):
        drawn.append(_placed(dimension, drawn, scale))
    told = f"Section through {spec.name}. " + " ".join(
        f"{mark.text}." for mark in _named(spec, reach)
    )
    return View(name, f"{spec.name}: section {letter}-{letter}", told, scale, (), tuple(drawn))


def _bare(drawn: Sequence[ViewMark], scale: float) -> View:
    return View("", "", "", scale, (), tuple(drawn))


def _clear(
    text: str, spots: Iterable[Spot], drawn: Sequence[ViewMark], scale: float
) -> Iterator[Label]:
    label = clear_label(text, spots, scale, segments(drawn, scale), boxes(_bare(drawn, scale)))
    if label is not None:
        yield label


def _placed(dimension: Dimension, drawn: Sequence[ViewMark], scale: float) -> Dimension:
    """A dimension with its text where it is clear: beside its line, or beyond either end."""
    text = measured_text(math.dist(dimension.start, dimension.end))
    bare = [Stroke("", line) for line in _lines(dimension, scale)]
    spots = _about(dimension, width(text, HEIGHT), scale)
    label = next(_clear(text, spots, [*drawn, *bare], scale), None)
    return dimension if label is None else replace(dimension, text_at=label.at)


def _lines(dimension: Dimension, scale: float) -> Iterator[tuple[Point, Point]]:
    """A dimension's line and the strokes across its ends, in which no text may stand."""
    ends = dimension_ends(dimension.start, dimension.end, dimension.through, dimension.turn_deg)
    yield ends.start, ends.end
    (c, s), half = ends.along, STROKE * scale
    for x, y in (ends.start, ends.end):
        for dx, dy in ((c - s, s + c), (c + s, s - c)):
            yield (x - half * dx, y - half * dy), (x + half * dx, y + half * dy)


def _about(dimension: Dimension, wide: float, scale: float) -> Iterator[Spot]:
    """On either side of a dimension line: at its middle, then further and further along it."""
    (x0, y0), (x1, y1) = next(_lines(dimension, scale))
    turn = upright(dimension.turn_deg)
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    half = math.dist((x0, y0), (x1, y1)) / 2 + (wide / 2 + BEYOND) * scale
    for far in (0.0, half, -half, half + 4 * scale, -half - 4 * scale):
        for off in (ABOVE, -ABOVE - HEIGHT):
            x, y = (x0 + x1) / 2 + far * c, (y0 + y1) / 2 + far * s
            yield Spot((x - off * scale * s, y + off * scale * c), "middle", turn)


def _reach(spec: WallSpec, scale: float) -> Reach:
    a, b = foot(spec)
    if spec.coping is not None:
        low, high = spec.coping.reach()
        a, b = min(a, low), max(b, high)
    right = INTO_FILL if spec.fill is not None else BESIDE_FOOT
    return Reach(a - BESIDE_FOOT * scale, b + right * scale)


def _frame(spec: WallSpec, reach: Reach, scale: float) -> Frame:
    top = max(spec.gauge.finished, 0.0)
    return frame_of([(reach.left, underside(spec)), (reach.right, top)], scale)


def arrises(lay: CopingLay, bed: float, top: float) -> tuple[Point, Point, Point, Point]:
    """Lower front, lower back, upper back and upper front arris of a coping in a section."""
    outline = [(u, z + top) for u, z in lay.section(bed)]
    return outline[0], outline[-3], outline[-2], outline[-1]


def _thicknesses(spec: WallSpec, scale: float) -> Iterator[Dimension]:
    """How thick the coping is at its front and at its back edge, square to its underside."""
    if spec.coping is None:
        return
    lay, off = spec.coping, THICKNESS_OFF * scale
    front, back, back_up, front_up = arrises(lay, spec.gauge.bed, spec.gauge.masonry_top)
    turn = 90.0 + math.degrees(math.atan(lay.tilt))
    for low, high, hand in ((front, front_up, -1.0), (back, back_up, 1.0)):
        c, s = math.cos(math.radians(turn - 90.0)), math.sin(math.radians(turn - 90.0))
        through = (low[0] + hand * off * c, low[1] + hand * off * s)
        yield Dimension("dimensions", low, high, through, turn)


def levels(spec: WallSpec) -> tuple[float, ...]:
    """From the underside of the footing course by course to the highest arris, mm."""
    gauge = spec.gauge
    low = (underside(spec),) if spec.footing is not None else ()
    tops = [gauge.course_base(course) for course in range(1, gauge.courses + 2)]
    coping = (gauge.masonry_top + gauge.bed, gauge.finished) if gauge.coped else ()
    return (*low, *tops, *coping)


def _heights(spec: WallSpec, frame: Frame) -> Iterator[list[Measured]]:
    """The courses by their gauge; what is above and below ground; the whole."""
    gauge = spec.gauge

    def points(zs: Sequence[float]) -> list[Point]:
        return [(0.0 if z <= gauge.masonry_top else frame.x0, z) for z in zs]

    def rows(zs: Sequence[float]) -> list[Measured]:
        found = points(zs)
        return [
            pair
            for pair in zip(found[:-1], found[1:], strict=True)
            if pair[1][1] - pair[0][1] > TOLERANCE.coincident
        ]

    every = levels(spec)
    yield rows(every)
    yield rows(sorted({gauge.base, 0.0, gauge.finished}))
    if spec.footing is not None and gauge.base < 0:
        yield rows((underside(spec), 0.0))
    yield rows((every[0], every[-1]))


def _footing(spec: WallSpec, frame: Frame) -> Iterator[list[Measured]]:
    """Projection, wall, projection; and the width of the footing."""
    us = [0.0, spec.thickness]
    if spec.footing is not None:
        us = sorted({*us, *foot(spec)})
    row = list(zip([(u, frame.y0) for u in us[:-1]], [(u, frame.y0) for u in us[1:]], strict=True))
    yield row
    yield overall(row)


def _overhangs(spec: WallSpec, frame: Frame) -> Iterator[list[Measured]]:
    """Overhang, wall, overhang, to the lower arrises."""
    if spec.coping is None:
        return
    lay = spec.coping
    us = sorted({-lay.front, 0.0, lay.thickness, lay.thickness + lay.back})
    row = list(zip([(u, frame.y1) for u in us[:-1]], [(u, frame.y1) for u in us[1:]], strict=True))
    row = [pair for pair in row if pair[1][0] - pair[0][0] > TOLERANCE.coincident]
    yield row
    yield overall(row)


def _layers(spec: WallSpec, frame: Frame) -> Iterator[Measured]:
    """The layers of the fill, and what is left below the coping."""
    if spec.fill is None:
        return
    low = spec.fill.base_level_mm
    zs = [
        low,
        low + spec.fill.drainage_mm,
        spec.soil_top,
        spec.soil_top + spec.fill.below_coping_mm,
    ]
    for a, b in zip(zs[:-1], zs[1:], strict=True):
        if b - a > TOLERANCE.coincident:
            yield (frame.x1, a), (frame.x1, b)


def fall_words(lay: CopingLay) -> str:
    """A fall as it is asked for on site: so many mm in so many, and one in so much."""
    fall = lay.coping.fall
    if fall is None:
        return "level"
    drop = abs(lay.tilt or lay.weathering / lay.coping.width_mm)
    one_in = f"1:{round(1 / drop, FALL_DIGITS):g}"
    given = f"{fall.deg:g}°" if fall.deg is not None else f"{fall.mm:g} in {fall.in_mm:g}"
    return f"fall {given} ({one_in}) to the {fall.to}"


def _named(spec: WallSpec, reach: Reach) -> Iterator[Mark]:
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


def _names(frame: Frame, marks: Sequence[Mark], layers: Sequence[ViewMark]) -> Iterator[ViewMark]:
    """Texts in a column on the right, each with a line from what it names."""
    m = frame.scale
    stood = [box.bounds() for box in boxes(_bare(layers, m))]
    blocked = [(y0 * m, y1 * m) for _, y0, _, y1 in stood]
    edge = max([frame.x1, *(x1 * m for _, _, x1, _ in stood)])
    ordered = sorted(marks, key=lambda mark: mark.at[1])
    settle = settled([mark.at[1] for mark in ordered], SLOT * m, blocked)
    for mark, z in zip(ordered, sorted(settle), strict=True):
        x = edge + 4.0 * m
        yield Stroke("leaders", (mark.at, (frame.x1, z), (x, z)))
        low = z - HEIGHT * (RISE - DEPTH) / 2 * m
        yield Label("text", (x + 1.0 * m, low), mark.text, HEIGHT)


def _over(left: float, level: float, scale: float) -> Iterator[Spot]:
    for step in range(8):
        yield Spot((left + (1 + step) * scale, level + 1.8 * scale), "start")
