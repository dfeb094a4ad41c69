"""The still picture of a job: an axonometric view of its walls as they will stand.

Painted from the setting-out alone, without a model and without a screen.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from parametric_wall.drawings import surroundings as around
from parametric_wall.drawings.depth import painting_order
from parametric_wall.drawings.faces import Face, coping_shade, faces_of, row_body
from parametric_wall.drawings.overall import Overall, Stroke, Text, dimensions
from parametric_wall.drawings.plane import Box, box_of, inside
from parametric_wall.drawings.projection import DIMETRIC, Projection
from parametric_wall.drawings.rows import Row, plinth, rows_of
from parametric_wall.drawings.told import told
from parametric_wall.drawings.viewpoint import View, view_of
from parametric_wall.geometry import TOLERANCE, Point
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.model import SettingOut, WallSetOut

MARGIN = 5.0
"""mm on paper, free along every edge."""
FITTING = 4
"""Rounds of scaling: dimensions keep their size on paper, so one is not enough."""

SQUARE = 1e-6
"""Degrees: rows turned by less run along an axis of the drawing."""
NARROW = 1.0
"""mm: an overhang of less throws no shadow that can be seen."""

Mark = Face | Stroke | Text


@dataclass(frozen=True, slots=True)
class Still:
    """A still picture, in paper mm, x to the right and y up from the lower left corner.

    Attributes:
        title: what the job is called.
        told: what is to be seen, in words.
        width: paper mm.
        height: paper mm.
        marks: in the order in which they are painted.
        view: from where it is looked at.
        scale: paper mm a mm along an axis that is not shortened.
        shift: where the origin of the drawing's axes is on paper.
    """

    title: str
    told: str
    width: float
    height: float
    marks: tuple[Mark, ...]
    view: View
    scale: float
    shift: Point


@dataclass(frozen=True, slots=True)
class _Stood:
    """One wall in the drawing's axes: its rows, and what it abuts."""

    spec: WallSpec
    rows: tuple[Row, ...]
    existing: tuple[Row, ...]


def still(
    laid: SettingOut,
    spec: JobSpec,
    *,
    width_mm: float = 180.0,
    height_mm: float = 120.0,
    projection: Projection = DIMETRIC,
) -> Still:
    """The still picture of a job.

    Args:
        laid: the job set out.
        spec: the same job resolved.
        width_mm: of the picture.
        height_mm: of the picture.
        projection: how it is drawn, from the front right; mirrored where more is seen so.
    """
    view = view_of(spec, projection)
    stood = [
        _Stood(wall, tuple(_rows(wall, view, placed)), tuple(around.existing_walls(wall, view)))
        for wall, placed in zip(spec.walls, laid.walls, strict=True)
        if placed.pieces
    ]
    overall = _overall(stood, view)
    rough = _rough_scale(stood, view, width_mm)
    faces = [*_laid_on_the_ground(stood, view.projection), *_standing(stood, view, rough)]
    shown = [p for face in faces for p in face.outline]
    scale, shift, sizes = _fitted(shown, overall, view, (width_mm, height_mm))
    marks: list[Mark] = [_scaled(face, scale, shift) for face in faces]
    marks += [_moved(mark, shift) for mark in sizes]
    words = told(spec, view, overall)
    return Still(laid.title, words, width_mm, height_mm, tuple(marks), view, scale, shift)


def _rows(spec: WallSpec, view: View, placed: WallSetOut) -> Iterator[Row]:
    """The rows of a wall, and what its lowest ones stand on where that is over ground."""
    rows = list(rows_of(placed, view.seen(spec.place)))
    yield from rows
    lowest = min((row.height[0] for row in rows), default=0.0)
    if lowest > 0.0:
        yield from (plinth(row) for row in rows if row.height[0] == lowest)


def _overall(stood: Sequence[_Stood], view: View) -> Overall | None:
    """What is dimensioned: all walls together, or the largest where they stand askew."""
    aligned = [s for s in stood if all(_square(row) for row in s.rows) and s.rows]
    if not aligned:
        return None
    if len(aligned) < len(stood):
        aligned = [max(aligned, key=lambda s: sum(s.spec.path.lengths))]
    plan = box_of(p for s in aligned for row in _masonry(s.rows) for p in row.plan())
    thick = max(s.spec.thickness for s in aligned)
    depth = plan[3] - plan[1] > thick + TOLERANCE.cut
    highest = max(s.spec.gauge.finished for s in aligned)
    tall = [s for s in aligned if s.spec.gauge.finished > highest - TOLERANCE.cut]
    corners = [p for s in tall for row in _masonry(s.rows) for p in row.plan()]
    sign = 1.0 if view.right else -1.0
    post = min(corners, key=lambda p: (round(sign * view.projection.paper((*p, 0.0))[0], 3), p))
    return Overall(plan, depth, highest, post)


def _masonry(rows: Iterable[Row]) -> Iterator[Row]:
    """Rows of blocks."""
    return (row for row in rows if any(p.piece.kind == "block" for p in row.parts))


