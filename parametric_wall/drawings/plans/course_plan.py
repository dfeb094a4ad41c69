"""Course plans: the courses that differ, side by side, at every corner or of a small wall whole.

Odd and even courses lie the other way round at a corner; a bond of more than two
courses has a plan for each of them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parametric_wall.drawings.placing.beside import (
    MEASURED,
    Mark,
    Side,
    SideText,
    around,
    chain,
    frame_of,
    overall,
)
from parametric_wall.drawings.plans.pieces_plan import (
    corners_of,
    drawn_pieces,
    short_id,
    sides_of,
)
from parametric_wall.drawings.plans.wall_plan import outer, outward_side, small
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Stroke, View, ViewMark
from parametric_wall.geometry import TOLERANCE, direction
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import Piece, WallSetOut

NEAR = 2.6
"""How many blocks of each leg are drawn at a corner."""

PLACE_DIGITS = 3


@dataclass(frozen=True, slots=True)
class CourseGroup:
    """Courses that lie alike.

    Attributes:
        courses: their numbers, from 1, the lowest first.
        pieces: blocks, perps and fillers of the lowest.
    """

    courses: tuple[int, ...]
    pieces: tuple[Piece, ...]

    @property
    def title(self) -> str:
        """Which courses, in words."""
        first, *others = self.courses
        if not others:
            return f"course {first}"
        *most, last = (str(number) for number in others)
        return f"course {first} ({', '.join(most) + ' and ' if most else ''}{last} alike)"


def course_groups(wall: WallSetOut) -> tuple[CourseGroup, ...]:
    """The courses of a wall that differ, from the bottom up."""
    by_course: dict[int, list[Piece]] = defaultdict(list)
    for piece in wall.pieces:
        if piece.kind in ("block", "perp", "filler") and "/cop/" not in piece.id:
            by_course[piece.course].append(piece)
    groups: dict[object, tuple[list[int], tuple[Piece, ...]]] = {}
    for course, pieces in sorted(by_course.items()):
        key = tuple(_where(piece) for piece in pieces if piece.kind == "block")
        groups.setdefault(key, ([], tuple(pieces)))[0].append(course)
    return tuple(CourseGroup(tuple(courses), pieces) for courses, pieces in groups.values())


def _where(piece: Piece) -> tuple[float, ...]:
    at = piece.at
    return tuple(round(v, PLACE_DIGITS) for v in (at.x, at.y, at.heading_deg, piece.length))


def windows(spec: WallSpec) -> tuple[int | None, ...]:
    """What is drawn: None for the whole of a small wall, else the index of every corner's point."""
    if small(spec):
        return (None,)
    last = len(outer(spec))
    return tuple(range(last) if spec.path.closed else range(1, last - 1))


def course_plan(
    spec: WallSpec,
    group: CourseGroup,
    corner: int | None,
    point: int | None,
    name: str,
    scale: float,
) -> View:
    """One course from above.

    Args:
        spec: the wall.
        group: the course, and those like it.
        corner: index of the point whose corner is drawn; None for the whole wall.
        point: number of that point.
        name: of the view.
        scale: mm of the wall on 1 mm of paper.
    """
    seen = _seen(spec, corner)
    pieces = group.pieces if corner is None else tuple(_near(spec, group.pieces, corner))
    symbols, uses = drawn_pieces(pieces)
    breaks = tuple(_breaks(spec, group.pieces, pieces))
    reached = [p for piece in pieces for p in corners_of(piece)]
    frame = frame_of([*reached, *(p for line in breaks for p in line.points)], scale)
    texts: dict[Side, SideText] = defaultdict(SideText)
    sides = sides_of(spec, seen)
    for piece in pieces:
        if piece.cut:
            _write_cut(piece, sides[piece.run], texts)
    drawn: list[ViewMark] = [*uses, *breaks]
    if corner is None:
        for side in MEASURED:
            row = chain(outer(spec), side)
            texts[side].rows[2] += row
            texts[side].rows[3] += overall(row)
    drawn += around(frame, texts)
    title = f"{spec.name}" + ("" if point is None else f", point {point}") + f": {group.title}"
    return View(name, title, _told(pieces), scale, symbols, tuple(drawn))


def _seen(spec: WallSpec, corner: int | None) -> tuple[int, ...]:
    """Indices of the legs drawn."""
    count = len(spec.path.lengths)
    return tuple(range(count)) if corner is None else ((corner - 1) % count, corner)


def _near(spec: WallSpec, pieces: Sequence[Piece], corner: int) -> Iterator[Piece]:
    """The pieces of two legs that begin near the corner between them."""
    before, after = _seen(spec, corner)
    reach = NEAR * (spec.block.longest + spec.joints.perp_mm)
    numbers, lengths = spec.path.numbers, spec.path.lengths
    for piece in pieces:
        low, high = _along(spec, piece)
        from_corner = {numbers[after]: low, numbers[before]: lengths[before] - high}
        if from_corner.get(piece.run, reach) < reach:
            yield piece


def _along(spec: WallSpec, piece: Piece) -> tuple[float, float]:
    """From where to where a piece lies along its leg, mm."""
    place = spec.path.placements()[spec.path.numbers.index(piece.run)]
    c, s = direction(place.heading_deg)
    along = [(x - place.x) * c + (y - place.y) * s for x, y in corners_of(piece)]
    return min(along), max(along)


def _breaks(spec: WallSpec, whole: Sequence[Piece], drawn: Sequence[Piece]) -> Iterator[Stroke]:
    """A line across every leg where it goes on and is not drawn."""
    for i, number in enumerate(spec.path.numbers):
        seen = [_along(spec, piece) for piece in drawn if piece.run == number]
        if not seen:
            continue
        low, high = min(a for a, _ in seen), max(b for _, b in seen)
        spans = [_along(spec, piece) for piece in whole if piece.run == number]
        for at in (
            *([low] if min(a for a, _ in spans) < low - TOLERANCE.cut else []),
            *([high] if max(b for _, b in spans) > high + TOLERANCE.cut else []),
        ):
            yield Stroke("break lines", tuple(_zigzag(spec, i, at)))


def _zigzag(spec: WallSpec, leg: int, at: float) -> Iterator[Point]:
    t, place = spec.thickness, spec.path.placements()[leg]
    for across, aside in (
        (-0.3, 0.0),
        (0.35, 0.0),
        (0.43, 0.2),
        (0.57, -0.2),
        (0.65, 0.0),
        (1.3, 0.0),
    ):
        x, y, _ = place.point(at + aside * t, across * t)
        yield x, y


def _write_cut(piece: Piece, side: Side, texts: dict[Side, SideText]) -> None:
    """A cut block's length, and its name."""
    front_left, front_right, back_right, back_left = corners_of(piece)
    near = (front_left, front_right) if _fronts(piece, side) else (back_left, back_right)
    texts[side].rows[0].append(near)
    middle = (near[0][0] + near[1][0]) / 2, (near[0][1] + near[1][1]) / 2
    texts[side].marks.append(Mark(middle, short_id(piece)))


def _fronts(piece: Piece, side: Side) -> bool:
    return outward_side(piece.at.heading_deg) == side


def _told(pieces: Sequence[Piece]) -> str:
    blocks = [piece for piece in pieces if piece.kind == "block"]
    cut = [f"{short_id(piece)} of {piece.length:.0f} mm" for piece in blocks if piece.cut]
    if not cut:
        return f"{len(blocks)} blocks from above, none cut."
    return f"{len(blocks)} blocks from above, {len(cut)} cut: {', '.join(cut)}."
