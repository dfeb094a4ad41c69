"""What stands around a wall in its still picture: ground, shadow, person, plants, existing walls."""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from parametric_wall.drawings import tones
from parametric_wall.drawings.depth import Body, cuboid
from parametric_wall.drawings.faces import Face
from parametric_wall.drawings.plane import Box, apart, box_of, hull
from parametric_wall.drawings.projection import Projection
from parametric_wall.drawings.rows import Row, block_of
from parametric_wall.drawings.viewpoint import View
from parametric_wall.geometry import End, Point, Point3, direction, rectangle
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.runs import Run, runs_of

PERSON = 1750.0
PERSON_WIDE, PERSON_DEEP = 560.0, 260.0
CLEAR = 450.0
"""mm between the person and what stands beside."""
EXISTING_THICK, EXISTING_BEFORE, EXISTING_BEHIND = 215.0, 60.0, 500.0
EXISTING_OVER = 350.0
"""mm by which an existing wall is drawn higher than the wall that abuts it."""
PLANT_GRID, PLANT_HIGH, MOST_PLANTS = 330.0, 300.0, 60
BESIDE = 25.0
"""mm between plants and copings."""

_HALF: tuple[Point, ...] = (
    (0.000, 1.000), (0.030, 0.995), (0.050, 0.965), (0.052, 0.930), (0.040, 0.892),
    (0.026, 0.872), (0.030, 0.850), (0.080, 0.832), (0.118, 0.812), (0.134, 0.760),
    (0.142, 0.640), (0.150, 0.530), (0.150, 0.450), (0.128, 0.446), (0.118, 0.520),
    (0.106, 0.600), (0.106, 0.500), (0.098, 0.380), (0.084, 0.260), (0.076, 0.140),
    (0.066, 0.045), (0.092, 0.016), (0.090, 0.000), (0.030, 0.000), (0.026, 0.060),
    (0.022, 0.220), (0.014, 0.400), (0.000, 0.450),
)  # fmt: skip
"""The right half of a person who stands and looks this way, of height 1, from the crown down."""


@dataclass(frozen=True, slots=True)
class Thing:
    """A body that is painted in its turn, with its faces at full size."""

    body: Body
    faces: tuple[Face, ...]


def _smooth(points: Sequence[Point], times: int) -> tuple[Point, ...]:
    """A closed outline with its corners cut off, again and again."""
    for _ in range(times):
        points = [
            ((p[0] * a + q[0] * b) / 4, (p[1] * a + q[1] * b) / 4)
            for p, q in pairwise((*points, points[0]))
            for a, b in ((3, 1), (1, 3))
        ]
    return tuple(points)


def person_at(x: float, y: float, projection: Projection) -> Thing:
    """A person who stands at a point of the ground."""
    half_x, half_y = PERSON_WIDE / 2, PERSON_DEEP / 2
    body = cuboid((x - half_x, y - half_y, 0.0), (x + half_x, y + half_y, PERSON), projection)
    left = [(-px, py) for px, py in reversed(_HALF[1:-1])]
    foot = projection.paper((x, y, 0.0))
    outline = _smooth([*_HALF, *left], 2)
    placed = tuple((foot[0] + px * PERSON, foot[1] + py * PERSON) for px, py in outline)
    return Thing(body, (Face(placed, tones.PERSON),))


def place_of_person(plan: Box, taken: Sequence[Box], view: View) -> Point:
    """Where a person stands: beside the walls where nothing is, else behind them."""
    x0, y0, x1, y1 = plan
    side = x0 - CLEAR - PERSON_WIDE / 2 if view.right else x1 + CLEAR + PERSON_WIDE / 2
    behind = y1 + CLEAR + PERSON_DEEP / 2
    third = x0 + (x1 - x0) * (0.3 if view.right else 0.7)
    for x, y in ((third, behind), (side, behind)):
        here = (x - PERSON_WIDE / 2, y - PERSON_DEEP / 2, x + PERSON_WIDE / 2, y + PERSON_DEEP / 2)
        if all(apart(here, other) for other in taken):
            return x, y
    return side, behind


def existing_walls(spec: WallSpec, view: View) -> Iterator[Row]:
    """The existing walls that a wall abuts, as plain blocks across its ends."""
    for run in runs_of(spec):
        for at, kind, outer in ((0.0, run.start, -1), (run.length, run.end, 1)):
            if kind in ("abutment", "movement"):
                yield _existing(spec, run, at, outer, view)


