"""The section through a wall, from the underside of its footing to the highest arris.

The front is on the left. One section is true of the whole of a wall: it is taken in the
middle of its longest panel, off the movement joints.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from parametric_wall.drawings.dimension_lines import (
    ABOVE,
    STROKE,
    dimension_ends,
    measured_text,
    upright,
)
from parametric_wall.drawings.lettering import DEPTH, RISE, width
from parametric_wall.drawings.placing.beside import (
    HEIGHT,
    SLOT,
    Frame,
    Mark,
    Measured,
    beside,
    chain,
    frame_of,
    overall,
    settled,
)
from parametric_wall.drawings.placing.boxes import boxes
from parametric_wall.drawings.placing.clear import Spot, clear_label, segments
from parametric_wall.drawings.sections.section_marks import (
    Reach,
    arrises,
    foot,
    section_marks,
    underside,
)
from parametric_wall.drawings.sections.section_names import named
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Dimension, Label, Stroke, View, ViewMark
from parametric_wall.job.resolve import WallSpec

BESIDE = 1.0
"""What the line of a name takes where it passes figures, mm of paper."""
BESIDE_FOOT = 18.0
"""How much ground is drawn beside the footing, mm of paper."""
INTO_FILL = 30.0
"""How much of the fill is drawn behind the wall, mm of paper."""
THICKNESS_OFF = 5.0
"""From the coping's edge to the dimension of its thickness, mm of paper."""
BEYOND = 1.8
"""From the end of a dimension line to a text that stands past it, mm of paper."""


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
    layers = beside(frame, "right", [_layers(spec, frame)])
    drawn += layers
    drawn += _names(frame, tuple(named(spec, reach)), layers)
    for ground in _clear("ground", _over(reach.left, 0.0, scale), drawn, scale):
        drawn.append(ground)
    for dimension in _thicknesses(spec, scale):
        drawn.append(_placed(dimension, drawn, scale))
    told = f"Section through {spec.name}. " + " ".join(
        f"{mark.text}." for mark in named(spec, reach)
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
    steps = (half + 4.0 * k * scale for k in range(4))
    for far in (0.0, *(way * step for step in steps for way in (1.0, -1.0))):
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

    def row(*zs: float) -> list[Measured]:
        points = [(0.0 if z <= gauge.masonry_top else frame.x0, z) for z in zs]
        return chain(points, "left")

    every = levels(spec)
    yield row(*every)
    yield row(gauge.base, 0.0, gauge.finished)
    if spec.footing is not None and gauge.base < 0:
        yield row(underside(spec), 0.0)
    yield row(every[0], every[-1])


def _footing(spec: WallSpec, frame: Frame) -> Iterator[list[Measured]]:
    """Projection, wall, projection; and the width of the footing."""
    us = (0.0, spec.thickness, *(foot(spec) if spec.footing is not None else ()))
    row = chain([(u, frame.y0) for u in us], "below")
    yield row
    yield overall(row)


def _overhangs(spec: WallSpec, frame: Frame) -> Iterator[list[Measured]]:
    """Overhang, wall, overhang, to the lower arrises."""
    if spec.coping is not None:
        lay = spec.coping
        us = (-lay.front, 0.0, lay.thickness, lay.thickness + lay.back)
        row = chain([(u, frame.y1) for u in us], "above")
        yield row
        yield overall(row)


def _layers(spec: WallSpec, frame: Frame) -> list[Measured]:
    """The layers of the fill, and what is left below the coping."""
    if spec.fill is None:
        return []
    low, top = spec.fill.base_level_mm, spec.soil_top
    zs = (low, low + spec.fill.drainage_mm, top, top + spec.fill.below_coping_mm)
    return chain([(frame.x1, z) for z in zs], "right")


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
        # Past the drawing's top or foot its lines fan out from there, clear of what stands above.
        (out,) = settled([min(max(z, frame.y0), frame.y1)], BESIDE * m, blocked)
        yield Stroke("leaders", (mark.at, (frame.x1, out), (edge, out), (x, z)))
        low = z - HEIGHT * (RISE - DEPTH) / 2 * m
        yield Label("text", (x + 1.0 * m, low), mark.text, HEIGHT)


def _over(left: float, level: float, scale: float) -> Iterator[Spot]:
    for step in range(8):
        yield Spot((left + (1 + step) * scale, level + 1.8 * scale), "start")
