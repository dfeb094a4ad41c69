"""A section through wall and footing: widths, weights, and the pressure on the ground."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.calculation import Calculation
from parametric_wall.drawings.lettering import shortened
from parametric_wall.drawings.sheet import Area, Line, Mark, Point, Sheet, Text
from parametric_wall.geometry import rectangle
from parametric_wall.job.resolve import WallSpec

WIDTH, HEIGHT = 190.0, 120.0
"""Of the sheet, paper mm."""

ROOM: Point = (70.0, 58.0)
"""What the section may take, paper mm."""

LEFT, FOOT = 52.0, 28.0
"""Middle of the section and underside of the footing, paper mm."""

SCALES = (5, 10, 20, 25, 50, 100, 200, 500)
ARROW = 8.0
"""Length of the arrows of the pressure, paper mm."""


def bearing_sheet(spec: WallSpec, found: Calculation) -> Sheet:
    """The section to the greatest scale that fits, with the figures of the calculation."""
    broad, thick = found.figure("B").value, found.figure("T").value
    tall = thick + spec.gauge.finished - spec.gauge.base
    scale = _scale(_breadth(spec, broad), tall)
    named = f"{found.title}: {found.where}"
    title = f"{named}, section 1:{scale}"
    pressure = found.figure("q").value
    told = (
        f"Section through {found.where}: a wall {spec.thickness:g} thick and "
        f"{spec.gauge.finished:.0f} above ground on a footing {broad:g} wide and {thick:g} thick. "
        f"A metre of wall weighs {found.figure('W').value:.2f} kN; with the footing it presses on "
        f"the ground with {pressure:.1f} kPa."
    )
    marks = (*_section(spec, found, scale), *_pressure(found, scale), *_figures(found))
    head = (
        Text("text", (10.0, HEIGHT - 10.0), shortened(named, 3.0, WIDTH - 20.0), 3.0),
        Text("text", (10.0, HEIGHT - 16.0), f"section 1:{scale}, mm"),
    )
    return Sheet(found.code, title, told, WIDTH, HEIGHT, (*head, *marks))


def _breadth(spec: WallSpec, broad: float) -> float:
    """Of the section: its footing's, or its coping's where that is the broader, mm."""
    if spec.coping is None:
        return broad
    low, high = spec.coping.reach()
    return max(broad, high - low)


def _scale(broad: float, tall: float) -> int:
    fits = (s for s in SCALES if broad / s <= ROOM[0] and tall / s <= ROOM[1])
    return next(fits, SCALES[-1])


def _section(spec: WallSpec, found: Calculation, scale: float) -> Iterator[Mark]:
    """Footing, wall, coping and the ground, from the wall's middle and the footing's underside."""
    broad, thick, t = found.figure("B").value, found.figure("T").value, spec.thickness

    def put(points: tuple[Point, ...], z: float = 0.0) -> tuple[Point, ...]:
        return tuple((LEFT + (u - t / 2) / scale, FOOT + (z + v) / scale) for u, v in points)

    footing = put(rectangle(broad, thick, (t - broad) / 2))
    wall = put(rectangle(t, spec.gauge.masonry, 0.0, thick))
    yield from _filled("concrete", footing)
    yield from _filled("masonry", wall)
    if spec.coping is not None:
        top = thick + spec.gauge.masonry
        yield from _filled("concrete", put(spec.coping.bed_section(spec.gauge.bed), top))
        yield from _filled("masonry", put(spec.coping.section(spec.gauge.bed), top))
    ground = FOOT + (thick - spec.gauge.base) / scale
    half = _breadth(spec, broad) / 2 / scale + 6
    for side in (-1, 1):
        near = LEFT + side * t / 2 / scale
        yield Line("axis", ((near, ground), (LEFT + side * half, ground)))
    yield Text("text", (LEFT + half + 1, ground - 0.9), "ground")
    yield from _dimension(footing[0][0], footing[1][0], 12.0, f"B {broad:g}")
    highest = FOOT + (thick + spec.gauge.finished - spec.gauge.base) / scale
    yield from _dimension(wall[0][0], wall[1][0], highest + 4.0, f"t {t:g}")
    yield from _arrow(LEFT, highest + 18.0, highest + 10.0)
    text = f"W {found.figure('W').value:.2f} kN/m"
    yield Text("text", (LEFT + 3.0, highest + 13.0), text)
    x, low, high = footing[0][0] - 4, footing[0][1], footing[2][1]
    yield Line("axis", ((x, low), (x, high)))
    for y in (low, high):
        yield Line("axis", ((x - 0.8, y - 0.8), (x + 0.8, y + 0.8)))
    yield Text("text", (x - 2.0, (low + high) / 2 - 0.9), f"T {thick:g}", anchor="end")


def _filled(layer: str, outline: tuple[Point, ...]) -> Iterator[Mark]:
    yield Area(layer, outline)
    yield Line("outline", outline, closed=True)


def _dimension(a: float, b: float, y: float, text: str) -> Iterator[Mark]:
    """A level dimension from a to b, its text over the middle."""
    yield Line("axis", ((a, y), (b, y)))
    for x in (a, b):
        yield Line("axis", ((x - 0.8, y - 0.8), (x + 0.8, y + 0.8)))
    yield Text("text", ((a + b) / 2, y + 1.2), text, 2.5, "middle")


def _arrow(x: float, tail: float, head: float) -> Iterator[Mark]:
    """An upright arrow."""
    barb = head - 2.0 if head > tail else head + 2.0
    yield Line("load", ((x, tail), (x, head)))
    yield Line("load", ((x - 0.8, barb), (x, head), (x + 0.8, barb)))


def _pressure(found: Calculation, scale: float) -> Iterator[Mark]:
    """Even arrows under the footing."""
    half = found.figure("B").value / 2 / scale
    foot = FOOT - ARROW
    yield Area("load area", rectangle(2 * half, ARROW, LEFT - half, foot))
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        yield from _arrow(LEFT + half * (2 * share - 1), foot, FOOT)
    text = f"q {found.figure('q').value:.1f} kPa"
    yield Text("text", (LEFT + half + 2, foot + ARROW / 2 - 0.9), text)


def _figures(found: Calculation) -> Iterator[Mark]:
    """The weights and what is held against what, in words, on the right."""
    x, y, step = 102.0, HEIGHT - 22.0, 5.0
    rows = [f"{f.name} {f.value:.2f} {f.unit}" for f in found.steps]
    for use in found.uses:
        rows += ["", f"{use.name}:", f"{use.effect:g} {use.unit} needed, {use.resistance:g} there"]
    for i, row in enumerate(rows):
        yield Text("text", (x, y - i * step), row, 2.2)
