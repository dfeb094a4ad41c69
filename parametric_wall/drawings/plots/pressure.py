"""The pressure on a wall that holds soil back: its section, what pushes, what the base bears."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from parametric_wall.checks.drainage import standing_water
from parametric_wall.checks.earth import Section, Thrust
from parametric_wall.checks.sections import FOOT, code_of, sections
from parametric_wall.checks.stability import ground_pressure
from parametric_wall.drawings.sheet import Anchor, Area, Line, Mark, Point, Sheet, Text
from parametric_wall.job.resolve import WallSpec
from parametric_wall.job.soil import Soil
from parametric_wall.reference.rankine import WATER_WEIGHT
from parametric_wall.units import MM_PER_M

WIDTH, HEIGHT = 120.0, 90.0
TOE, EDGE, BASE, TOP = 20.0, 61.0, 25.0, 67.0
"""Paper: the toe's x, the right end of the section, the base's y, the highest mark of it."""
LANES = (64.5, 83.0, 101.5)
"""Paper: where the diagrams begin; each is LANE wide at the most."""
LANE, DEEP = 14.0, 9.0
SCALES = (5, 10, 20, 25, 50, 100, 200)
SMALL = 2.0


@dataclass(frozen=True, slots=True)
class _Frame:
    """The wall on paper: so many mm to one; x from the toe, z from the base, both in mm."""

    scale: float
    base_level: float
    spread: float

    def at(self, x: float, z: float) -> Point:
        return TOE + x / self.scale, BASE + z / self.scale

    def wall(self, u: float, level: float) -> Point:
        """A point by its distance behind the wall's front face and its level."""
        return self.at(self.spread + u, level - self.base_level)


def pressure_sheets(spec: WallSpec) -> tuple[Sheet, ...]:
    """A sheet for every level at which a wall that holds soil back is looked at."""
    return tuple(pressure_sheet(spec, section) for section in sections(spec))


def pressure_sheet(spec: WallSpec, section: Section) -> Sheet:
    """One section of a wall, to scale, with what pushes on it and what its base bears."""
    frame = _frame(spec, section)
    title = f"{spec.name}: soil held back, at {section.name}"
    marks = (
        *_heading(spec, section, frame),
        *_soil(spec, section, frame),
        *_wall(spec, section, frame),
        *_diagrams(section, frame),
        *_resultant(section, frame),
        *_bearing(section, frame),
    )
    return Sheet(code_of(section), title, _told(section), WIDTH, HEIGHT, marks)


def _frame(spec: WallSpec, section: Section) -> _Frame:
    foot = section.name == FOOT or spec.footing is None
    spread = 0.0 if foot or spec.footing is None else spec.footing.spread_mm
    level = spec.gauge.base if foot else spec.underside
    slope = math.tan(math.radians(section.slope_deg))

    def fits(scale: float) -> bool:
        highest = max(spec.gauge.finished, spec.soil_top + spread * slope)
        return (
            highest - level
        ) / scale <= TOP - BASE and section.base_m * MM_PER_M / scale <= EDGE - TOE - 8

    scale = next((s for s in SCALES if fits(s)), SCALES[-1])
    return _Frame(float(scale), level, spread)


def _heading(spec: WallSpec, section: Section, frame: _Frame) -> Iterator[Mark]:
    soil = spec.soil or Soil()
    assumed = None in (soil.weight_kN_m3, soil.friction_deg, soil.surcharge_kPa)
    yield _text(spec.name, (4.0, 85.0), 2.8)
    yield _text(f"soil held back, at {section.name}, 1:{frame.scale:g}", (4.0, 81.0))
    given = (
        f"soil {section.weight_kN_m3:g} kN/m³, {section.friction_deg:g}°; slope "
        f"{section.slope_deg:g}°; {section.surcharge_kPa:g} kPa on top"
    )
    yield _text(given + (" (assumed in part)" if assumed else ""), (4.0, 77.2))
    e, third = section.eccentricity * MM_PER_M, section.base_m / 6 * MM_PER_M
    found = (
        f"weight {section.vertical:.2f}, push {section.push():.2f} kN/m; "
        f"e {e:.0f} mm, B/6 {third:.0f} mm"
    )
    yield _text(found, (4.0, 73.4))


