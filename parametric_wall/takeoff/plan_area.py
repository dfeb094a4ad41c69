"""Plan areas of a wall from its path alone, on the grid of its own edges. All in mm and mm2."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import pairwise

from parametric_wall.geometry import Point, signed_area
from parametric_wall.job.model import StopEnd
from parametric_wall.job.path import LEFT, RIGHT, Path

Rect = tuple[float, float, float, float]


def strips(path: Path, thickness: float, spread: float) -> list[Rect]:
    """The footing strip under each run: wall and spread, corners and stop ends included."""
    found = []
    for i, place in enumerate(path.placements()):
        a = -_past(path.turn_before(i), path.start, thickness, spread)
        b = path.lengths[i] + _past(path.turn_after(i), path.end, thickness, spread)
        x0, y0, _ = place.point(a, -spread)
        x1, y1, _ = place.point(b, thickness + spread)
        found.append((min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)))
    return found


def _past(turn: int | None, end: object, thickness: float, spread: float) -> float:
    """How far a strip runs past the end of its run's outer face."""
    if turn is None:
        return spread if isinstance(end, StopEnd) else 0.0
    return spread if turn == LEFT else thickness + spread


def union_area(rects: list[Rect]) -> float:
    """Area covered by rectangles, counted once."""
    return _area(_cells(rects, (), lambda x, y: _covered(rects, x, y)))


def cells_outside(outline: tuple[Point, ...], rects: list[Rect]) -> list[Rect]:
    """The part of a rectilinear outline that no rectangle covers, cut into rectangles."""
    return _cells(rects, outline, lambda x, y: _inside(outline, x, y) and not _covered(rects, x, y))


def area_outside(outline: tuple[Point, ...], rects: list[Rect]) -> float:
    """Area of a rectilinear outline that no rectangle covers."""
    return _area(cells_outside(outline, rects))


def inner_face(path: Path, thickness: float) -> tuple[Point, ...]:
    """The inner face of a closed path, in the wall's axes."""
    points = []
    for i, place in enumerate(path.placements()):
        turn = path.turn_after(i)
        past = -thickness if turn == LEFT else thickness if turn == RIGHT else 0.0
        x, y, _ = place.point(path.lengths[i] + past, thickness)
        points.append((x, y))
    return tuple(points)


def outline_area(points: tuple[Point, ...]) -> float:
    """Area of a closed outline."""
    return signed_area(points)


def _cells(
    rects: list[Rect], outline: tuple[Point, ...], wanted: Callable[[float, float], bool]
) -> list[Rect]:
    xs = _edges([r[0] for r in rects] + [r[2] for r in rects] + [p[0] for p in outline])
    ys = _edges([r[1] for r in rects] + [r[3] for r in rects] + [p[1] for p in outline])
    return [
        (x0, y0, x1, y1)
        for x0, x1 in pairwise(xs)
        for y0, y1 in pairwise(ys)
        if wanted((x0 + x1) / 2, (y0 + y1) / 2)
    ]


def _area(cells: list[Rect]) -> float:
    return sum((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in cells)


def _edges(values: Iterable[float]) -> list[float]:
    return sorted(set(values))


def _covered(rects: list[Rect], x: float, y: float) -> bool:
    return any(r[0] < x < r[2] and r[1] < y < r[3] for r in rects)


def _inside(outline: tuple[Point, ...], x: float, y: float) -> bool:
    """Whether an upward ray from a point crosses an odd number of level edges."""
    crossed = 0
    for (x0, y0), (x1, y1) in pairwise((*outline, outline[0])):
        if min(x0, x1) < x < max(x0, x1) and min(y0, y1) > y:
            crossed += 1
    return crossed % 2 == 1
