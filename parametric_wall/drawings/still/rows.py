"""Pieces as rows: bars of one section, one after another, are painted as one convex body.

Along a row no piece hides another, and between rows few planes need to be tried; so
thousands of blocks are painted in the order of some dozens of rows.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from parametric_wall.drawings.still.plane import hull, left_of
from parametric_wall.geometry import (
    Bar,
    End,
    Placement,
    Point,
    Point3,
    Slab,
    block,
    direction,
    rectangle,
)
from parametric_wall.setting_out.model import Kind, Piece, WallSetOut

MORTAR: frozenset[Kind] = frozenset({"bed", "perp", "coping bed", "coping joint"})
"""What is painted as the ground of its row, on which the units are painted."""
SKIN = 1.0
"""mm of soil that are painted."""
GROUND = ((0.0, 0.0), (1.0, 0.0))
SAME = 1e-5
"""mm: planes nearer than this are one."""
DIGITS = 6

_NOTHING = block(1.0, 1.0, 1.0)
"""A piece wants a shape; that of what stood there before is its row's."""


@dataclass(frozen=True, slots=True)
class Part:
    """One piece of a row, between two upright planes in the row's axes."""

    piece: Piece
    start: End
    end: End


@dataclass(frozen=True, slots=True, eq=False)
class Row:
    """Bars of one section, one after another from the left; a plain cuboid is a row of one.

    Attributes:
        section: of all of them in (u, z), z over ground, what lies in the ground left out.
        convex: the same without its grooves.
        way: of the row's axis s in the drawing's axes, a unit vector.
        parts: from the left.
        top: whether no row lies on it.
    """

    section: tuple[Point, ...]
    convex: tuple[Point, ...]
    way: Point
    parts: tuple[Part, ...]
    top: bool = True

    @property
    def start(self) -> End:
        """The plane at its left end."""
        return self.parts[0].start

    @property
    def end(self) -> End:
        """The plane at its right end."""
        return self.parts[-1].end

    @property
    def height(self) -> tuple[float, float]:
        """Levels of its lowest and its highest point, mm over ground."""
        levels = [z for _, z in self.section]
        return min(levels), max(levels)

    def point(self, s: float, u: float, z: float) -> Point3:
        """A point of the row in the drawing's axes."""
        c, d = self.way
        return (c * s - d * u, d * s + c * u, z)

    def ring(self, plane: End, section: tuple[Point, ...]) -> tuple[Point3, ...]:
        """A section's corners on an upright plane, in the drawing's axes."""
        return tuple(self.point(plane.at + plane.per_u * u, u, z) for u, z in section)

    def plan(self) -> tuple[Point, ...]:
        """Its outline from above in the drawing's axes, anticlockwise."""
        rings = (*self.ring(self.start, self.convex), *self.ring(self.end, self.convex))
        return hull((x, y) for x, y, _ in rings)


def rows_of(wall: WallSetOut, seen: Placement) -> Iterator[Row]:
    """The rows of a wall, whole or in part over ground.

    Args:
        wall: set out.
        seen: where the wall's axes stand in the drawing's.
    """
    bars = [p for p in wall.pieces if isinstance(p.shape, Bar)]
    last: dict[int, int] = defaultdict(int)
    for piece in bars:
        last[piece.run] = max(last[piece.run], piece.course)
    lines: dict[_Line, list[Part]] = defaultdict(list)
    for piece in bars:
        line, part = _placed(piece)
        lines[line].append(part)
    for line, parts in lines.items():
        lifted = tuple((u, z + line.level) for u, z in line.section)
        raised = lifted if min(z for _, z in lifted) >= 0 else left_of(lifted, *GROUND)
        if len(raised) > 2:
            for chain in _chains(parts):
                top = line.course == last[chain[0].piece.run]
                yield _seen(raised, line, chain, top, seen)
    for piece in wall.pieces:
        if isinstance(piece.shape, Slab):
            yield from _slab_rows(piece, piece.shape, seen)


class _Line(NamedTuple):
    """What bars of one row have in common, in the wall's axes."""

    heading_deg: float
    across: float
    level: float
    section: tuple[Point, ...]
    course: int


