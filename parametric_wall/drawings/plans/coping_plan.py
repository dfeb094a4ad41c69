"""Coping plan: every coping with its joints, the cut and mitred ones marked and measured.

The faces of the wall and the drips lie under the copings and are dashed. A mitred
coping has a short and a long edge; both are measured, the short one nearer.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from parametric_wall.drawings.placing.beside import Frame, Mark, Side, SideText, around, frame_of
from parametric_wall.drawings.plans.pieces_plan import (
    corners_of,
    drawn_pieces,
    short_id,
    sides_of,
)
from parametric_wall.drawings.plans.wall_plan import faces, outward_side
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Stroke, View, ViewMark
from parametric_wall.geometry import TOLERANCE, Bar, Placement, direction
from parametric_wall.job.coping import CopingLay
from parametric_wall.job.model import StopEnd
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import Piece, WallSetOut

SHORT, LONG, END, WHOLE = range(4)
"""Rows beside a side, the nearest first."""
PAST_MATCH = 5.0
"""How far a match line reaches past the wall, mm of paper."""
JUST = 1e-6
"""Two places nearer than this are one, mm."""

Window = tuple[float, float]
"""A stretch of a leg, mm along it."""


def edges(piece: Piece) -> tuple[float, float]:
    """Lengths of a coping along its front and its back edge, mm."""
    front_left, front_right, back_right, back_left = corners_of(piece)
    return math.dist(front_left, front_right), math.dist(back_left, back_right)


def coping_pieces_of(wall: WallSetOut) -> tuple[Piece, ...]:
    """Copings and the joints between them."""
    return tuple(
        piece
        for piece in wall.pieces
        if piece.kind in ("coping", "coping joint")
        or (piece.kind == "filler" and "/cop/j" in piece.id)
    )


def coping_plan(spec: WallSpec, wall: WallSetOut, name: str, scale: float) -> View:
    """The copings of a wall from above.

    Args:
        spec: the wall, with a coping.
        wall: the same, set out, with copings that fit.
        name: of the view.
        scale: mm of the wall on 1 mm of paper.
    """
    pieces = coping_pieces_of(wall)
    sides = sides_of(spec, range(len(spec.path.lengths)))
    drawn = [*faces(spec, "hidden lines")]
    return _view(spec, wall, pieces, drawn, sides, (name, f"{spec.name}: coping plan"), scale)


def leg_plan(
    spec: WallSpec,
    wall: WallSetOut,
    number: int,
    name: str,
    scale: float,
    window: Window | None = None,
) -> View:
    """The copings of one leg from above, the leg level and its front below; see `coping_plan`.

    Args:
        spec: the wall.
        wall: the same, set out.
        number: of the leg.
        name: of the view.
        scale: mm of the wall on 1 mm of paper.
        window: the stretch shown, mm along the leg; all of it where None.
    """
    place = spec.path.placements()[spec.path.numbers.index(number)]
    pieces = [level_on(place, p) for p in coping_pieces_of(wall) if p.run == number]
    low, high = window or (-math.inf, math.inf)
    pieces = [p for p in pieces if low - JUST <= _from(p) < high - JUST]
    a, b = max(0.0, low), min(spec.path.lengths[spec.path.numbers.index(number)], high)
    t = spec.thickness
    drawn = [Stroke("hidden lines", ((a, u), (b, u))) for u in (0.0, t)]
    beside = PAST_MATCH * scale
    drawn += [
        Stroke("match line", ((x, -beside), (x, t + beside)))
        for x in (low, high)
        if math.isfinite(x)
    ]
    titled = name, f"{spec.name}, run {number}: coping plan"
    return _view(spec, wall, pieces, drawn, {number: "below"}, titled, scale)


def divided(
    spec: WallSpec, wall: WallSetOut, number: int, name: str, scale: float, count: int
) -> tuple[View, ...]:
    """The copings of a leg in so many parts, from joint to joint."""
    place = spec.path.placements()[spec.path.numbers.index(number)]
    copings = [p for p in coping_pieces_of(wall) if p.kind == "coping" and p.run == number]
    starts = sorted(_from(level_on(place, piece)) for piece in copings)[1:]
    length = spec.path.lengths[spec.path.numbers.index(number)]
    wanted = (length * k / count for k in range(1, count))
    joints = sorted({min(starts, key=lambda at: abs(at - want)) for want in wanted})
    edges = (-math.inf, *joints, math.inf)
    return tuple(
        leg_plan(spec, wall, number, f"{name}-{k}", scale, window)
        for k, window in enumerate(pairwise(edges), 1)
    )


def _view(
    spec: WallSpec,
    wall: WallSetOut,
    pieces: Sequence[Piece],
    under: Sequence[Stroke],
    sides: dict[int, Side],
    titled: tuple[str, str],
    scale: float,
) -> View:
    copings = [piece for piece in pieces if piece.kind == "coping"]
    symbols, uses = drawn_pieces(pieces)
    frame = frame_of([p for piece in pieces for p in corners_of(piece)], scale)
    texts: dict[Side, SideText] = defaultdict(SideText)
    for piece in copings:
        if piece.cut:
            _write_cut(piece, sides[piece.run], texts)
    _write_ends(spec, wall, copings, sides, texts)
    _write_whole(frame, set(sides.values()), texts)
    assert spec.coping is not None
    drawn: list[ViewMark] = [*uses, *under]
    drawn += [Stroke("hidden lines", line) for p in copings for line in _drips(spec.coping, p)]
    drawn += around(frame, texts)
    name, title = titled
    return View(name, title, _told(copings), scale, symbols, tuple(drawn))


def level_on(place: Placement, piece: Piece) -> Piece:
    """A piece in the axes of its leg."""
    c, s = direction(place.heading_deg)
    x, y = piece.at.x - place.x, piece.at.y - place.y
    turn = (piece.at.heading_deg - place.heading_deg) % 360
    return replace(piece, at=Placement(x * c + y * s, y * c - x * s, piece.at.z, turn))


def _from(piece: Piece) -> float:
    """Where a piece of a level leg begins."""
    return min(x for x, _ in corners_of(piece))


def _write_cut(piece: Piece, side: Side, texts: dict[Side, SideText]) -> None:
    """A cut coping's edges and its name."""
    front_left, front_right, back_right, back_left = corners_of(piece)
    front, back = (front_left, front_right), (back_left, back_right)
    near = front if outward_side(piece.at.heading_deg) == side else back
    texts[side].marks.append(Mark(_middle(*near), short_id(piece)))
    short, long = sorted((front, back), key=lambda edge: math.dist(*edge))
    if math.dist(*long) - math.dist(*short) > TOLERANCE.coincident:
        texts[side].rows[SHORT].append(short)
        texts[side].rows[LONG].append(long)
    else:
        texts[side].rows[SHORT].append(near)


