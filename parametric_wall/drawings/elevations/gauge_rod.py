"""The gauge rod of a wall: a staff that stands on the footing, with the top of every course.

Once drawn small with its figures, and once as large as it is, in tiles to cut out and
fix to a lath one over another.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from parametric_wall.drawings.dimension_lines import measured_text
from parametric_wall.drawings.elevations.elevation_notes import level_table, signed
from parametric_wall.drawings.levels import levels
from parametric_wall.drawings.placing.dimensioning import Along, chains
from parametric_wall.drawings.view import Label, Stroke, View, ViewMark
from parametric_wall.geometry import rectangle
from parametric_wall.job.resolve import WallSpec

WIDE = 54.0
"""Of the rod, mm."""
APART = 4.0
"""Between two tiles, mm of paper."""
ABREAST = 3
"""Tiles side by side on a sheet."""
TILE = 200.0
"""The longest tile, mm."""
CLEAR = 7.0
"""A tile ends no nearer to a mark than this, mm."""
HEIGHT = 2.5
CLOSE = 4.5
"""Marks that are nearer to each other than this have one figure above, one below, mm."""
TICK = 10.0
"""Between the ticks at the edge of a tile, mm."""

GROUND = 16.0
"""From the figures over ground to those over the foot, at their right, mm."""
NOTES = (
    "Cut out along the outlines and fix to a lath, edge to edge.",
    "Check every figure with a tape. Figures: over the footing, over ground.",
)

Mark = tuple[float, str, str]
"""Height over the foot of the rod, mm; what it is; its level over ground."""


def gauge_rod(spec: WallSpec, scale: float) -> View:
    """The rod with its figures, y the level over ground, mm."""
    base, top = spec.gauge.base, spec.gauge.finished
    strokes: list[ViewMark] = [
        Stroke("outline", rectangle(WIDE, top - base, 0.0, base), closed=True)
    ]
    strokes += [
        Stroke("blocks", ((0.0, x.over_ground), (WIDE, x.over_ground))) for x in levels(spec)[1:-1]
    ]
    ground = ((-WIDE, 0.0), (2 * WIDE, 0.0))
    strokes.append(Stroke("ground", ground))
    tops = [x.over_ground for x in levels(spec)]
    rows = chains(Along((-WIDE, 0.0), 90.0, 1, scale), [tops, [base, top]]).dimensions
    words = level_table(spec, 2 * WIDE, scale)
    told = f"Gauge rod of {spec.name}: tops of {spec.gauge.courses} courses over the footing."
    name, title = f"gauge-rod-{spec.name}", f"{spec.name}: gauge rod"
    return View(name, title, told, scale, (), (*strokes, *rows, *words))


def sheets(spec: WallSpec) -> int:
    """How many sheets the tiles of a rod take."""
    return -(-(len(_edges(spec)) - 1) // ABREAST)


def rod_tiles(spec: WallSpec, sheet: int, scale: float = 1.0) -> View:
    """The tiles of one sheet, as large as they are.

    Args:
        spec: the wall.
        sheet: from 0.
        scale: 1; no other is of use on site.
    """
    tiles = list(enumerate(pairwise(_edges(spec)), 1))
    shown = tiles[sheet * ABREAST : (sheet + 1) * ABREAST]
    marks: list[ViewMark] = []
    for k, (number, (low, high)) in enumerate(shown):
        x = k * (WIDE + APART)
        marks += _tile(x, low, high, _within(_marks(spec), low, high))
        marks += _ends(x, low, high, number, len(tiles))
    marks += [Label("text", (0.0, -10.0 - 4.5 * k), line, HEIGHT) for k, line in enumerate(NOTES)]
    first, last = shown[0][0], shown[-1][0]
    which = f"tiles {first} to {last}" if first < last else f"tile {first}"
    told = f"The gauge rod of {spec.name} in its full size: {which} of {len(tiles)}."
    title = f"{spec.name}: gauge rod, full size, {which} of {len(tiles)}"
    return View(f"gauge-rod-{spec.name}-{sheet + 1}", title, told, scale, (), tuple(marks))


def _marks(spec: WallSpec) -> tuple[Mark, ...]:
    base = spec.gauge.base
    found = [(x.over_base, x.name, signed(x.over_ground)) for x in levels(spec)]
    if 0.0 < -base < spec.gauge.finished - base:
        found.append((-base, "ground", "0"))
    return tuple(sorted(found))


def _edges(spec: WallSpec) -> list[float]:
    """Where the tiles end, over the foot: clear of the marks."""
    heights = [at for at, _, _ in _marks(spec)]
    whole = spec.gauge.finished - spec.gauge.base
    edges = [0.0]
    while whole - edges[-1] > TILE:
        tried = (edges[-1] + TILE - 5.0 * k for k in range(20))
        clear = (at for at in tried if all(abs(at - mark) >= CLEAR for mark in heights))
        edges.append(next(clear, edges[-1] + TILE))
    return [*edges, whole]


def _within(marks: Sequence[Mark], low: float, high: float) -> tuple[Mark, ...]:
    return tuple(mark for mark in marks if low - 1e-6 <= mark[0] <= high + 1e-6)


def _tile(x: float, low: float, high: float, marks: Sequence[Mark]) -> Iterator[ViewMark]:
    """One tile, its lower edge at 0."""
    yield Stroke("outline", rectangle(WIDE, high - low, x, 0.0), closed=True)
    first = -int(-low // TICK)
    for k in range(first, int(high // TICK) + 1):
        y, long = k * TICK - low, 4.0 if k % 5 == 0 else 2.0
        yield Stroke("dimensions", ((x, y), (x + long, y)))
    for i, (at, name, over_ground) in enumerate(marks):
        y = at - low
        layer = "hidden lines" if name == "ground" else "frame"
        yield Stroke(layer, ((x, y), (x + WIDE, y)))
        crowded = i + 1 < len(marks) and marks[i + 1][0] - at < CLOSE
        under = crowded or (at >= high - CLOSE and y > CLOSE)
        base = y - HEIGHT - 1.0 if under else y + 1.0
        yield Label("text", (x + 5.0, base), name, HEIGHT)
        right = x + WIDE - 2.0
        yield Label("text", (right - GROUND, base), measured_text(at), HEIGHT, "end")
        yield Label("text", (right, base), over_ground, HEIGHT, "end")


def _ends(x: float, low: float, high: float, number: int, count: int) -> Iterator[ViewMark]:
    """What stands over and under a tile: what it joins."""
    above = f"tile {number + 1} from here, {measured_text(high)}" if number < count else "top"
    below = f"tile {number - 1} to here, {measured_text(low)}" if number > 1 else "foot"
    middle = x + WIDE / 2
    yield Label("text", (middle, high - low + 1.5), above, HEIGHT, "middle")
    yield Label("text", (middle, -4.0), below, HEIGHT, "middle")