def _wall(spec: WallSpec, section: Section, frame: _Frame) -> Iterator[Mark]:
    t, gauge = spec.thickness, spec.gauge
    shapes: list[tuple[str, tuple[Point, ...]]] = [
        ("masonry", _box(0.0, t, gauge.base, gauge.masonry_top))
    ]
    if spec.coping is not None:
        lay = spec.coping.section(gauge.bed)
        shapes.append(("masonry", tuple((u, gauge.masonry_top + z) for u, z in lay)))
    if section.name != FOOT:
        footing = _box(-frame.spread, t + frame.spread, spec.underside, gauge.base)
        shapes.append(("concrete", footing))
    for layer, points in shapes:
        outline = tuple(frame.wall(*p) for p in points)
        yield Area(layer, outline)
        yield Line("outline", outline, closed=True)


def _box(left: float, right: float, low: float, high: float) -> tuple[Point, ...]:
    return (left, low), (right, low), (right, high), (left, high)


def _soil(spec: WallSpec, section: Section, frame: _Frame) -> Iterator[Mark]:
    """The ground in front, the soil's top with what stands on it, water, and the plane."""
    slope = math.tan(math.radians(section.slope_deg))
    x0, y0 = frame.wall(spec.thickness, spec.soil_top)

    def top(x: float) -> float:
        return y0 + (x - x0) * slope

    # A steep slope is broken off where the heading begins.
    end = EDGE if top(EDGE) <= TOP else x0 + (TOP - y0) / slope
    yield Line("outline", ((x0, y0), (end, top(end))))
    if frame.base_level <= 0:
        face = frame.wall(0.0, 0.0)
        yield Line("outline", ((4.0, face[1]), face))
        yield _text("ground", (4.0, face[1] + 0.8))
    heel = frame.at(section.base_m * MM_PER_M, 0.0)[0]
    if section.name != FOOT:  # There the wall's back is the plane.
        yield Line("limit", ((heel, frame.wall(0.0, spec.gauge.base)[1]), (heel, top(heel))))
    if section.surcharge_kPa > 0:
        clear = heel
        if spec.coping is not None:
            clear = max(heel, frame.wall(spec.coping.reach()[1], 0.0)[0])
        for i in range(4):
            x = clear + 1.5 + i * (end - clear - 3.0) / 3
            yield from _arrow("load", (x, top(x) + 4.0), (x, top(x) + 0.3))
    water = standing_water(spec)
    if section.water_m > 0 and water is not None:
        y = BASE + section.water_m * MM_PER_M / frame.scale
        yield Line("grid", ((x0, y), (EDGE, y)))
        middle = (heel + EDGE) / 2
        mark = ((middle, y), (middle - 1.2, y + 2.0), (middle + 1.2, y + 2.0))
        yield Line("outline", mark, closed=True)
        yield _text("water", (EDGE - 0.5, y - 2.8), anchor="end")


def _diagrams(section: Section, frame: _Frame) -> Iterator[Mark]:
    """Soil, surcharge, water: level pressure on the plane at the heel, one scale for all."""
    thrusts = section.thrusts()
    groups = {
        "soil": section.soil_pressures,
        "surcharge": ((section.height_m, section.surcharge_pressure),
                      (0.0, section.surcharge_pressure)),
        "water": ((section.water_m, 0.0), (0.0, WATER_WEIGHT * section.water_m)),
    }  # fmt: skip
    most = max(kpa for points in groups.values() for _, kpa in points)
    lanes = iter(LANES)
    for name, points in groups.items():
        pushing = [t for t in thrusts if t.name.split()[0] == name]
        if not pushing:
            continue
        left = next(lanes)
        at = [(left + kpa / most * LANE, BASE + z * MM_PER_M / frame.scale) for z, kpa in points]
        outline = ((left, BASE), (left, at[0][1]), *at)
        yield Area("load area", outline)
        yield Line("curve", outline, closed=True)
        yield from _labels(name, left, points[-1][1], pushing, frame)


