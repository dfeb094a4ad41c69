"""Convex outlines on paper or in plan: hull, box, overlap, what lies above a level."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from parametric_wall.geometry import Point

Box = tuple[float, float, float, float]
"""x0, y0, x1, y1."""


def hull(points: Iterable[Point], near: float = 1e-9) -> tuple[Point, ...]:
    """The convex hull, anticlockwise; points nearer than `near` to a side are left out."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)

    def half(way: Iterable[Point]) -> list[Point]:
        chain: list[Point] = []
        for p in way:
            while len(chain) > 1 and _side(chain[-2], chain[-1], p) <= near:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    return (*half(ordered), *half(reversed(ordered)))


def _side(a: Point, b: Point, p: Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def box_of(points: Iterable[Point]) -> Box:
    """The upright rectangle around some points."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def apart(a: Box, b: Box, gap: float = 0.0) -> bool:
    """Whether two boxes share no more than `gap` along some side."""
    return a[2] <= b[0] + gap or b[2] <= a[0] + gap or a[3] <= b[1] + gap or b[3] <= a[1] + gap


def overlap(a: Sequence[Point], b: Sequence[Point], gap: float) -> bool:
    """Whether two convex outlines, anticlockwise, reach into each other by more than `gap`."""
    return not (_parted(a, b, gap) or _parted(b, a, gap))


def _parted(a: Sequence[Point], b: Sequence[Point], gap: float) -> bool:
    """Whether a side of `a` has all of `b` beyond it, or no more than `gap` before it."""
    for p, q in pairwise((*a, a[0])):
        dx, dy = q[0] - p[0], q[1] - p[1]
        least = gap * (abs(dx) + abs(dy))
        if all(dx * (y - p[1]) - dy * (x - p[0]) <= least for x, y in b):
            return True
    return False


def inside(point: Point, outline: Sequence[Point], near: float = 0.0) -> bool:
    """Whether a convex outline, anticlockwise, holds a point."""
    return all(_side(p, q, point) >= -near for p, q in pairwise((*outline, outline[0])))


def left_of(outline: Sequence[Point], a: Point, b: Point) -> tuple[Point, ...]:
    """The part of an outline to the left of the line from `a` to `b`; none may be left."""
    kept: list[Point] = []
    far = [_side(a, b, p) for p in outline]
    for i, p in enumerate(outline):
        q, here, next_ = outline[i - len(outline) + 1], far[i], far[i - len(outline) + 1]
        if here >= 0:
            kept.append(p)
        if here * next_ < 0:
            t = here / (here - next_)
            kept.append((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
    return tuple(kept)
