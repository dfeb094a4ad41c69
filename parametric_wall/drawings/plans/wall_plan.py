"""What the plans of a wall have in common: its faces, its points, its ends. In the wall's axes, mm.

Points are the corners and ends of the outer face, numbered through the job in the
order of its walls, from the left as one stands at the front.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from parametric_wall.drawings.placing.beside import HEIGHT, Side
from parametric_wall.drawings.placing.boxes import Box, Segment
from parametric_wall.drawings.placing.clear import Spot, clear_label, label_box
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Label, Region, Stroke
from parametric_wall.geometry import Placement, Slab, direction
from parametric_wall.job.model import Abutment
from parametric_wall.job.path import LEFT
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.model import WallSetOut

SMALL = 4000.0
"""A wall no longer and no wider than this is small, mm."""
STUB = 200.0
"""How much of an existing wall is drawn, mm."""
BESIDE_STUB = 250.0
"""How far it is drawn past either face of the new one, mm."""


@dataclass(frozen=True, slots=True)
class Numbered:
    """A point of the outer face.

    Attributes:
        number: through the whole job, from 1.
        at: in the wall's axes, mm.
        what: corner, end, or existing wall.
    """

    number: int
    at: Point
    what: str


@dataclass(frozen=True, slots=True)
class Leg:
    """A straight length of the outer face, undivided.

    Attributes:
        place: its axes in the wall's.
        length: along the outer face, mm.
        start: number of the point it begins at.
        end: number of the point it ends at.
    """

    place: Placement
    length: float
    start: int
    end: int

    def point(self, s: float, u: float = 0.0) -> Point:
        """A point of it in the wall's axes."""
        x, y, _ = self.place.point(s, u)
        return x, y


def outer(spec: WallSpec) -> tuple[Point, ...]:
    """Corners and ends of the outer face; of a closed plan the first is not repeated."""
    points = tuple((p.x, p.y) for p in spec.path.placements())
    return points if spec.path.closed else (*points, spec.path.last_point())


def small(spec: WallSpec) -> bool:
    """Whether a wall is drawn whole where a larger one is drawn in parts."""
    xs, ys = zip(*outer(spec), strict=True)
    reach: float = max(max(xs) - min(xs), max(ys) - min(ys))
    return reach <= SMALL


def inner(spec: WallSpec) -> tuple[Point, ...]:
    """Corners and ends of the inner face, in the same order."""
    path, t = spec.path, spec.thickness
    found = []
    for i, place in enumerate(path.placements()):
        turn = path.turn_before(i)
        x, y, _ = place.point(0.0 if turn is None else t if turn == LEFT else -t, t)
        found.append((x, y))
    if not path.closed:
        x, y, _ = path.placements()[-1].point(path.lengths[-1], t)
        found.append((x, y))
    return tuple(found)


def numbered(spec: JobSpec) -> dict[str, tuple[Numbered, ...]]:
    """The points of every wall by its name."""
    found: dict[str, tuple[Numbered, ...]] = {}
    count = 0
    for wall in spec.walls:
        points = outer(wall)
        words = ["corner"] * len(points)
        if not wall.path.closed:
            ends = (wall.path.start, wall.path.end)
            words[0], words[-1] = (
                "at the existing wall" if isinstance(end, Abutment) else "stop end" for end in ends
            )
        found[wall.name] = tuple(
            Numbered(count + i, at, what)
            for i, (at, what) in enumerate(zip(points, words, strict=True), 1)
        )
        count += len(points)
    return found


def legs(spec: WallSpec, points: tuple[Numbered, ...]) -> tuple[Leg, ...]:
    """The legs of a wall between its points."""
    numbers = [point.number for point in points]
    ends = [*numbers[1:], numbers[0]]
    places = spec.path.placements()
    return tuple(
        Leg(place, length, a, b)
        for place, length, a, b in zip(places, spec.path.lengths, numbers, ends, strict=False)
    )


def on_site(place: Placement, point: Point) -> Point:
    """A point of a wall's axes on the site, mm from the base point."""
    x, y, _ = place.point(*point)
    return x, y