def _placed(piece: Piece) -> tuple[_Line, Part]:
    """The line that a bar lies on, and its ends along that line."""
    bar, at = piece.shape, piece.at
    assert isinstance(bar, Bar)
    c, d = direction(at.heading_deg)
    along, across = c * at.x + d * at.y, c * at.y - d * at.x
    start, end = bar.start, bar.end
    part = Part(piece, End(along + start.at, start.per_u), End(along + end.at, end.per_u))
    level = round(at.z, DIGITS)
    return _Line(at.heading_deg, round(across, DIGITS), level, bar.section, piece.course), part


def _chains(parts: list[Part]) -> Iterator[tuple[Part, ...]]:
    """Parts of one line, parted where one does not begin where the last one ends."""
    ordered = sorted(parts, key=lambda p: p.start.at + p.end.at)
    chain = ordered[:1]
    for before, here in pairwise(ordered):
        near = abs(before.end.at - here.start.at) < SAME
        if not near or before.end.per_u != here.start.per_u:
            yield tuple(chain)
            chain = []
        chain.append(here)
    yield tuple(chain)


def _seen(
    section: tuple[Point, ...],
    line: _Line,
    chain: Iterable[Part],
    top: bool,
    seen: Placement,
) -> Row:
    """A row of a wall in the drawing's axes, whose origin is moved into its section and ends."""
    c, d = way = direction(line.heading_deg + seen.heading_deg)
    along, across = c * seen.x + d * seen.y, c * seen.y - d * seen.x + line.across
    moved = tuple((u + across, z) for u, z in section)

    def plane(end: End) -> End:
        return End(end.at + along - end.per_u * across, end.per_u)

    parts = tuple(Part(p.piece, plane(p.start), plane(p.end)) for p in chain)
    return Row(moved, hull(moved), way, parts, top)


def _slab_rows(piece: Piece, slab: Slab, seen: Placement) -> Iterator[Row]:
    """A slab as rectangles; plans of walls have quarter turns only.

    Of what fills a planter only the top is seen. As one body of its whole depth it would
    stand in a ring with the courses that cross at a corner: before one, behind the other,
    and those one on another.
    """
    high = piece.at.z + slab.thickness
    low = max(0.0, piece.at.z if piece.kind == "footing" else high - SKIN)
    if high <= low:
        return
    for s0, u0, s1, u1 in rectangles(slab):
        section = ((u0, low), (u1, low), (u1, high), (u0, high))
        part = Part(piece, End(s0), End(s1))
        line = _Line(0.0, 0.0, 0.0, section, piece.course)
        yield _seen(section, line, (part,), True, piece.at.then(seen))


def rectangles(slab: Slab) -> Iterator[tuple[float, float, float, float]]:
    """s0, u0, s1, u1 of rectangles that make up a plan of quarter turns, holes left out."""
    rings = (slab.outline, *slab.holes)
    cuts = sorted({s for ring in rings for s, _ in ring})
    for s0, s1 in pairwise(cuts):
        middle = (s0 + s1) / 2
        crossed = sorted(
            p[1]
            for ring in rings
            for p, q in pairwise((*ring, ring[0]))
            if (p[0] - middle) * (q[0] - middle) < 0
        )
        if s1 - s0 > SAME:
            yield from ((s0, a, s1, b) for a, b in zip(crossed[::2], crossed[1::2], strict=True))


def plinth(row: Row) -> Row:
    """What a lowest row stands on, from the ground up: an existing base."""
    low, _ = row.height
    us = [u for u, _ in row.section]
    section = rectangle(max(us) - min(us), low, min(us))
    return block_of("base", row.parts[0].piece.wall, row.way, section, (row.start, row.end))


def block_of(
    name: str, wall: str, way: Point, section: tuple[Point, ...], ends: tuple[End, End]
) -> Row:
    """A plain row that is no piece of the job: what stood there before."""
    piece = Piece(f"{wall}/existing/{name}", "footing", wall, 0, 0, _NOTHING, Placement())
    return Row(section, section, way, (Part(piece, *ends),))
