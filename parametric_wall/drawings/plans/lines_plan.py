"""Plan of the setting-out lines: strings and profiles, diagonals, and the 3-4-5 at every corner.

Strings run along the outer face, on to profiles that stand clear of the trench (common
practice). Where a corner is square, the distance across it is the diagonal of its two
legs, and 3, 4 and 5 of one measure close on it: both by Pythagoras.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parametric_wall.drawings.dimension_lines import ABOVE, measured_text, upright
from parametric_wall.drawings.elevations.elevation_notes import signed
from parametric_wall.drawings.levels import levels
from parametric_wall.drawings.placing.beside import (
    HEIGHT,
    MEASURED,
    Side,
    SideText,
    around,
    chain,
    frame_of,
    place,
)
from parametric_wall.drawings.placing.boxes import Box, Segment, boxes
from parametric_wall.drawings.placing.clear import Spot, clear_label, label_box, segments
from parametric_wall.drawings.placing.table import with_table
from parametric_wall.drawings.plans.wall_plan import (
    Leg,
    Numbered,
    cross,
    existing,
    existing_words,
    faces,
    legs,
    number_labels,
    outer,
)
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Dimension, Label, Region, Stroke, View, ViewMark
from parametric_wall.geometry import TOLERANCE, direction
from parametric_wall.job.model import Abutment
from parametric_wall.job.resolve import WallSpec

CLEAR_OF_TRENCH = 600.0
"""From the end of the footing to the profile: room to dig, common practice, mm."""
PAST_PROFILE = 100.0
"""How far a profile reaches past either side of the footing, mm."""
MEASURES = (100.0, 50.0, 10.0)
"""What the unit of a 3-4-5 is a multiple of, the first that goes into both legs, mm."""
OFF_TICK = 2.4
"""From a tick to the text beside it, mm of paper."""
STRING = "string lines"
TICK = 1.5
"""Half of a tick, mm of paper."""
MOST = 1000.0
"""Greatest unit of a 3-4-5, mm: 3 m by 4 m by 5 m."""
LANES, LANE = 14, 5.0
"""How many lines of places off a measured line are tried, and how far apart, mm of paper."""
ALONG = tuple(0.5 + sign * step / 24 for step in range(11) for sign in (1, -1))
"""Where along a line its figure is tried, from its middle outward."""


@dataclass(frozen=True, slots=True)
class Square:
    """The check of one corner.

    Attributes:
        number: of the point.
        at: the corner, mm in the wall's axes.
        before: the point measured to on the leg that leads into it.
        after: the point measured to on the leg that leads out of it.
        sides: along the leg before, along the leg after, and across, mm.
    """

    number: int
    at: Point
    before: Point
    after: Point
    sides: tuple[float, float, float]


def corners(walked: Sequence[Leg]) -> Iterator[tuple[Leg, Leg]]:
    """The legs before and after every corner."""
    for i, leg in enumerate(walked):
        following = walked[(i + 1) % len(walked)]
        if len(walked) > 1 and leg.end == following.start:
            yield leg, following


def squares(walked: Sequence[Leg]) -> Iterator[Square]:
    """The greatest 3-4-5 that fits both legs of every corner, the 4 on the longer one.

    Of legs too short even for 30, 40 and 50 there is none.
    """
    for before, after in corners(walked):
        short, long = sorted((before.length, after.length))
        room = min(short / 3, long / 4, MOST) + TOLERANCE.coincident
        unit = next((m * (room // m) for m in MEASURES if room >= m), 0.0)
        if unit == 0.0:
            continue
        a, b = (3 * unit, 4 * unit) if before.length <= after.length else (4 * unit, 3 * unit)
        back, on = before.point(before.length - a), after.point(b)
        yield Square(before.end, after.point(0.0), back, on, (a, b, 5 * unit))


def diagonals(walked: Sequence[Leg]) -> Iterator[tuple[int, int, Point, Point]]:
    """From the point before every corner to the point after it: numbers and points, each once."""
    found = set()
    for before, after in corners(walked):
        pair = frozenset((before.start, after.end))
        if pair not in found:
            found.add(pair)
            yield before.start, after.end, before.point(0.0), after.point(after.length)


def lines_plan(spec: WallSpec, points: tuple[Numbered, ...], name: str, scale: float) -> View:
    """Strings, profiles and diagonals of a wall.

    Args:
        spec: the wall.
        points: its numbered points.
        name: of the view.
        scale: mm of the wall on 1 mm of paper.
    """
    walked = legs(spec, points)
    stubs = tuple(existing(spec))
    drawn: list[ViewMark] = [*faces(spec, "blocks"), *stubs, *_strings(spec, walked)]
    drawn += _points_and_sizes(spec, points, drawn, scale)
    across = [(a, b) for _, _, a, b in diagonals(walked)]
    drawn += _written(across, points, drawn, scale)
    drawn += existing_words(stubs, scale, segments(drawn, scale), _taken(drawn, scale))
    told = " ".join(
        f"From point {a} to point {b}: {math.dist(p, q):.0f} mm."
        for a, b, p, q in diagonals(walked)
    )
    told = f"Strings on the outer face, profiles clear of the trench. {told}".strip()
    over = "over footing" if spec.footing else "over base"
    heads = ("line at", over, "over ground")
    rows = [
        (level.name, measured_text(level.over_base), signed(level.over_ground))
        for level in levels(spec)
    ]
    marks = with_table(drawn, (), heads, rows, scale)
    return View(name, f"{spec.name}: lines and diagonals", told, scale, (), marks)


def squares_plan(spec: WallSpec, points: tuple[Numbered, ...], name: str, scale: float) -> View:
    """The 3-4-5 at every corner of a wall; see `lines_plan`."""
    checks = tuple(squares(legs(spec, points)))
    drawn: list[ViewMark] = [*faces(spec, "blocks")]
    drawn += [stroke for point in points for stroke in cross(point.at, scale)]
    for check in checks:
        drawn += (_tick(check.at, end, scale) for end in (check.before, check.after))
    drawn += _written([(c.before, c.after) for c in checks], points, drawn, scale)
    lines, taken = segments(drawn, scale), _taken(drawn, scale)
    for check in checks:
        for end, side in ((check.before, check.sides[0]), (check.after, check.sides[1])):
            drawn += _side(check, end, f"{side:g} from {check.number}", scale, lines, taken)
    told = " ".join(
        f"Square at point {check.number}: {'-'.join(f'{side:g}' for side in check.sides)}."
        for check in checks
    )
    return View(name, f"{spec.name}: corners made square", told, scale, (), tuple(drawn))


def _points_and_sizes(
    spec: WallSpec, points: tuple[Numbered, ...], drawn: Sequence[ViewMark], scale: float
) -> Iterator[ViewMark]:
    """Crosses at the points; from corner to corner, and on to the profiles."""
    for point in points:
        yield from cross(point.at, scale)
    strokes = [mark for mark in drawn if isinstance(mark, Stroke)]
    ends = [p for stroke in strokes for p in stroke.points]
    regions = [p for mark in drawn if isinstance(mark, Region) for p in mark.outline]
    frame = frame_of([*ends, *regions], scale)
    strung = [p for stroke in strokes if stroke.layer == STRING for p in stroke.points]
    texts = {}
    for side in MEASURED:
        row = chain(outer(spec), side)
        on_to = chain([*_ends(strung, side), *_ends(outer(spec), side)], side)
        texts[side] = SideText({1: row if len(row) > 1 else [], 2: on_to})
    yield from around(frame, texts)


def _ends(points: Sequence[Point], side: Side) -> tuple[Point, Point]:
    ordered = sorted(points, key=lambda point: place(side, point))
    return ordered[0], ordered[-1]


def _taken(drawn: Sequence[ViewMark], scale: float) -> list[Box]:
    return list(boxes(View("", "", "", scale, (), tuple(drawn))))


def _strings(spec: WallSpec, walked: Sequence[Leg]) -> Iterator[Stroke]:
    """A string along every leg, and the profiles at its ends; at an existing wall it ends there."""
    spread = spec.footing.spread_mm if spec.footing else 0.0
    beyond, t = spread + CLEAR_OF_TRENCH, spec.thickness
    for leg in walked:
        held = [_held(spec, leg, at) for at in ("start", "end")]
        a, b = 0.0 if held[0] else -beyond, leg.length + (0.0 if held[1] else beyond)
        yield Stroke(STRING, (leg.point(a), leg.point(b)))
        for at, fixed in ((a, held[0]), (b, held[1])):
            if not fixed:
                low, high = -spread - PAST_PROFILE, t + spread + PAST_PROFILE
                yield Stroke("profiles", (leg.point(at, low), leg.point(at, high)))


def _held(spec: WallSpec, leg: Leg, at: str) -> bool:
    """Whether a leg meets an existing wall there."""
    if spec.path.closed:
        return False
    first, last = spec.path.placements()[0], spec.path.placements()[-1]
    if at == "start":
        return leg.place == first and isinstance(spec.path.start, Abutment)
    return leg.place == last and isinstance(spec.path.end, Abutment)


def _written(
    across: Sequence[tuple[Point, Point]],
    points: Sequence[Numbered],
    drawn: Sequence[ViewMark],
    scale: float,
) -> Iterator[ViewMark]:
    """The measured lines with their figures, each where it is clear of the others."""
    lines = [*segments(drawn, scale), *segments([Stroke("", pair) for pair in across], scale)]
    taken = _taken(drawn, scale)
    numbers = [(str(point.number), point.at) for point in points]
    yield from number_labels(numbers, scale, lines, taken)
    for a, b in across:
        turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
        found = _figure(a, b, turn, lines, taken, scale)
        if found is not None:
            label, leader = found
            taken.append(label_box(label, scale))
            lines += leader
        yield Dimension("dimensions", a, b, a, turn, None if found is None else found[0].at)


def _figure(
    a: Point, b: Point, turn: float, lines: list[Segment], taken: list[Box], scale: float
) -> tuple[Label, list[Segment]] | None:
    """The figure of a measured line where it is clear, and its leader where it stands off it."""
    text = measured_text(math.dist(a, b))
    middle = (a[0] + b[0]) / 2 / scale, (a[1] + b[1]) / 2 / scale
    for far, spot in _spots(a, b, turn, scale):
        label = clear_label(text, [spot], scale, lines, taken)
        if label is None:
            continue
        at = spot.at[0] / scale, spot.at[1] / scale
        leader = [(middle, at)] if far else []
        if not any(box.crossed(line) for box in taken for line in leader):
            return label, leader
    return None


def _spots(a: Point, b: Point, turn: float, scale: float) -> Iterator[tuple[bool, Spot]]:
    """Over a line, from its middle outward, then under it, then further off, with a leader."""
    c, s = direction(upright(turn))
    for lane in range(LANES):
        for off in (ABOVE + LANE * lane, -ABOVE - HEIGHT - LANE * lane):
            for part in ALONG:
                x, y = a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])
                at = (x - off * scale * s, y + off * scale * c)
                yield lane > 0, Spot(at, "middle", upright(turn))


def _tick(corner: Point, end: Point, scale: float) -> Stroke:
    c, s = _way(corner, end)
    half, (x, y) = TICK * scale, end
    return Stroke("setting out", ((x - s * half, y + c * half), (x + s * half, y - c * half)))


def _way(a: Point, b: Point) -> Point:
    long = math.dist(a, b)
    return (b[0] - a[0]) / long, (b[1] - a[1]) / long


def _side(
    check: Square, end: Point, text: str, scale: float, lines: Sequence[Segment], taken: list[Box]
) -> Iterator[Label]:
    """How far from the corner a short side ends, beside that end."""
    turn = round(math.degrees(math.atan2(end[1] - check.at[1], end[0] - check.at[0])))
    spots = sorted(_spots_about(end, turn, scale), key=lambda spot: math.dist(spot.at, end))
    label = clear_label(text, spots, scale, lines, taken, layer="setting out")
    if label is not None:
        taken.append(label_box(label, scale))
        yield label


def _spots_about(end: Point, turn: float, scale: float) -> Iterator[Spot]:
    """On both sides of a tick, along the line it stands on."""
    c, s = direction(upright(turn))
    for step in range(-10, 11):
        for off in (o for k in range(4) for o in (OFF_TICK + 4 * k, -OFF_TICK - HEIGHT - 4 * k)):
            x, y = end[0] + 2 * step * scale * c, end[1] + 2 * step * scale * s
            yield Spot((x - off * scale * s, y + off * scale * c), "middle", upright(turn))
