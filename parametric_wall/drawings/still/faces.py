"""What is seen of a row: its body for the painting order, and its faces in their tones."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from parametric_wall.drawings.still import tones
from parametric_wall.drawings.still.depth import Body, Plane, body_of
from parametric_wall.drawings.still.plane import hull
from parametric_wall.drawings.still.projection import Projection
from parametric_wall.drawings.still.rows import MORTAR, SAME, Part, Row
from parametric_wall.geometry import End, Point, Point3
from parametric_wall.setting_out.model import Piece

FACING = 1e-9
FINEST = 0.3
"""mm on paper: where blocks would be shorter, a row is painted as one stone."""


@dataclass(frozen=True, slots=True)
class Face:
    """A filled outline.

    Attributes:
        outline: on paper.
        fill: a colour.
        pieces: ids of what it shows; none for ground, shadow, person and plants.
        opacity: 1 hides what lies below.
    """

    outline: tuple[Point, ...]
    fill: str
    pieces: tuple[str, ...] = ()
    opacity: float = 1.0

    def placed(self, scale: float, shift: Point) -> Face:
        """The same at another scale, and moved."""
        dx, dy = shift
        outline = tuple((x * scale + dx, y * scale + dy) for x, y in self.outline)
        return replace(self, outline=outline)

    def points(self) -> tuple[Point, ...]:
        """What it reaches."""
        return self.outline


@dataclass(frozen=True, slots=True)
class Oval:
    """An upright filled ellipse: leaves."""

    centre: Point
    radii: Point
    fill: str

    def placed(self, scale: float, shift: Point) -> Oval:
        """The same at another scale, and moved."""
        (x, y), (a, b) = self.centre, self.radii
        return replace(
            self,
            centre=(x * scale + shift[0], y * scale + shift[1]),
            radii=(a * scale, b * scale),
        )

    def points(self) -> tuple[Point, ...]:
        """What it reaches."""
        (x, y), (a, b) = self.centre, self.radii
        return (x - a, y - b), (x + a, y + b)


@dataclass(frozen=True, slots=True)
class Side:
    """A face of a row along all of it: an edge of its section, and which way that looks."""

    one: Point
    other: Point
    normal: Point3


def row_body(row: Row, projection: Projection) -> Body:
    """A row as a convex body."""
    corners = (*row.ring(row.start, row.convex), *row.ring(row.end, row.convex))
    planes = [_plane(row, side.normal, (row.start.at, *side.one)) for side in sides(row)]
    for end, sign in ((row.start, -1.0), (row.end, 1.0)):
        planes.append(_plane(row, end_normal(row, end, sign), (end.at, 0.0, 0.0)))
    return body_of(corners, tuple(planes), projection)


def _plane(row: Row, normal: Point3, at: Point3) -> Plane:
    point = row.point(*at)
    return (*normal, sum(a * b for a, b in zip(normal, point, strict=True)))


def sides(row: Row) -> Iterator[Side]:
    """The faces along a row, grooves left out: they look down."""
    c, d = row.way
    for p, q in pairwise((*row.convex, row.convex[0])):
        across, up = q[1] - p[1], p[0] - q[0]
        size = (across * across + up * up) ** 0.5
        yield Side(p, q, (-d * across / size, c * across / size, up / size))


def end_normal(row: Row, end: End, sign: float) -> Point3:
    """Outward normal of an end's plane; `sign` is -1 at the left end and 1 at the right."""
    c, d = row.way
    size = sign / (1.0 + end.per_u * end.per_u) ** 0.5
    s, u = size, -end.per_u * size
    return (c * s - d * u, d * s + c * u, 0.0)


def faces_of(row: Row, projection: Projection, scale: float) -> Iterator[Face]:
    """The faces of a row that look this way, at full size: mortar first, the units on it.

    Args:
        row: the row.
        projection: how it is seen.
        scale: paper mm a mm, for what is too fine to be painted.
    """
    v = projection.towards
    shown = [side for side in sides(row) if _dot(side.normal, v) > FACING]
    long = [side for side in shown if abs(side.normal[2]) < 0.5]
    tops = [side for side in shown if abs(side.normal[2]) >= 0.5] if row.top else []
    along = long[0].normal if long else (0.0, 0.0, 1.0)
    yield from _mortar(row, along, tops, projection)
    found: list[Face] = []
    for part in _parts(row, scale):
        tone = _tone(part.piece)
        if tone is None:
            continue
        name = (part.piece.id,)
        for side in (*long, *tops):
            corners = _strip(row, part, side)
            outline = tuple(map(projection.paper, corners))
            found.append(Face(outline, tones.lit(tone, _rounded(side.normal)), name))
    yield from sorted(found, key=lambda face: face.fill)
    yield from _ends(row, projection)


