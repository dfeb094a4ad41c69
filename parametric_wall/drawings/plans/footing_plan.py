"""Footing plan of a wall: what is dug, what is poured, and where the wall stands on it.

In the wall's own axes, its first leg level, so that it is read as it is measured. The
plan of the site (`site_plan`) has the walls in their true places.
"""

from __future__ import annotations

from collections.abc import Sequence

from parametric_wall.drawings.dimension_lines import measured_text
from parametric_wall.drawings.placing.beside import Side, SideText, around, chain, frame_of, overall
from parametric_wall.drawings.placing.boxes import boxes
from parametric_wall.drawings.placing.clear import segments
from parametric_wall.drawings.placing.table import with_table
from parametric_wall.drawings.plans.wall_plan import (
    Numbered,
    cross,
    existing,
    existing_words,
    faces,
    footing_rings,
    inner,
    number_labels,
    on_site,
    outer,
)
from parametric_wall.drawings.sections.section_line import section_line
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Stroke, View, ViewMark
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import WallSetOut

HEADS = ("point", "x from base point", "y from base point", "")


def footing_plan(
    spec: WallSpec,
    wall: WallSetOut,
    points: tuple[Numbered, ...],
    letter: str,
    name: str,
    scale: float,
) -> View:
    """Footing and faces of a wall with all their sizes.

    Args:
        spec: the wall.
        wall: the same, set out.
        points: its numbered points.
        letter: of its section.
        name: of the view.
        scale: mm of the wall on 1 mm of paper.
    """
    rings = footing_rings(wall)
    stubs = tuple(existing(spec))
    drawn: list[ViewMark] = [Stroke("footing", ring, closed=True) for ring in rings]
    drawn += faces(spec, "hidden lines" if rings else "blocks")
    drawn += stubs
    drawn += [stroke for point in points for stroke in cross(point.at, scale)]
    face_points = (*outer(spec), *inner(spec))
    footed = [point for ring in rings for point in ring]
    corners = [*face_points, *footed]
    cut = section_line(spec, wall, scale)
    drawn += cut.strokes
    reached = [*corners, *cut.room, *(p for stub in stubs for p in stub.outline)]
    frame = frame_of(reached, scale)
    walked = outer(spec) if len(outer(spec)) > 2 else face_points
    drawn += around(
        frame,
        {
            "below": _rows(walked, "below"),
            "right": _rows(walked, "right"),
            "above": _rows(footed, "above"),
            "left": _rows(footed, "left"),
        },
    )
    lines = segments(drawn, scale)
    taken = list(boxes(View("", "", "", scale, (), tuple(drawn))))
    numbers = ((str(point.number), point.at) for point in points)
    drawn += cut.letters(letter, scale, lines, taken)
    drawn += number_labels(numbers, scale, lines, taken)
    drawn += existing_words(stubs, scale, lines, taken)
    rows = [_coordinates(spec, point) for point in points]
    marks = with_table(drawn, (), HEADS, rows, scale)
    return View(name, f"{spec.name}: footing plan", _told(spec), scale, (), marks)


def _coordinates(spec: WallSpec, point: Numbered) -> tuple[str, ...]:
    """Number, x and y from the base point, and what the point is."""
    x, y = on_site(spec.place, point.at)
    return str(point.number), _figure(x), _figure(y), point.what


def _figure(value: float) -> str:
    # Plus nought, so that no figure reads "-0".
    return measured_text(round(value, 1) + 0.0)


def _rows(points: Sequence[Point], side: Side) -> SideText:
    row = chain(points, side)
    return SideText({1: row, 2: overall(row)})


def _told(spec: WallSpec) -> str:
    sizes = ", ".join(f"{length:g}" for length in spec.path.lengths)
    told = f"The wall {spec.name} from above: outer face {sizes} mm, {spec.thickness:g} mm thick"
    if spec.footing is None:
        return f"{told}, on an existing base."
    wide = spec.thickness + 2 * spec.footing.spread_mm
    return (
        f"{told}. Its footing is {wide:g} mm wide and {spec.footing.depth_mm:g} mm deep, "
        f"its top at {spec.gauge.base:+g} mm from the ground."
    )
