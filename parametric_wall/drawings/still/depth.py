"""In what order convex bodies are painted, so that the nearer hides the further.

Two convex bodies that share nothing lie on two sides of a plane; the one on the side of
who looks can only hide the other. For prisms the planes of their own faces are tried.
Bodies that do not overlap on paper need no order.
"""

from __future__ import annotations

import heapq
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from parametric_wall.drawings.still.plane import Box, apart, box_of, hull, overlap
from parametric_wall.drawings.still.projection import Projection
from parametric_wall.geometry import Point, Point3

NEAR = 0.05
"""mm, at full size: bodies that reach no further into each other only touch."""
PARALLEL = 1e-9

Plane = tuple[float, float, float, float]
"""Outward normal and offset: n . p <= d inside."""


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """A convex body in the drawing's axes.

    Attributes:
        corners: all of them, mm.
        planes: of its faces.
        outline: on paper at full size, anticlockwise.
        box: around the outline.
    """

    corners: tuple[Point3, ...]
    planes: tuple[Plane, ...]
    outline: tuple[Point, ...]
    box: Box


def body_of(corners: tuple[Point3, ...], planes: tuple[Plane, ...], projection: Projection) -> Body:
    """A body from its corners and the planes of its faces."""
    outline = hull(map(projection.paper, corners))
    return Body(corners, planes, outline, box_of(outline))


def cuboid(low: Point3, high: Point3, projection: Projection) -> Body:
    """A body along the drawing's axes."""
    corners = tuple(
        (x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])
    )
    planes: list[Plane] = []
    for axis in range(3):
        normal = [0.0, 0.0, 0.0]
        normal[axis] = 1.0
        x, y, z = normal
        planes += [(x, y, z, high[axis]), (-x, -y, -z, -low[axis])]
    return body_of(corners, tuple(planes), projection)


def in_front(a: Body, b: Body, towards: Point3) -> int:
    """1 where only `a` can hide `b`, -1 where only `b` can hide `a`, 0 where neither can."""
    for one, other, sign in ((a, b, -1), (b, a, 1)):
        for nx, ny, nz, d in one.planes:
            least = d - NEAR
            if all(nx * x + ny * y + nz * z >= least for x, y, z in other.corners):
                facing = nx * towards[0] + ny * towards[1] + nz * towards[2]
                if abs(facing) < PARALLEL:
                    return 0
                return sign if facing > 0 else -sign
    return 0


def painting_order(
    bodies: Sequence[Body], towards: Point3, settled: Iterable[tuple[int, int]] = ()
) -> list[int]:
    """Indices of the bodies, the hidden before those that hide them.

    Args:
        bodies: none of them reaches into another.
        towards: who looks.
        settled: pairs whose order is known, the first before the second.

    Where three or more hide each other in a ring, which no wall does, the furthest of
    them is painted first.
    """
    after: dict[int, list[int]] = defaultdict(list)
    waits = [0] * len(bodies)
    known = set(settled)
    for back, front in sorted(known):
        after[back].append(front)
        waits[front] += 1
    for i, j in _overlapping(bodies):
        if (i, j) in known or (j, i) in known:
            continue
        order = in_front(bodies[i], bodies[j], towards)
        if order:
            back, front = (j, i) if order > 0 else (i, j)
            after[back].append(front)
            waits[front] += 1
    far = [_depth(body, towards) for body in bodies]
    ready = [(far[i], i) for i in range(len(bodies)) if not waits[i]]
    heapq.heapify(ready)
    ordered: list[int] = []
    left = set(range(len(bodies)))
    while left:
        i = heapq.heappop(ready)[1] if ready else min(left, key=lambda k: (far[k], k))
        if i not in left:
            continue
        left.remove(i)
        ordered.append(i)
        for j in after[i]:
            waits[j] -= 1
            if not waits[j] and j in left:
                heapq.heappush(ready, (far[j], j))
    return ordered


def _depth(body: Body, towards: Point3) -> float:
    """How near the middle of a body is to who looks."""
    vx, vy, vz = towards
    return sum(vx * x + vy * y + vz * z for x, y, z in body.corners) / len(body.corners)


def _overlapping(bodies: Sequence[Body]) -> Iterator[tuple[int, int]]:
    """Pairs that overlap on paper; a grid spares most of the others."""
    if not bodies:
        return
    x0, y0 = min(b.box[0] for b in bodies), min(b.box[1] for b in bodies)
    wide = max(b.box[2] for b in bodies) - x0
    high = max(b.box[3] for b in bodies) - y0
    cells = max(1, math.isqrt(len(bodies)))
    dx, dy = wide / cells or 1.0, high / cells or 1.0
    grid: dict[tuple[int, int], list[int]] = defaultdict(list)
    for i, body in enumerate(bodies):
        a, b, c, d = body.box
        met: set[int] = set()
        for column in range(int((a - x0) / dx), int((c - x0) / dx) + 1):
            for row in range(int((b - y0) / dy), int((d - y0) / dy) + 1):
                cell = grid[column, row]
                met.update(cell)
                cell.append(i)
        for j in sorted(met):
            other = bodies[j]
            if not apart(body.box, other.box, NEAR) and overlap(body.outline, other.outline, NEAR):
                yield j, i
