"""What stands around a wall in its still picture: ground, person, plants, existing walls."""

from __future__ import annotations

import math
import zlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from parametric_wall.drawings.still import tones
from parametric_wall.drawings.still.depth import Body, cuboid
from parametric_wall.drawings.still.faces import Face, Oval
from parametric_wall.drawings.still.plane import Box, box_of, hull, left_of
from parametric_wall.drawings.still.projection import Projection
from parametric_wall.drawings.still.rows import Row, block_of
from parametric_wall.drawings.still.viewpoint import View
from parametric_wall.geometry import End, Point, Point3, direction, rectangle
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.runs import Run, runs_of

PERSON = 1750.0
PERSON_DEEP = 260.0
CLEAR = 450.0
"""mm between the person and what stands beside."""
EXISTING_THICK, EXISTING_BEFORE, EXISTING_BEHIND = 215.0, 60.0, 500.0
EXISTING_OVER = 350.0
"""mm by which an existing wall is drawn higher than the wall that abuts it."""
PLANT_GRID, PLANT_HIGH, MOST_PLANTS = 330.0, 300.0, 60
ROUND = 20
"""Corners of a leaf that is cut off."""
BESIDE = 25.0
"""mm between plants and copings."""

_HALF: tuple[Point, ...] = (
    (0.000, 0.900), (0.027, 0.896), (0.027, 0.848), (0.070, 0.832), (0.104, 0.818),
    (0.118, 0.780), (0.124, 0.650), (0.130, 0.530), (0.130, 0.450), (0.110, 0.446),
    (0.102, 0.520), (0.096, 0.610), (0.092, 0.500), (0.086, 0.380), (0.074, 0.260),
    (0.068, 0.140), (0.058, 0.045), (0.082, 0.014), (0.080, 0.000), (0.026, 0.000),
    (0.022, 0.060), (0.020, 0.220), (0.014, 0.400), (0.000, 0.455),
)  # fmt: skip
"""The right half of a person who stands and looks this way, of height 1, from the neck down."""
_HEAD = (0.932, 0.048, 0.068)
"""Level of its middle, and its radii: the crown is at 1."""


@dataclass(frozen=True, slots=True)
class Thing:
    """A body that is painted in its turn, with its faces at full size."""

    body: Body
    faces: tuple[Face | Oval, ...]


@dataclass(frozen=True, slots=True)
class Person:
    """Who stands by for scale, and where on paper the feet are, at full size."""

    marks: tuple[Face | Oval, ...]
    foot: Point


def _smooth(points: Sequence[Point], times: int) -> tuple[Point, ...]:
    """A closed outline with its corners cut off, again and again."""
    for _ in range(times):
        points = [
            ((p[0] * a + q[0] * b) / 4, (p[1] * a + q[1] * b) / 4)
            for p, q in pairwise((*points, points[0]))
            for a, b in ((3, 1), (1, 3))
        ]
    return tuple(points)


def person_at(x: float, y: float, projection: Projection) -> Person:
    """A person who stands at a point of the ground."""
    left = [(-px, py) for px, py in reversed(_HALF[1:-1])]
    foot = projection.paper((x, y, 0.0))
    outline = _smooth([*_HALF, *left], 2)
    placed = tuple((foot[0] + px * PERSON, foot[1] + py * PERSON) for px, py in outline)
    level, wide, high = (part * PERSON for part in _HEAD)
    head = Oval((foot[0], foot[1] + level), (wide, high), tones.PERSON)
    return Person((Face(placed, tones.PERSON), head), foot)


def place_of_person(plan: Box, view: View) -> Point:
    """Where a person stands: behind all walls, so that nothing stands further away."""
    x0, _, x1, y1 = plan
    return x0 + (x1 - x0) * (0.12 if view.right else 0.88), y1 + CLEAR + PERSON_DEEP / 2


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
    c, d = way = direction(place.heading_deg)
    along, across = c * place.x + d * place.y, c * place.y - d * place.x
    a, b = sorted((along + at, along + at + outer * EXISTING_THICK))
    u0, u1 = across + low_u, across + high_u
    name = f"{run.name}-{'left' if outer < 0 else 'right'}"
    section = rectangle(u1 - u0, high, u0)
    return block_of(name, spec.name, way, section, (End(a), End(b)))


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