def faces(spec: WallSpec, layer: str) -> tuple[Stroke, ...]:
    """Both faces, and the ends of an open wall."""
    if spec.path.closed:
        return Stroke(layer, outer(spec), closed=True), Stroke(layer, inner(spec), closed=True)
    return (Stroke(layer, (*outer(spec), *reversed(inner(spec))), closed=True),)


def footing_rings(wall: WallSetOut) -> tuple[tuple[Point, ...], ...]:
    """Outline of the footing and its holes; nothing on an existing base."""
    for piece in wall.pieces:
        if piece.kind == "footing":
            assert isinstance(piece.shape, Slab)
            return (piece.shape.outline, *piece.shape.holes)
    return ()


def existing(spec: WallSpec) -> Iterator[Region]:
    """Pieces of the existing walls that it is built against."""
    if spec.path.closed:
        return
    places, t = spec.path.placements(), spec.thickness
    spread = BESIDE_STUB + (spec.footing.spread_mm if spec.footing else 0.0)
    ends = (
        (spec.path.start, places[0], -STUB, 0.0),
        (spec.path.end, places[-1], spec.path.lengths[-1], spec.path.lengths[-1] + STUB),
    )
    for end, place, a, b in ends:
        if isinstance(end, Abutment):
            corners = ((a, -spread), (b, -spread), (b, t + spread), (a, t + spread))
            outline = tuple(place.point(s, u)[:2] for s, u in corners)
            yield Region("existing", outline, "block")


def outward_side(heading_deg: float) -> Side:
    """The side that the front of a leg looks to, whose way is a quarter turn's multiple."""
    sides: dict[int, Side] = {0: "below", 1: "right", 2: "above", 3: "left"}
    return sides[round(heading_deg / 90) % 4]


OPPOSITE: dict[Side, Side] = {"below": "above", "above": "below", "left": "right", "right": "left"}


def ring(at: Point, away: Point, scale: float) -> Iterator[Spot]:
    """Places about a point, near ones first, and those first that lie away from another point."""
    x, y = at[0] - away[0], at[1] - away[1]

    def along(heading: float) -> float:
        c, s = direction(heading)
        return -round(c * x + s * y, 6)

    headings = sorted((45.0 * k for k in range(8)), key=along)
    for reach in (2.2, 3.0, 4.0, 5.5, 7.5, 10.0, 14.0, 20.0, 28.0, 40.0):
        for heading in headings:
            c, s = direction(heading)
            off = reach * scale
            yield Spot((at[0] + c * off, at[1] + s * off - HEIGHT / 2 * scale))


def number_labels(
    points: Iterable[tuple[str, Point]], scale: float, lines: Sequence[Segment], taken: list[Box]
) -> Iterator[Label]:
    """The number of every point beside it; boxes are added to those taken."""
    named = tuple(points)
    middle = _middle([at for _, at in named])
    for text, at in named:
        spots = ring(at, middle, scale)
        label = clear_label(text, spots, scale, lines, taken, layer="setting out")
        if label is not None:
            taken.append(label_box(label, scale))
            yield label


def existing_words(
    stubs: Iterable[Region], scale: float, lines: Sequence[Segment], taken: list[Box]
) -> Iterator[Label]:
    """What the pieces of existing walls are; boxes are added to those taken."""
    for stub in stubs:
        middle = _middle(stub.outline)
        spots = [spot for p in stub.outline for spot in ring(p, middle, scale)]
        spots.sort(key=lambda spot: math.dist(spot.at, middle))
        label = clear_label("existing wall", spots, scale, lines, taken)
        if label is not None:
            taken.append(label_box(label, scale))
            yield label


def _middle(points: Sequence[Point]) -> Point:
    xs, ys = zip(*points, strict=True)
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def cross(at: Point, scale: float) -> tuple[Stroke, Stroke]:
    """A small cross at a point."""
    r = 1.2 * scale
    x, y = at
    return (
        Stroke("setting out", ((x - r, y - r), (x + r, y + r))),
        Stroke("setting out", ((x - r, y + r), (x + r, y - r))),
    )
