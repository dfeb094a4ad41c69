"""Coping plan: every coping with its joints, the cut and mitred ones marked and measured.

The faces of the wall and the drips lie under the copings and are dashed. A mitred
coping has a short and a long edge; both are measured, the short one nearer.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

from parametric_wall.drawings.beside import Frame, Mark, Side, frame_of
from parametric_wall.drawings.pieces_plan import (
    SideText,
    corners_of,
    drawn_pieces,
    short_id,
    sides_of,
    written,
)
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Stroke, View, ViewMark
from parametric_wall.drawings.wall_plan import faces, outward_side
from parametric_wall.geometry import TOLERANCE, Bar
from parametric_wall.job.coping import CopingLay
from parametric_wall.job.model import StopEnd
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import Piece, WallSetOut

SHORT, LONG, END, WHOLE = range(4)
"""Rows beside a side, the nearest first."""


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
    copings = [piece for piece in pieces if piece.kind == "coping"]
    symbols, uses = drawn_pieces(pieces)
    frame = frame_of([p for piece in pieces for p in corners_of(piece)], scale)
    sides = sides_of(spec, range(len(spec.path.lengths)))
    texts: dict[Side, SideText] = defaultdict(SideText)
    for piece in copings:
        if piece.cut:
            _write_cut(piece, sides[piece.run], texts)
    _write_ends(spec, copings, sides, texts)
    _write_whole(frame, texts)
    assert spec.coping is not None
    drawn: list[ViewMark] = [*uses, *faces(spec, "hidden lines")]
    drawn += [Stroke("hidden lines", line) for p in copings for line in _drips(spec.coping, p)]
    drawn += written(frame, texts)
    return View(name, f"Coping plan of {spec.name}", _told(copings), scale, symbols, tuple(drawn))


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
    spec: WallSpec, copings: Sequence[Piece], sides: dict[int, Side], texts: dict[Side, SideText]
) -> None:
    """How far the copings reach past the stop ends of an open wall."""
    path = spec.path
    if path.closed:
        return
    first, last = path.placements()[0], path.placements()[-1]
    if isinstance(path.start, StopEnd):
        edge = corners_of(copings[0])[0], first.point(0.0, 0.0)[:2]
        _write_end(edge, sides[path.numbers[0]], texts)
    if isinstance(path.end, StopEnd):
        edge = corners_of(copings[-1])[1], last.point(path.lengths[-1], 0.0)[:2]
        _write_end(edge, sides[path.numbers[-1]], texts)


def _write_end(edge: tuple[Point, Point], side: Side, texts: dict[Side, SideText]) -> None:
    (a, _), (b, _) = edge
    reach = abs(a - b) if side in ("below", "above") else abs(edge[0][1] - edge[1][1])
    if reach > TOLERANCE.cut:
        texts[side].rows[END].append(edge)


def _write_whole(frame: Frame, texts: dict[Side, SideText]) -> None:
    """The copings over all."""
    low, right, high = (frame.x0, frame.y0), (frame.x1, frame.y0), (frame.x1, frame.y1)
    texts["below"].rows[WHOLE].append((low, right))
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