def _mortar(
    row: Row, along: Point3, tops: Sequence[Side], projection: Projection
) -> Iterator[Face]:
    """The ground on which the units of a row are painted: all of what is seen, then its top."""
    joints = [p.piece for p in row.parts if p.piece.kind in MORTAR]
    if not joints:
        return
    ids = tuple(piece.id for piece in joints)
    tone = tones.COPING_JOINT if joints[0].kind == "coping joint" else tones.MORTAR
    ends = (*row.ring(row.start, row.convex), *row.ring(row.end, row.convex))
    yield Face(hull(map(projection.paper, ends)), tones.lit(tone, _rounded(along)), ids)
    whole = Part(joints[0], row.start, row.end)
    for side in tops:
        outline = tuple(map(projection.paper, _strip(row, whole, side)))
        yield Face(outline, tones.lit(tone, _rounded(side.normal)), ids)


def _parts(row: Row, scale: float) -> Sequence[Part]:
    """The parts of a row, or one in place of all where they are too fine to be seen."""
    u = row.section[0][0]
    whole = row.end.at - row.start.at + (row.end.per_u - row.start.per_u) * u
    if len(row.parts) < 3 or whole / len(row.parts) * scale >= FINEST:
        return row.parts
    units = [p for p in row.parts if p.piece.kind not in MORTAR] or row.parts[:1]
    return (Part(units[0].piece, row.start, row.end),)


def _strip(row: Row, part: Part, side: Side) -> tuple[Point3, ...]:
    """A part's own stretch of a side."""
    (u0, z0), (u1, z1) = side.one, side.other
    a, b = part.start, part.end
    return (
        row.point(a.at + a.per_u * u0, u0, z0),
        row.point(b.at + b.per_u * u0, u0, z0),
        row.point(b.at + b.per_u * u1, u1, z1),
        row.point(a.at + a.per_u * u1, u1, z1),
    )


def _ends(row: Row, projection: Projection) -> Iterator[Face]:
    """The end of a row that looks this way, with its grooves."""
    ends = ((row.start, -1.0, row.parts[0].piece), (row.end, 1.0, row.parts[-1].piece))
    for end, sign, piece in ends:
        normal = end_normal(row, end, sign)
        if _dot(normal, projection.towards) > FACING:
            outline = tuple(map(projection.paper, row.ring(end, row.section)))
            joint = tones.COPING_JOINT if piece.kind == "coping joint" else tones.MORTAR
            tone = _tone(piece) or joint
            yield Face(outline, tones.lit(tone, _rounded(normal)), (piece.id,))


def _tone(piece: Piece) -> tones.Rgb | None:
    """The tone of a unit; None for mortar."""
    plain = {
        "filler": tones.FILLER,
        "weep": tones.WEEP,
        "soil": tones.SOIL,
        "drainage": tones.SOIL,
        "footing": tones.CONCRETE,
    }
    if piece.kind == "block":
        return tones.varied(tones.STONES, piece.id)
    if piece.kind == "coping":
        return tones.varied(tones.COPINGS, piece.id)
    return plain.get(piece.kind)


def coping_shade(
    row: Row, projection: Projection, reach: Callable[[Point, Point], float]
) -> Iterator[Face]:
    """The shadow of a coping's overhang on the faces of the row below it.

    Args:
        row: the uppermost course of a run.
        projection: how it is seen.
        reach: how far the coping goes out over a point of the plan, along a normal, mm.
    """
    low, high = row.height
    us = [u for u, _ in row.section]
    front, back = (min(us), max(us))
    corners = [
        row.point(end.at + end.per_u * u, u, 0.0)
        for end, u in ((row.start, front), (row.end, front), (row.end, back), (row.start, back))
    ]
    for a, b in pairwise((*corners, corners[0])):
        dx, dy = b[0] - a[0], b[1] - a[1]
        size = (dx * dx + dy * dy) ** 0.5
        normal = (dy / size, -dx / size, 0.0)
        if _dot(normal, projection.towards) <= FACING:
            continue
        out = reach(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), normal[:2])
        deep = max(low, high - out)
        if high - deep > SAME:
            strip = ((*a[:2], deep), (*b[:2], deep), (*b[:2], high), (*a[:2], high))
            yield Face(tuple(map(projection.paper, strip)), tones.SHADE, (), 0.22)


def _rounded(normal: Point3) -> Point3:
    x, y, z = normal
    return (round(x, 2) + 0.0, round(y, 2) + 0.0, round(z, 2) + 0.0)


def _dot(a: Point3, b: Point3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