def _write_ends(
    spec: WallSpec,
    wall: WallSetOut,
    copings: Sequence[Piece],
    sides: dict[int, Side],
    texts: dict[Side, SideText],
) -> None:
    """How far the copings reach past the stop ends of an open wall."""
    assert spec.coping is not None
    past = spec.coping.coping.overhang_end_mm
    last = len(wall.coped[-1].lengths)
    ends = (
        (f"{spec.name}/{wall.coped[0].run.name}/cop/01", spec.path.start, 0, past),
        (f"{spec.name}/{wall.coped[-1].run.name}/cop/{last:02d}", spec.path.end, 1, -past),
    )
    for piece in copings:
        for id_, kind, corner, inward in ends:
            if piece.id == id_ and isinstance(kind, StopEnd) and past > 0 and not spec.path.closed:
                x, y = corners_of(piece)[corner]
                c, s = direction(piece.at.heading_deg)
                edge = (x, y), (x + inward * c, y + inward * s)
                texts[sides[piece.run]].rows[END].append(edge)


def _write_whole(frame: Frame, written_on: set[Side], texts: dict[Side, SideText]) -> None:
    """The copings over all, along and across the plan where there are legs both ways."""
    low, right, high = (frame.x0, frame.y0), (frame.x1, frame.y0), (frame.x1, frame.y1)
    if written_on & {"below", "above"}:
        texts["below"].rows[WHOLE].append((low, right))
    if written_on & {"left", "right"}:
        texts["right"].rows[WHOLE].append((right, high))


def _drips(lay: CopingLay, piece: Piece) -> Iterator[tuple[Point, Point]]:
    """Both edges of every drip, from end to end of a coping."""
    drip, shape = lay.coping.drip, piece.shape
    if drip is None:
        return
    assert isinstance(shape, Bar)
    level = 1 / math.hypot(1, lay.tilt)
    for groove in lay.grooves():
        for along in (groove, groove + drip.width_mm):
            u = -lay.front + along * level
            a, b = shape.start.at + shape.start.per_u * u, shape.end.at + shape.end.per_u * u
            yield piece.at.point(a, u)[:2], piece.at.point(b, u)[:2]


def _middle(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _told(copings: Sequence[Piece]) -> str:
    told = [f"{len(copings)} copings from above."]
    for piece in copings:
        if piece.cut:
            front, back = edges(piece)
            sizes = f"{front:.0f} mm"
            if abs(front - back) > TOLERANCE.coincident:
                sizes = f"front edge {front:.0f} mm, back edge {back:.0f} mm"
            told.append(f"{short_id(piece)}: {sizes}.")
    return " ".join(told)