def ground(points: Sequence[Point], pad: float, projection: Projection) -> Face:
    """The ground under some points of it, with rounded corners, all on paper.

    Args:
        points: on paper.
        pad: how far it goes on past them, on paper.
        projection: how it is seen.
    """
    (a, d), (b, e) = projection.x, projection.y
    size = a * e - b * d
    flat = [((e * x - b * y) / size, (a * y - d * x) / size) for x, y in points]
    x0, y0, x1, y1 = box_of(flat)
    out_x, out_y = pad / math.hypot(a, d), pad / math.hypot(b, e)
    x0, y0, x1, y1 = x0 - out_x, y0 - out_y, x1 + out_x, y1 + out_y
    cut_x, cut_y = min(2.5 * out_x, (x1 - x0) / 2), min(2.5 * out_y, (y1 - y0) / 2)
    corners = (
        *((x0 + cut_x, y0), (x1 - cut_x, y0), (x1, y0 + cut_y), (x1, y1 - cut_y)),
        *((x1 - cut_x, y1), (x0 + cut_x, y1), (x0, y1 - cut_y), (x0, y0 + cut_y)),
    )
    return Face(_smooth([projection.paper((x, y, 0.0)) for x, y in corners], 3), tones.GROUND)


def plants(row: Row, clear: float, brim: float, view: View) -> Thing | None:
    """Plants on the soil of a planter, away from its copings; None where there is no room.

    They are painted after the whole wall, cut off where its near copings hide them.

    Args:
        row: of soil.
        clear: mm to keep free along its edges.
        brim: level of the top of the copings.
        view: from where it is looked at.
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
    leaves: list[Oval] = []
    for j in reversed(range(deep)):
        for i in range(across):
            chance = zlib.crc32(f"{row.parts[0].piece.id} {i} {j}".encode())
            middle = (x0 + (i + 0.5) * wide, y0 + (j + 0.5) * far, top)
            leaves += _plant(middle, min(wide, far, PLANT_GRID), chance, view.projection)
    body = cuboid((x0, y0, top), (x1, y1, top + PLANT_HIGH), view.projection)
    level = max(brim, top)
    near, corner, back = (
        ((x0, y0), (x1, y0), (x1, y1)) if view.right else ((x0, y1), (x0, y0), (x1, y0))
    )
    a, b, c = (view.projection.paper((*p, level)) for p in (near, corner, back))
    return Thing(body, tuple(_cut(leaves, ((a, b), (b, c)))))


def _cut(leaves: Iterable[Oval], edges: Sequence[tuple[Point, Point]]) -> Iterator[Face | Oval]:
    """Leaves as far as they lie to the left of some lines."""
    for leaf in leaves:
        turns = [2 * math.pi * k / ROUND for k in range(ROUND)]
        (x, y), (a, b) = leaf.centre, leaf.radii
        outline = tuple((x + a * math.cos(t), y + b * math.sin(t)) for t in turns)
        kept = outline
        for edge in edges:
            kept = left_of(kept, *edge)
        if kept == outline:
            yield leaf
        elif len(kept) > 2:
            yield Face(kept, leaf.fill)


def _plant(at: Point3, room: float, chance: int, projection: Projection) -> Iterator[Oval]:
    """A few leaves about a stem, none of them out of its room."""
    x, y = projection.paper(at)
    size = room * (0.30 + 0.05 * (chance % 4))
    tone = chance >> 3
    for k, (dx, up, part) in enumerate(
        ((-0.62, 0.45, 0.62), (0.60, 0.42, 0.66), (-0.05, 0.80, 0.80), (0.12, 0.34, 0.52))
    ):
        fill = tones.PLANTS[(tone + k) % len(tones.PLANTS)]
        cx, cy, r = x + dx * size, y + up * size, part * size
        yield Oval((cx, cy), (r, 0.8 * r), fill)