def _square(row: Row) -> bool:
    """Whether a row runs along an axis of the drawing."""
    off = (row.heading_deg + 45.0) % 90.0 - 45.0
    return -SQUARE < off < SQUARE


def _laid_on_the_ground(stood: Sequence[_Stood], projection: Projection) -> Iterator[Face]:
    """The ground, and the shadow of every run on it."""
    rows = [row for s in stood for row in (*s.rows, *s.existing)]
    if rows:
        yield around.ground(box_of(p for row in rows for p in row.plan()), projection)
    runs: dict[tuple[object, ...], list[Row]] = defaultdict(list)
    for row in rows:
        piece = row.parts[0].piece
        run = piece.run or piece.id
        runs[piece.wall, run].append(row)
    for cast in runs.values():
        face = around.shadow(cast, projection)
        if face is not None:
            yield face


def _standing(stood: Sequence[_Stood], view: View, rough: float) -> Iterator[Face]:
    """Everything over ground, the hidden before what hides it."""
    projection = view.projection
    things = [thing for s in stood for thing in _things(s, projection, rough)]
    plans = [box_of(row.plan()) for s in stood for row in (*s.rows, *s.existing)]
    if plans:
        everything = box_of(p for x0, y0, x1, y1 in plans for p in ((x0, y0), (x1, y1)))
        x, y = around.place_of_person(everything, plans, view)
        things.append(around.person_at(x, y, projection))
    for i in painting_order([thing.body for thing in things], projection.towards):
        yield from things[i].faces


def _things(stood: _Stood, projection: Projection, rough: float) -> Iterator[around.Thing]:
    """The rows of a wall with their faces, what it abuts, and what grows in it."""
    copings = [row.plan() for row in stood.rows if row.parts[-1].piece.kind == "coping"]
    lay = stood.spec.coping
    outs = sorted((lay.front, lay.back, lay.coping.overhang_end_mm), reverse=True) if lay else []

    def reach(at: Point, way: Point) -> float:
        tried = (out for out in outs if out > NARROW)
        return next((out for out in tried if _over(copings, at, way, out - NARROW)), 0.0)

    for row in (*stood.rows, *stood.existing):
        faces = tuple(faces_of(row, projection, rough))
        kind, course = row.parts[0].piece.kind, row.parts[0].piece.course
        if copings and course == stood.spec.gauge.courses and kind != "bed":
            faces += tuple(coping_shade(row, projection, reach))
        yield around.Thing(row_body(row, projection), faces)
        if kind == "soil" and abs(row.height[1] - stood.spec.soil_top) < TOLERANCE.cut:
            grown = around.plants(row, max([0.0, *outs]) + around.BESIDE, projection)
            if grown is not None:
                yield grown


def _over(plans: Iterable[tuple[Point, ...]], at: Point, way: Point, out: float) -> bool:
    point = (at[0] + way[0] * out, at[1] + way[1] * out)
    return any(inside(point, plan) for plan in plans)


def _rough_scale(stood: Sequence[_Stood], view: View, width: float) -> float:
    """About the scale it will have, to know what is too fine to be painted."""
    points = [p for s in stood for row in s.rows for p in row_body(row, view.projection).box[::2]]
    return width / (max(points) - min(points)) if points else 1.0


def _fitted(
    shown: Sequence[Point], overall: Overall | None, view: View, size: tuple[float, float]
) -> tuple[float, Point, list[Stroke | Text]]:
    """Scale, shift, and the main sizes at that scale, so that all of it fills the picture."""
    room = (size[0] - 2 * MARGIN, size[1] - 2 * MARGIN)
    x0, y0, x1, y1 = box_of(shown) if shown else (0.0, 0.0, 1.0, 1.0)
    scale = min(room[0] / (x1 - x0), room[1] / (y1 - y0))
    for turn in range(FITTING):
        sizes: list[Stroke | Text] = []
        if overall is not None:
            for strokes, text in dimensions(overall, view.projection, scale, view.right):
                sizes += [*strokes, text]
        points = [(x * scale, y * scale) for x, y in ((x0, y0), (x1, y1))]
        for mark in sizes:
            points += (mark.a, mark.b) if isinstance(mark, Stroke) else mark.corners()
        a, b, c, d = box_of(points)
        if turn < FITTING - 1:
            scale *= min(room[0] / (c - a), room[1] / (d - b))
    return scale, ((size[0] - a - c) / 2, (size[1] - b - d) / 2), sizes


def _scaled(face: Face, scale: float, shift: Point) -> Face:
    dx, dy = shift
    return replace(face, outline=tuple((x * scale + dx, y * scale + dy) for x, y in face.outline))


def _moved(mark: Stroke | Text, shift: Point) -> Stroke | Text:
    dx, dy = shift
    if isinstance(mark, Text):
        return replace(mark, at=(mark.at[0] + dx, mark.at[1] + dy))
    a, b = mark.a, mark.b
    return replace(mark, a=(a[0] + dx, a[1] + dy), b=(b[0] + dx, b[1] + dy))
