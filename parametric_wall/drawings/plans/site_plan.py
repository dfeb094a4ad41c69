"""Plan of the site: every wall of a job in its true place, from the base point.

x goes to the right and y up, as in the job file.
"""

from __future__ import annotations

from collections.abc import Sequence

from parametric_wall.drawings.placing.boxes import Box
from parametric_wall.drawings.placing.clear import clear_label, label_box, segments
from parametric_wall.drawings.plans.wall_plan import (
    Numbered,
    cross,
    faces,
    footing_rings,
    number_labels,
    on_site,
    ring,
)
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Stroke, View, ViewMark
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import SettingOut

BASE_POINT = "base point"
NEAR = 5000.0
"""The base point is drawn where it is no further from the walls than this, mm."""
ASIDE = 30.0
"""From the walls to a base point that is too far off to be in its place, mm of paper."""
ARM = 8.0
"""Length of its axes, mm of paper."""

Words = tuple[str, Point, Point]
"""A text, the point it belongs to, and the point it stands away from."""


def needed(spec: JobSpec) -> bool:
    """Whether the walls' places are not told by a plan of one wall in its own axes."""
    place = spec.walls[0].place
    return len(spec.walls) > 1 or (place.x, place.y, place.heading_deg) != (0.0, 0.0, 0.0)


def site_plan(
    spec: JobSpec,
    laid: SettingOut,
    points: dict[str, tuple[Numbered, ...]],
    name: str,
    scale: float,
) -> View:
    """Footings and outer faces of all walls, numbered points, names and the base point.

    Args:
        spec: the job.
        laid: the same, set out.
        points: the numbered points of every wall, by its name.
        name: of the view.
        scale: mm of the site on 1 mm of paper.
    """
    drawn: list[ViewMark] = []
    for one, wall in zip(spec.walls, laid.walls, strict=True):
        rings = footing_rings(wall)
        local = [Stroke("footing", outline, closed=True) for outline in rings]
        local += faces(one, "hidden lines" if rings else "blocks")
        drawn += [
            Stroke(s.layer, tuple(on_site(wall.place, p) for p in s.points), s.closed)
            for s in local
        ]
    placed = {
        one.name: [(p.number, on_site(one.place, p.at)) for p in points[one.name]]
        for one in spec.walls
    }
    name_of = {p.number: wall for wall, found in points.items() for p in found}
    corners = [at for found in placed.values() for _, at in found]
    drawn += [stroke for at in corners for stroke in cross(at, scale)]
    axes, words = _base(corners, scale)
    drawn += axes
    lines, taken = segments(drawn, scale), list[Box]()
    for found in placed.values():
        drawn += number_labels([(str(n), at) for n, at in found], scale, lines, taken)
        middle = _middle([at for _, at in found])
        words.append((f"wall {name_of[found[0][0]]}", middle, (0.0, 0.0)))
    for text, at, away in words:
        label = clear_label(text, ring(at, away, scale), scale, lines, taken)
        if label is not None:
            taken.append(label_box(label, scale))
            drawn.append(label)
    told = " ".join(
        f"{wall}: " + ", ".join(f"point {n} at {x:.0f}, {y:.0f}" for n, (x, y) in found) + "."
        for wall, found in placed.items()
    )
    return View(name, "Site plan", told, scale, (), tuple(drawn))


def _base(corners: Sequence[Point], scale: float) -> tuple[tuple[Stroke, ...], list[Words]]:
    """The base point with its two axes, and what is written there, at what point, away from what.

    Where it is far off it stands aside, and its words say so.
    """
    (x0, y0), (x1, y1) = _low(corners), _high(corners)
    reach = max(NEAR, x1 - x0, y1 - y0)
    near = x0 - reach <= 0 <= x1 + reach and y0 - reach <= 0 <= y1 + reach
    at = (0.0, 0.0) if near else (x0, y0 - ASIDE * scale)
    arm = ARM * scale
    along, up = (at[0] + arm, at[1]), (at[0], at[1] + arm)
    axes = Stroke("axes", (at, along)), Stroke("axes", (at, up))
    text = f"{BASE_POINT} 0, 0" if near else f"{BASE_POINT} is off this plan"
    beyond = (along[0], up[1])
    return (*axes, *cross(at, scale)), [("x", along, at), ("y", up, at), (text, at, beyond)]


def _low(points: Sequence[Point]) -> Point:
    return min(x for x, _ in points), min(y for _, y in points)


def _high(points: Sequence[Point]) -> Point:
    return max(x for x, _ in points), max(y for _, y in points)


def _middle(points: Sequence[Point]) -> Point:
    (x0, y0), (x1, y1) = _low(points), _high(points)
    return (x0 + x1) / 2, (y0 + y1) / 2