def _labels(
    name: str, left: float, kpa: float, pushing: list[Thrust], frame: _Frame
) -> Iterator[Mark]:
    force = sum(t.force for t in pushing)
    arm = sum(t.force * t.arm for t in pushing) / force
    y = BASE + arm * MM_PER_M / frame.scale
    yield from _arrow("axis", (left + LANE, y), (left, y))
    for row, words in enumerate(
        (name, f"{kpa:.2f} kPa", f"{force:.2f} kN/m", f"at {arm * MM_PER_M:.0f} mm")
    ):
        yield _text(words, (left, BASE - 4.0 - 3.6 * row))


def _resultant(section: Section, frame: _Frame) -> Iterator[Mark]:
    """Weight and push together, down to where they meet the base or the ground beside it."""
    x, y = frame.at(section.meets * MM_PER_M, 0.0)
    long = 16.0
    force = math.hypot(section.push(), section.vertical)
    start = (x + long * section.push() / force, y + long * section.vertical / force)
    yield Line("axis", ((4.0, BASE), (EDGE, BASE)))
    if x > 4.0:
        yield from _arrow("curve", start, (x, y))


def _bearing(section: Section, frame: _Frame) -> Iterator[Mark]:
    pressure = ground_pressure(section)
    toe, heel = frame.at(0.0, 0.0)[0], frame.at(section.base_m * MM_PER_M, 0.0)[0]
    if pressure is None:
        yield _text("the resultant leaves the base:", (4.0, BASE - 4.0))
        yield _text("nothing bears", (4.0, BASE - 7.6))
        return
    at_toe, at_heel, bears = pressure
    most = max(at_toe, at_heel)
    left = heel - bears * MM_PER_M / frame.scale if at_toe == 0 else toe
    right = toe + bears * MM_PER_M / frame.scale if at_heel == 0 else heel
    outline = (
        (left, BASE),
        (right, BASE),
        (right, BASE - DEEP * at_heel / most),
        (left, BASE - DEEP * at_toe / most),
    )
    yield Area("load area", outline)
    yield Line("curve", outline, closed=True)
    if at_toe > 0:
        yield _text(f"{at_toe:.1f} kPa", (toe - 1.0, BASE - 4.0), anchor="end")
    if at_heel > 0:
        yield _text(f"{at_heel:.1f} kPa", (heel + 1.0, BASE - 4.0))
    yield _text("pressure under the base", (4.0, BASE - DEEP - 5.0))


def _arrow(layer: str, start: Point, end: Point) -> Iterator[Mark]:
    """A line with a filled head at its end, 1.6 long."""
    (x0, y0), (x1, y1) = start, end
    long = math.hypot(x1 - x0, y1 - y0)
    c, s = (x1 - x0) / long, (y1 - y0) / long
    back = (x1 - 1.6 * c, y1 - 1.6 * s)
    yield Line(layer, (start, back))
    side = (0.6 * s, -0.6 * c)
    yield Area(
        layer, (end, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1]))
    )


def _text(words: str, at: Point, height: float = SMALL, anchor: Anchor = "start") -> Text:
    return Text("text", at, words, height, anchor)


def _told(section: Section) -> str:
    pushes = ", ".join(f"{t.name} {t.force:.2f} kN/m at {t.arm:.2f} m" for t in section.thrusts())
    pressure = ground_pressure(section)
    bears = (
        "the resultant leaves the base"
        if pressure is None
        else f"pressure {pressure[0]:.1f} kPa at the toe, {pressure[1]:.1f} at the heel"
    )
    return (
        f"Push on {section.height_m:.2f} m of soil: {pushes}. Weight {section.vertical:.2f} kN/m, "
        f"{section.eccentricity:.3f} m from the middle of {section.base_m:.3f} m; {bears}."
    )
