"""The still picture of a job: an axonometric view of its walls as they will stand.

Painted from the setting-out alone, without a model and without a screen.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from parametric_wall.drawings.still import surroundings as around
from parametric_wall.drawings.still.depth import painting_order
from parametric_wall.drawings.still.faces import Face, Oval, coping_shade, faces_of, row_body
from parametric_wall.drawings.still.overall import Overall, Stroke, Text, dimensions
from parametric_wall.drawings.still.plane import Box, box_of, inside
from parametric_wall.drawings.still.projection import DIMETRIC, Projection
from parametric_wall.drawings.still.rows import SAME, Row, plinth, rows_of
from parametric_wall.drawings.still.told import told
from parametric_wall.drawings.still.viewpoint import View, view_of
from parametric_wall.geometry import TOLERANCE, Point
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.model import SettingOut, WallSetOut

MARGIN = 5.0
"""mm on paper, free along every edge."""
FITTING = 4
"""Rounds of scaling: dimensions keep their size on paper, so one is not enough."""

NARROW = 1.0
"""mm: an overhang of less throws no shadow that can be seen."""

PAD = 4.0
"""mm on paper: the ground goes on so far past what stands or is written on it."""

Mark = Face | Oval | Stroke | Text


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
        height_mm: of the picture at the most; a low wall needs less.
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
    person = _person(stood, view)
    shadows = list(_shadows(stood, view.projection))
    standing = list(_standing(stood, person, view, rough))
    on_ground = [person.foot, *(p for mark in shadows for p in mark.points())]
    fitted = _fit(on_ground, standing, overall, view, (width_mm, height_mm))
    height = min(height_mm, fitted.high + 2 * MARGIN)
    x, y, _, _ = fitted.box
    shift = ((width_mm - fitted.wide) / 2 - x, (height - fitted.high) / 2 - y)
    marks: list[Mark] = [fitted.ground.placed(1.0, shift)]
    marks += [mark.placed(fitted.scale, shift) for mark in (*shadows, *standing)]
    marks += [mark.moved(shift) for mark in fitted.sizes]
    words = told(spec, view, overall)
    return Still(laid.title, words, width_mm, height, tuple(marks), view, fitted.scale, shift)


def _rows(spec: WallSpec, view: View, placed: WallSetOut) -> Iterator[Row]:
    """The rows of a wall, and what its lowest ones stand on where that is over ground."""
    rows = list(rows_of(placed, view.seen(spec.place)))
    yield from rows
    if spec.gauge.base > 0.0:
        lowest = (row for row in rows if row.parts[0].piece.course == 1)
        yield from (plinth(row) for row in lowest if row.height[0] < spec.gauge.base + SAME)


def _overall(stood: Sequence[_Stood], view: View) -> Overall | None:
    """What is dimensioned: all walls together, and the height of the outermost beside it."""
    corners = [(p, s) for s in stood for row in _masonry(s) for p in row.plan()]
    if not corners:
        return None
    plan = box_of(p for p, _ in corners)
    thick = max(s.spec.thickness for s in stood)
    depth = plan[3] - plan[1] > thick + TOLERANCE.cut
    sign = 1.0 if view.right else -1.0

    def along(corner: tuple[Point, _Stood]) -> tuple[float, Point]:
        point, _ = corner
        return round(sign * view.projection.paper((*point, 0.0))[0], 3), point

    post, outermost = min(corners, key=along)
    height = outermost.spec.gauge.finished
    existing = [p for s in stood for row in s.existing for p in row.plan()]
    around_all = box_of([plan[:2], plan[2:], *existing])
    return Overall(plan, around_all, depth, height, post, _beside(stood, post))


def _beside(stood: Sequence[_Stood], post: Point) -> float:
    """How thick the existing wall is that stands at a corner, mm; 0 where there is none."""
    for row in (row for s in stood for row in s.existing):
        x0, y0, x1, y1 = box_of(row.plan())
        if x0 - NARROW <= post[0] <= x1 + NARROW and y0 - NARROW <= post[1] <= y1 + NARROW:
            return x1 - x0
    return 0.0


def _masonry(stood: _Stood) -> Iterator[Row]:
    """Rows of the courses, movement joints at their ends included."""
    courses = range(1, stood.spec.gauge.courses + 1)
    return (row for row in stood.rows if row.parts[0].piece.course in courses)


def _shadows(stood: Sequence[_Stood], projection: Projection) -> Iterator[Face]:
    """The shadow of every run on the ground."""
    rows = [row for s in stood for row in (*s.rows, *s.existing)]
    runs: dict[tuple[object, ...], list[Row]] = defaultdict(list)
    for row in rows:
        piece = row.parts[0].piece
        run = piece.run or piece.id
        runs[piece.wall, run].append(row)
    for cast in runs.values():
        face = around.shadow(cast, projection)
        if face is not None:
            yield face


def _person(stood: Sequence[_Stood], view: View) -> around.Person:
    """Who stands by for scale, clear of all walls."""
    rows = (row for s in stood for row in (*s.rows, *s.existing))
    plan = [p for row in rows for p in row.plan()] or [(0.0, 0.0)]
    x, y = around.place_of_person(box_of(plan), view)
    return around.person_at(x, y, view.projection)


def _standing(
    stood: Sequence[_Stood], person: around.Person, view: View, rough: float
) -> Iterator[Face | Oval]:
    """Everything over ground, the hidden before what hides it."""
    yield from person.marks  # Behind everything.
    things: list[around.Thing] = []
    settled: list[tuple[int, int]] = []
    for wall in stood:
        first = len(things)
        things += _things(wall, view.projection, rough)
        own = range(first, len(things))
        for grown in _grown(wall, view):
            settled += [(i, len(things)) for i in own]
            things.append(grown)
    bodies = [thing.body for thing in things]
    for i in painting_order(bodies, view.projection.towards, settled):
        yield from things[i].faces


def _grown(stood: _Stood, view: View) -> Iterator[around.Thing]:
    """What grows on the soil."""
    lay = stood.spec.coping
    clear = (max(0.0, lay.back) if lay else 0.0) + around.BESIDE
    for row in stood.rows:
        level = row.height[1]
        if row.parts[0].piece.kind == "soil" and level > stood.spec.soil_top - TOLERANCE.cut:
            grown = around.plants(row, clear, stood.spec.gauge.finished, view)
            if grown is not None:
                yield grown


def _things(stood: _Stood, projection: Projection, rough: float) -> Iterator[around.Thing]:
    """The rows of a wall with their faces, and what it abuts."""
    laid = [row for row in stood.rows if any(p.piece.kind == "coping" for p in row.parts)]
    copings = [row.plan() for row in laid]
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


def _over(plans: Iterable[tuple[Point, ...]], at: Point, way: Point, out: float) -> bool:
    point = (at[0] + way[0] * out, at[1] + way[1] * out)
    return any(inside(point, plan) for plan in plans)


def _rough_scale(stood: Sequence[_Stood], view: View, width: float) -> float:
    """About the scale it will have, to know what is too fine to be painted."""
    points = [p for s in stood for row in s.rows for p in row_body(row, view.projection).box[::2]]
    return width / (max(points) - min(points)) if points else 1.0


@dataclass(frozen=True, slots=True)
class _Fitted:
    """What the scale of the picture gives: all on paper, not yet moved."""

    scale: float
    ground: Face
    sizes: tuple[Stroke | Text, ...]
    box: Box

    @property
    def wide(self) -> float:
        return self.box[2] - self.box[0]

    @property
    def high(self) -> float:
        return self.box[3] - self.box[1]


def _fit(
    on_ground: Sequence[Point],
    standing: Sequence[Face | Oval],
    overall: Overall | None,
    view: View,
    size: tuple[float, float],
) -> _Fitted:
    """The greatest scale at which everything is in the picture, the main sizes included."""
    room = (size[0] - 2 * MARGIN, size[1] - 2 * MARGIN)
    shown = box_of([*on_ground, *(p for mark in standing for p in mark.points())])
    scale = min(room[0] / (shown[2] - shown[0]), room[1] / (shown[3] - shown[1]))
    for _ in range(FITTING):
        fitted = _at_scale(scale, on_ground, shown, overall, view)
        scale *= min(room[0] / fitted.wide, room[1] / fitted.high)
    return _at_scale(scale, on_ground, shown, overall, view)


def _at_scale(
    scale: float, on_ground: Sequence[Point], shown: Box, overall: Overall | None, view: View
) -> _Fitted:
    sizes: list[Stroke | Text] = []
    level = [(x * scale, y * scale) for x, y in on_ground]
    if overall is not None:
        for strokes, text in dimensions(overall, view.projection, scale, view.right):
            sizes += [*strokes, text]
            level += [strokes[0].a, *(text.corners() if strokes[0].a[0] != strokes[0].b[0] else ())]
    ground = around.ground(level, PAD, view.projection)
    points = [(x * scale, y * scale) for x, y in (shown[:2], shown[2:])]
    points += ground.outline
    points += [p for mark in sizes for p in mark.corners()]
    return _Fitted(scale, ground, tuple(sizes), box_of(points))