def _existing(spec: WallSpec, run: Run, at: float, outer: int, view: View) -> Row:
    place = run.place.then(view.seen(spec.place))
    high = max(spec.gauge.finished, 0.0) + EXISTING_OVER
    front = max(EXISTING_BEFORE, spec.coping.front if spec.coping else 0.0)
    low_u, high_u = -front, run.thickness + EXISTING_BEHIND
    c, d = direction(place.heading_deg)
    along, across = c * place.x + d * place.y, c * place.y - d * place.x
    a, b = sorted((along + at, along + at + outer * EXISTING_THICK))
    u0, u1 = across + low_u, across + high_u
    name = f"{run.name}-{'left' if outer < 0 else 'right'}"
    section = rectangle(u1 - u0, high, u0)
    return block_of(name, spec.name, place.heading_deg, section, (End(a), End(b)))


def shadow(rows: Sequence[Row], projection: Projection) -> Face | None:
    """The shadow on the ground of rows that stand one on another, at full size."""
    x, y, z = tones.LIGHT
    cast: list[Point] = []
    for row in rows:
        for px, py, pz in (*row.ring(row.start, row.convex), *row.ring(row.end, row.convex)):
            cast.append((px - x / z * pz, py - y / z * pz))
    outline = hull(cast)
    if len(outline) < 3:
        return None
    return Face(tuple(projection.paper((a, b, 0.0)) for a, b in outline), tones.SHADOW)


def ground(plan: Box, projection: Projection) -> Face:
    """The ground around a plan, at full size, with its corners cut."""
    x0, y0, x1, y1 = plan
    out = 0.06 * (x1 - x0 + y1 - y0) + 250.0
    corners = ((x0 - out, y0 - out), (x1 + out, y0 - out), (x1 + out, y1 + out), (x0 - out, y1 + out))
    paper = [projection.paper((x, y, 0.0)) for x, y in corners]
    return Face(_smooth(paper, 3), tones.GROUND)


def plants(row: Row, clear: float, projection: Projection) -> Thing | None:
    """Plants on the soil of a planter, away from its copings; None where there is no room.

    Args:
        row: of soil.
        clear: mm to keep free along its edges.
        projection: how it is seen.
    """
    x0, y0, x1, y1 = box_of(row.plan())
    x0, y0, x1, y1 = x0 + clear, y0 + clear, x1 - clear, y1 - clear
    top = row.height[1]
    if x1 - x0 < PLANT_GRID / 2 or y1 - y0 < PLANT_GRID / 2:
        return None
    across = max(1, round((x1 - x0) / PLANT_GRID))
    deep = max(1, round((y1 - y0) / PLANT_GRID))
    while across * deep > MOST_PLANTS:
        across, deep = max(1, across // 2), max(1, deep // 2)
    wide, far = (x1 - x0) / across, (y1 - y0) / deep
    faces: list[Face] = []
    for j in reversed(range(deep)):
        for i in range(across):
            chance = zlib.crc32(f"{row.parts[0].piece.id} {i} {j}".encode())
            middle = (x0 + (i + 0.5) * wide, y0 + (j + 0.5) * far, top)
            faces += _plant(middle, min(wide, far, PLANT_GRID), chance, projection)
    body = cuboid((x0, y0, top), (x1, y1, top + PLANT_HIGH), projection)
    return Thing(body, tuple(faces))


_ROUND: tuple[Point, ...] = (
    (1.0, 0.0), (0.81, 0.59), (0.31, 0.95), (-0.31, 0.95), (-0.81, 0.59),
    (-1.0, 0.0), (-0.81, -0.59), (-0.31, -0.95), (0.31, -0.95), (0.81, -0.59),
)  # fmt: skip


def _plant(at: Point3, room: float, chance: int, projection: Projection) -> Iterator[Face]:
    """A few leaves about a stem, none of them out of its room."""
    x, y = projection.paper(at)
    size = room * (0.30 + 0.05 * (chance % 4))
    tone = chance >> 3
    for k, (dx, up, part) in enumerate(
        ((-0.62, 0.45, 0.62), (0.60, 0.42, 0.66), (-0.05, 0.80, 0.80), (0.12, 0.34, 0.52))
    ):
        fill = tones.PLANTS[(tone + k) % len(tones.PLANTS)]
        cx, cy, r = x + dx * size, y + up * size, part * size
        yield Face(tuple((cx + r * a, cy + 0.8 * r * b) for a, b in _ROUND), fill)

