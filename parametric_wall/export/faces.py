"""A shape's plane faces, from its numbers alone: no kernel is wanted for a picture."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from parametric_wall.geometry import Bar, Point, Point3, Shape, Slab, signed_area

Ring = tuple[int, ...]
Face = tuple[Ring, ...]


@dataclass(frozen=True, slots=True)
class Faces:
    """A closed body of plane faces, in the shape's own axes.

    Attributes:
        points: the corners, mm.
        faces: of each face its outline and then its holes, as numbers of points; the
            outline anticlockwise seen from outside, the holes clockwise.
    """

    points: tuple[Point3, ...]
    faces: tuple[Face, ...]


def faces_of(shape: Shape) -> Faces:
    """The faces of a bar or a slab.

    Args:
        shape: sound: nothing of it is mended here.
    """
    return _bar(shape) if isinstance(shape, Bar) else _slab(shape)


def _bar(bar: Bar) -> Faces:
    start, end = bar.corners()
    count = len(start)
    near = tuple(range(count))
    # A section is anticlockwise seen from the end; from the start it has to be turned round.
    caps: list[Face] = [(near[::-1],), (tuple(i + count for i in near),)]
    sides: list[Face] = [((a, b, b + count, a + count),) for a, b in _edges(near)]
    return Faces((*start, *end), (*caps, *sides))


def _slab(slab: Slab) -> Faces:
    rings = (slab.outline, *(h if signed_area(h) < 0 else h[::-1] for h in slab.holes))
    points: list[Point3] = []
    low: list[Ring] = []
    for ring in rings:
        low.append(tuple(range(len(points), len(points) + len(ring))))
        points += _level(ring, 0.0)
    count = len(points)
    points += [(s, u, slab.thickness) for s, u, _ in points]
    under: Face = tuple(ring[::-1] for ring in low)
    over: Face = tuple(tuple(i + count for i in ring) for ring in low)
    sides: list[Face] = [((a, b, b + count, a + count),) for ring in low for a, b in _edges(ring)]
    return Faces(tuple(points), (under, over, *sides))


def _level(ring: tuple[Point, ...], z: float) -> list[Point3]:
    return [(s, u, z) for s, u in ring]


def _edges(ring: Ring) -> list[tuple[int, int]]:
    return list(pairwise((*ring, ring[0])))
