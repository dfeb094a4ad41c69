"""What stands around a wall on its page: the ground, existing walls, sizes, a person.

Seen in the axes of the longest run: x along its front face, y to its back, z up from the
ground. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Polygon, unary_union
from shapely.geometry.polygon import orient
from typing_extensions import TypedDict

from parametric_wall.geometry import FULL_TURN_DEG, Placement, Point, Shape, Slab, direction
from parametric_wall.job.model import Abutment
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.setting_out.runs import Run, runs_of

PIT = 180.0
"""mm of ground taken away beside a footing that is shown."""
BED_BELOW = 130.0
"""mm of ground drawn under the lowest piece."""
BESIDE = 560.0
"""mm that a person stands beside everything, existing walls included."""
DIMENSION_OFF = 240.0
"""mm from a face to the line of its size."""
EXISTING_THICK, EXISTING_BEFORE, EXISTING_BEHIND, EXISTING_OVER = 215.0, 60.0, 500.0, 350.0
"""mm: how thick an existing wall is drawn, how far past the new one's faces, how much higher."""


class GroundRecord(TypedDict):
    """The ground: its rectangle, how deep it is drawn, and what is dug out for footings."""

    low: float
    rectangle: list[float]
    pits: list[list[list[float]]]
    pit_low: float


class BoxRecord(TypedDict):
    """An upright box: a corner, its heading, and its sizes along, across and up."""

    at: list[float]
    size: list[float]


class SizeRecord(TypedDict):
    """A size to be drawn: from where to where, and which way its line stands off."""

    name: str
    text: str
    start: list[float]
    end: list[float]
    off: list[float]


def front_of(spec: JobSpec) -> Placement:
    """The axes of the job's longest run, on the site."""
    longest = max(
        ((length, place, wall) for wall in spec.walls for length, place in _runs(wall)),
        key=lambda found: found[0],
    )
    _, place, wall = longest
    return place.then(wall.place)


def _runs(wall: WallSpec) -> Iterator[tuple[float, Placement]]:
    return zip(wall.path.lengths, wall.path.placements(), strict=True)


def seen(front: Placement, at: Placement) -> Placement:
    """A placement on the site, seen from the front's axes."""
    c, s = direction(front.heading_deg)
    x, y = at.x - front.x, at.y - front.y
    turn = (at.heading_deg - front.heading_deg) % FULL_TURN_DEG
    return Placement(c * x + s * y, c * y - s * x, at.z - front.z, turn)


def existing_walls(wall: WallSpec, front: Placement) -> Iterator[BoxRecord]:
    """The walls that an open end meets, as far as they are near: a sketch."""
    first, *_, last = (*runs_of(wall), runs_of(wall)[-1])
    low = _underside(wall)
    wide = EXISTING_BEFORE + wall.thickness + EXISTING_BEHIND
    size = [EXISTING_THICK, wide, wall.gauge.finished + EXISTING_OVER - low]
    ends = ((first, -EXISTING_THICK, wall.path.start), (last, last.length, wall.path.end))
    for run, s, end in ends:
        if isinstance(end, Abutment):
            x, y, _ = run.place.point(s, -EXISTING_BEFORE)
            at = Placement(x, y, low, run.place.heading_deg)
            yield {"at": _place(seen(front, at.then(wall.place))), "size": tenths(size)}


def ground(spec: JobSpec, laid: SettingOut, front: Placement) -> GroundRecord:
    """The ground around every piece, and the pits around the footings."""
    placed = [
        (piece, seen(front, piece.at.then(wall.place)))
        for wall in laid.walls
        for piece in wall.pieces
    ]
    points = [at.point(*p) for piece, at in placed for p in piece.shape.plan()]
    xs, ys = [x for x, _, _ in points], [y for _, y, _ in points]
    dug = [
        _plan(piece.shape, at).buffer(PIT, join_style="mitre")
        for piece, at in placed
        if piece.kind == "footing"
    ]
    lows = [_underside(wall) for wall in spec.walls]
    low = min(0.0, *lows, *(wall.fill.base_level_mm for wall in spec.walls if wall.fill))
    return {
        "low": tenth(low - BED_BELOW),
        "rectangle": tenths((min(xs), min(ys), max(xs), max(ys))),
        "pits": [_rings(pit) for pit in _parts(unary_union(dug))],
        "pit_low": tenth(min(0.0, *lows)),
    }


def _underside(wall: WallSpec) -> float:
    """Level under the footing, or under the first bed where there is none."""
    return wall.gauge.base - (wall.footing.depth_mm if wall.footing else 0.0)


def _plan(shape: Shape, at: Placement) -> Polygon:
    holes = shape.holes if isinstance(shape, Slab) else ()
    rings = [[at.point(*p)[:2] for p in ring] for ring in (shape.plan(), *holes)]
    return Polygon(rings[0], rings[1:])


def _parts(found: object) -> list[Polygon]:
    parts = getattr(found, "geoms", [found])
    return [p for p in parts if isinstance(p, Polygon) and not p.is_empty]


def _rings(polygon: Polygon) -> list[list[float]]:
    """The outline and then the holes, each as x, y, x, y ..."""
    clean = orient(polygon)
    rings = (clean.exterior, *clean.interiors)
    return [[tenth(v) for point in list(ring.coords)[:-1] for v in point] for ring in rings]


def main_sizes(wall: WallSpec, front: Placement) -> Iterator[SizeRecord]:
    """Each run's length along its outer face, and the height at the left end of the longest."""
    runs = runs_of(wall)
    off = DIMENSION_OFF + (max(0.0, wall.coping.front) if wall.coping else 0.0)
    for run in runs:
        yield _size_record(
            wall, front, run, "length", run.length, ((0, 0, 0), (run.length, 0, 0)), (0, -off)
        )
    run = max(runs, key=lambda r: r.length)
    top = wall.gauge.finished
    stands = (-off, 0.0) if run.start in ("stop", "convex") else (0.0, -off)
    upright = ((0, 0, 0), (0, 0, top))
    yield _size_record(wall, front, run, "height", top, upright, stands)


def _size_record(
    wall: WallSpec,
    front: Placement,
    run: Run,
    name: str,
    value: float,
    ends: tuple[tuple[float, float, float], tuple[float, float, float]],
    off: Point,
) -> SizeRecord:
    at = seen(front, run.place.then(wall.place))
    c, s = direction(at.heading_deg)
    start, end = (tenths(at.point(*p)) for p in ends)
    return {
        "name": f"{wall.name} {run.name}: {name}",
        "text": f"{value:.1f}".removesuffix(".0") if name == "length" else f"{value:.0f}",
        "start": start,
        "end": end,
        "off": tenths((c * off[0] - s * off[1], s * off[0] + c * off[1], 0.0)),
    }


def person(around: GroundRecord) -> list[float]:
    """Where somebody stands for scale: to the left of everything, at the back."""
    x, _, _, y = around["rectangle"]
    return tenths((x - BESIDE, y - PIT))


def _place(at: Placement) -> list[float]:
    return tenths((at.x, at.y, at.z, at.heading_deg))


def tenths(values: tuple[float, ...] | list[float]) -> list[float]:
    """Each to a tenth of a mm."""
    return [tenth(v) for v in values]


def tenth(value: float) -> float:
    """To a tenth of a mm; a whole number without its point."""
    shown = round(value, 1) + 0.0
    return int(shown) if shown == int(shown) else shown
