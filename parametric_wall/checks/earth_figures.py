"""The calculation of one section of a wall that holds soil back, figure by figure."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.calculation import Calculation, Figure
from parametric_wall.checks.drainage import standing_water
from parametric_wall.checks.earth import PLAIN, Section
from parametric_wall.checks.sections import FOOT, code_of
from parametric_wall.checks.stability import ground_pressure, uses
from parametric_wall.job.resolve import WallSpec
from parametric_wall.job.soil import Soil
from parametric_wall.reference.en1997 import Factors, factors, phi_d
from parametric_wall.reference.tables import cited, limits
from parametric_wall.units import unit_weight

GIVEN = "the job file"
RANKINE = "Rankine; Bowles, Foundation Analysis and Design, 5th edition, chapter 11"
STATICS = "statics"

NOT_COUNTED = (
    "corner returns, and the bond of mortar in tension and shear",
    "passive pressure of the ground in front, and cohesion",
    "the upright part of the push of a sloping soil",
    "soil on the heel above the level at which it meets the wall",
    "the surcharge's own weight on the heel",
    "the hold that the sides of a planter have on each other through corners and footing",
    "relief of the ground by uplift: uplift is counted only where it turns or loosens the wall",
    "frost, roots, compaction behind the wall, and loads put down close to it",
)
UNDER = (
    "a difference between the fill and what lies under it, which is taken to push as the fill does"
)
DRY = "standing water: none is given, and drainage leads to the weep holes"
GROUND = "the ground under the footing, which is taken for the same soil as behind the wall"


def calculation(spec: WallSpec, section: Section) -> Calculation:
    """One section of one wall: given, steps, and how far it is used up."""
    left_out = list(NOT_COUNTED)
    if section.name != FOOT:
        left_out.append(GROUND)
    if spec.fill is not None:
        left_out.append(UNDER)
    if standing_water(spec) is None and not _water_given(spec):
        left_out.append(DRY)
    return Calculation(
        code=code_of(section),
        title=f"Soil held back, at {section.name}",
        where=spec.name,
        given=tuple(_given(spec, section)),
        steps=(*_lumped(section), *_design(section)),
        uses=tuple(use for group in uses(section).values() for use in group),
        not_counted=tuple(left_out),
        source=f"{RANKINE}; BS EN 1997-1, design approach 1, UK annex",
    )


def _water_given(spec: WallSpec) -> bool:
    return spec.soil is not None and spec.soil.water_mm is not None


def _given(spec: WallSpec, section: Section) -> Iterator[Figure]:
    soil = spec.soil or Soil()
    known, people = cited(soil.known.source, soil.known.standing), limits()["foot_traffic"].cited
    for symbol, name, value, unit, given, source in (
        ("γ", "unit weight of the soil", soil.weight, "kN/m3", soil.weight_kN_m3, known),
        ("φk", "angle of shearing resistance", soil.friction, "deg", soil.friction_deg, known),
        ("q", "load on the soil's top", soil.surcharge, "kPa", soil.surcharge_kPa, people),
    ):  # fmt: skip
        assumed = given is None
        yield Figure(symbol, name, value, unit, f"assumed: {source}" if assumed else GIVEN, assumed)
    yield Figure("β", "slope of the soil's top", soil.slope_deg, "deg", GIVEN)
    water = standing_water(spec)
    if section.water_m > 0 and water is not None:
        source = f"assumed: {water.why}" if water.assumed else GIVEN
        yield Figure("hw", "water above the base", section.water_m, "m", source, water.assumed)
    yield Figure("h", "soil above the base, at the heel", section.height_m, "m", GIVEN)
    yield Figure("B", "width of the base", section.base_m, "m", GIVEN)
    heavy = unit_weight(spec.block.density_kg_m3)
    yield Figure("γm", "unit weight of the wall", heavy, "kN/m3", GIVEN)
    if section.bed_friction is not None:
        row = limits()["bed_friction"]
        yield Figure("μ", "friction of the bed", row.value, "", f"assumed: {row.cited}", True)
        return
    row = limits()["concrete_weight"]
    yield Figure("γc", "unit weight of the footing", row.value, row.unit, row.cited)
    if section.ground is not None:
        bears, assumed = section.ground, spec.ground.kind is None
        source = f"assumed: {bears.cited}" if assumed else bears.cited
        name = f"pressure that {bears.name} is presumed to bear"
        yield Figure("qa", name, bears.value, bears.unit, source, assumed)


def _lumped(section: Section) -> Iterator[Figure]:
    """Without partial factors."""
    yield Figure("Ka", "active earth pressure", section.coefficient(), "", RANKINE)
    for thrust in section.thrusts():
        yield Figure("P", f"push of {thrust.name}", thrust.force, "kN/m", RANKINE)
        yield Figure("y", f"height of that push, {thrust.name}", thrust.arm, "m", RANKINE)
    for weight in section.weights:
        yield Figure("W", f"weight of {weight.name}", weight.force, "kN/m", STATICS)
        yield Figure("a", f"from the toe to {weight.name}", weight.arm, "m", STATICS)
    if section.uplift > 0:
        yield Figure("U", "uplift of water under the base", section.uplift, "kN/m", STATICS)
    over = section.restoring / section.overturning()
    yield Figure("N", "all weights", section.vertical, "kN/m", STATICS)
    yield Figure("MR", "restoring moment about the toe", section.restoring, "kNm/m", STATICS)
    yield Figure("Mo", "overturning moment", section.overturning(), "kNm/m", STATICS)
    yield Figure("FSo", "factor on overturning", over, "", STATICS)
    yield Figure("H", "push", section.push(), "kN/m", STATICS)
    yield Figure("tan δ", "base friction used", section.base_friction(), "", _friction(section))
    yield Figure("R", "friction of the base", section.grip(), "kN/m", STATICS)
    yield Figure("FSs", "factor on sliding", section.grip() / section.push(), "", STATICS)
    yield Figure("x", "from the toe to the resultant", section.meets, "m", STATICS)
    yield Figure("e", "from the middle to the resultant", section.eccentricity, "m", STATICS)
    pressure = ground_pressure(section)
    if pressure is not None:
        names = (("q toe", "pressure at the toe"), ("q heel", "pressure at the heel"))
        for (symbol, name), value in zip(names, pressure, strict=False):
            yield Figure(symbol, name, value, "kPa", "statics; no tension")
        yield Figure("b", "width that bears", pressure[2], "m", "statics; no tension")


def _friction(section: Section, by: Factors = PLAIN) -> str:
    if section.bed_friction is not None:
        return limits()["bed_friction"].cited
    if by is PLAIN:
        return "two thirds of the soil's angle, lumped practice"
    return "the soil's design angle, BS EN 1997-1 6.5.3(10) (from memory, confirm)"


def _design(section: Section) -> Iterator[Figure]:
    """By the sets of partial factors, side by side."""
    for key in ("C1", "C2", "EQU"):
        by = factors(key)
        angle = phi_d(section.friction_deg, by.gamma_phi)
        yield Figure("φd", f"design angle, {by.name}", angle, "deg", by.cited)
        yield Figure("Ka", f"active, {by.name}", section.coefficient(by), "", RANKINE)
        if key == "EQU":
            turned, held = section.overturning(by), by.gamma_G_fav * section.restoring
            yield Figure("Mo", f"overturning moment, {by.name}", turned, "kNm/m", by.cited)
            yield Figure("MR", f"restoring moment, {by.name}", held, "kNm/m", by.cited)
            continue
        rubs = section.base_friction(by)
        yield Figure("tan δ", f"base friction, {by.name}", rubs, "", _friction(section, by))
        yield Figure("H", f"push, {by.name}", section.push(by), "kN/m", by.cited)
        yield Figure("R", f"friction of the base, {by.name}", section.grip(by), "kN/m", by.cited)
