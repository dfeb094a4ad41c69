"""The footing: width, thickness and depth against the load and the ground; an existing base."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.calculation import Calculation, Figure, Use
from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.geometry import TOLERANCE, signed_area
from parametric_wall.job.parts import Footing
from parametric_wall.job.resolve import WallSpec
from parametric_wall.reference.strip_footings import depth_min, thickness_min, width_min
from parametric_wall.reference.tables import limit, limits, table
from parametric_wall.units import kilonewtons_a_metre, metres, square_metres

WIDTHS, THICKNESS = "Approved Document A, Table 10", "Approved Document A, 2E2(d)"
MEMORY, GIVEN = "from memory, confirm", "job file"


def dug(spec: WallSpec) -> float:
    """How deep the ground is dug for a wall, mm; 0 where nothing is dug."""
    deep = 0.0
    if spec.footing is not None:
        deep = -spec.underside
    if spec.fill is not None:
        deep = max(deep, -spec.fill.base_level_mm)
    return deep


def width(spec: WallSpec, footing: Footing) -> float:
    """Width of a footing: the wall and a spread on either side, mm."""
    return spec.thickness + 2 * footing.spread_mm


def wall_weights(spec: WallSpec) -> tuple[Figure, ...]:
    """What a metre of wall weighs on its footing, by component, kN/m."""
    gauge, t, lay = spec.gauge, spec.thickness, spec.coping
    solid = "section x density"
    blocks = kilonewtons_a_metre(t * gauge.stacked, spec.block.density_kg_m3)
    rows = [
        Figure("", "blocks and perps", blocks, "kN/m", solid),
        _cast("beds", t * gauge.bed * gauge.courses, "mortar_weight"),
    ]
    if lay is not None:
        coping = kilonewtons_a_metre(signed_area(lay.section(gauge.bed)), lay.coping.density_kg_m3)
        bed = signed_area(lay.bed_section(gauge.bed))
        rows += [
            _cast("coping bed", bed, "mortar_weight"),
            Figure("", "coping", coping, "kN/m", solid),
        ]
    return tuple(rows)


def _cast(name: str, section: float, weight: str) -> Figure:
    """What is cast or bedded: its section in mm2, its weight from the table of limits."""
    known = limits()[weight]
    return Figure("", name, square_metres(section) * known.value, "kN/m", known.cited)


def wall_load(spec: WallSpec) -> float:
    """Weight of a metre of wall on its footing, kN/m."""
    return sum(row.value for row in wall_weights(spec))


def footing_findings(spec: WallSpec) -> Iterator[Finding]:
    """Whether the footing is broad, thick and deep enough, or the base asks for a look."""
    if spec.footing is None:
        yield from _base(spec)
    else:
        yield from _thickness(spec, spec.footing)
        yield from _width(spec, spec.footing, spec.ground.kind)
        yield from _depth(spec, spec.ground.shrinkable)
    deep, most = dug(spec), limit("trench_depth")
    if deep > most:
        text = f"dug {deep:.0f} below ground"
        yield Finding("deep-trench", Grade.LOOK, spec.name, text, deep, most, "mm")


def _base(spec: WallSpec) -> Iterator[Finding]:
    yield Finding(
        "existing-base", Grade.KNOW, spec.name, "it stands on a base that is there already"
    )
    tall, most = spec.gauge.finished, limit("wall_on_base")
    if tall > most + TOLERANCE.coincident:
        text = f"{tall:.0f} above ground, on an existing base"
        yield Finding("base-under-high-wall", Grade.LOOK, spec.name, text, tall, most, "mm")


def _thickness(spec: WallSpec, footing: Footing) -> Iterator[Finding]:
    least = thickness_min(footing.spread_mm)
    if footing.depth_mm < least:
        text = f"{footing.depth_mm:.0f} thick for a spread of {footing.spread_mm:.0f}"
        yield Finding("footing-thin", Grade.LOOK, spec.name, text, footing.depth_mm, least, "mm")


def _width(spec: WallSpec, footing: Footing, ground: str | None) -> Iterator[Finding]:
    broad, load = width(spec, footing), wall_load(spec)
    if ground is None:
        low, high = _range(spec, load)
        text = (
            f"by the ground, {load:.1f} kN/m of wall wants a footing {low:.0f} to {high:.0f} wide, "
            f"or a specialist; this one is {broad:.0f}"
        )
        yield Finding("ground-not-given", Grade.KNOW, spec.name, text)
        return
    least = width_min(ground, load, spec.thickness)
    if least is None:
        text = f"{load:.1f} kN/m on {ground}: outside the table of footing widths"
        yield Finding("weak-ground", Grade.LOOK, spec.name, text)
    elif broad < least - TOLERANCE.coincident:
        text = f"{broad:.0f} wide on {ground}, under {load:.1f} kN/m"
        yield Finding("footing-narrow", Grade.LOOK, spec.name, text, broad, least, "mm")


def _range(spec: WallSpec, load: float) -> tuple[float, float]:
    """The least widths on the best and on the worst ground that the table has, mm."""
    grounds = table("footing_widths")["ground"]
    widths = [width_min(ground, load, spec.thickness) for ground in grounds]
    known = [w for w in widths if w is not None]
    return min(known), max(known)


def _depth(spec: WallSpec, shrinkable: str) -> Iterator[Finding]:
    """A shallow footing under a small wall is worth knowing; under a high one, worth a look."""
    deep, least = -spec.underside, depth_min(shrinkable)
    if deep >= least - TOLERANCE.coincident:
        return
    high = spec.gauge.finished > limit("wall_height")
    clay = "" if shrinkable == "no" else f", clay of {shrinkable} shrinkage"
    text = f"its underside is {deep:.0f} below ground{clay}"
    grade = Grade.LOOK if high else Grade.KNOW
    yield Finding("shallow-footing", grade, spec.name, text, deep, least, "mm")


def footing_calculations(spec: WallSpec) -> tuple[Calculation, ...]:
    """What weighs on the ground and how broad and thick the footing has to be for it.

    None on an existing base, of which nothing is known.
    """
    footing = spec.footing
    if footing is None:
        return ()
    rows, ground = wall_weights(spec), spec.ground.kind
    load, broad = sum(row.value for row in rows), width(spec, footing)
    own = _cast("footing", broad * footing.depth_mm, "concrete_weight")
    least = None if ground is None else width_min(ground, load, spec.thickness)
    thick = thickness_min(footing.spread_mm)
    uses = [
        Use("thickness of the footing", thick, footing.depth_mm, "mm", f"{THICKNESS} ({MEMORY})")
    ]
    if least is not None:
        uses.append(Use(f"width on {ground}", least, broad, "mm", f"{WIDTHS} ({MEMORY})"))
    return (
        Calculation(
            "bearing",
            "Weight on the ground",
            spec.name,
            given=(
                Figure("t", "thickness of the wall", spec.thickness, "mm", GIVEN),
                Figure(
                    "B", "width of the footing", broad, "mm", "wall and a spread on either side"
                ),
                Figure("T", "thickness of the footing", footing.depth_mm, "mm", GIVEN),
                Figure("P", "projection from the wall's face", footing.spread_mm, "mm", GIVEN),
                Figure("", "depth of its underside", -spec.underside, "mm", GIVEN),
            ),
            steps=(
                *rows,
                Figure("W", "wall on its footing", load, "kN/m", "added up"),
                own,
                Figure(
                    "q",
                    "pressure on the ground",
                    (load + own.value) / metres(broad),
                    "kPa",
                    "W + footing, over B",
                ),
            ),
            uses=tuple(uses),
            not_counted=(
                "soil that lies on the footing's spread",
                "tilting by wind or by soil, which presses more on one edge",
                "the strength of the ground itself, where its kind is not given",
            ),
            source=f"{WIDTHS} and {THICKNESS} ({MEMORY})",
        ),
    )
