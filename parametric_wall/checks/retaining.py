"""Whether a wall that holds back soil stands by its own weight, as far as can be computed."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.calculation import Calculation, Use
from parametric_wall.checks.drainage import standing_water
from parametric_wall.checks.earth import Section
from parametric_wall.checks.earth_figures import calculation
from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.checks.sections import FOOT, sections
from parametric_wall.checks.stability import (
    BEARS,
    OVERTURNS,
    SLIDES,
    TILTS,
    ground_pressure,
    height_that_stands,
    thickness_that_stands,
    uses,
    worst,
)
from parametric_wall.job.resolve import WallSpec
from parametric_wall.job.soil import Soil
from parametric_wall.reference.tables import limit


def retaining_calculations(spec: WallSpec) -> tuple[Calculation, ...]:
    """One calculation for every level looked at; none where no soil is held back."""
    return tuple(calculation(spec, section) for section in sections(spec))


def retaining_findings(spec: WallSpec) -> Iterator[Finding]:
    """What a wall's soil does to it; nothing where it holds none back."""
    looked_at = sections(spec)
    if not looked_at:
        return
    yield from _assumed(spec)
    water = standing_water(spec)
    if water is not None and water.assumed:
        text = f"taken to stand at {water.level:.0f} above ground: {water.why}"
        yield Finding("water-held", Grade.LOOK, spec.name, text, water.level, 0.0, "mm")
    for code in (OVERTURNS, SLIDES, TILTS, BEARS):
        failing = [s for s in looked_at if worst(s, code) > 1]
        failing.sort(key=lambda s: worst(s, code), reverse=True)
        if failing:
            yield _failing(spec, code, failing)


def _assumed(spec: WallSpec) -> Iterator[Finding]:
    soil = spec.soil or Soil()
    figures = (
        (soil.weight_kN_m3, f"{soil.weight:g} kN/m3"),
        (soil.friction_deg, f"a friction of {soil.friction:g} degrees"),
        (soil.surcharge_kPa, f"{soil.surcharge:g} kPa on top"),
    )
    if taken := [text for given, text in figures if given is None]:
        text = f"{soil.kind}: {', '.join(taken)}"
        yield Finding("soil-assumed", Grade.KNOW, spec.name, text)


def _failing(spec: WallSpec, code: str, failing: list[Section]) -> Finding:
    """The worst section of one way to fail, with what would stand; the others by name."""
    section, *more = failing
    value, most, unit, text = _said(code, section)
    others = [f"{u.name}: {_used(u)}" for u in uses(section).get(code, ())[1:] if u.ratio > 1]
    others += [f"it fails at {s.name} too" for s in more]
    if code == BEARS and spec.ground.kind is None:
        text += ", which is assumed: what the ground is, is not given"
    text = "; ".join((f"at {section.name} {text}", *others, _advice(spec, code, section)))
    rule = None
    if code == BEARS and section.ground is not None:
        rule = (f"statics; {section.ground.source}", section.ground.standing)
    return Finding(code, Grade.LOOK, spec.name, text, value, most, unit, rule=rule)


def _used(use: Use) -> str:
    """How far something is used up, in words."""
    return "no resistance" if use.state == "no resistance" else f"used to {use.ratio:.0%}"


def _said(code: str, section: Section) -> tuple[float | None, float, str, str]:
    """Value, limit, unit and words of one way to fail; no value where nothing bears any more."""
    if code == BEARS:
        return _pressed(section)
    use = uses(section)[code][0]
    if code == OVERTURNS:
        wanted, least = limit("overturning_factor"), limit("overturning_factor_least")
        factor = section.restoring / section.overturning()
        text = f"the factor on overturning is {factor:.2f} ({wanted:g} wanted, {least:g} the least)"
        return factor, wanted, "", text
    if code == SLIDES:
        wanted, factor = limit("sliding_factor"), section.grip() / section.push()
        rubs = f"with a base friction of {section.base_friction():.2f}"
        text = f"the factor on sliding is {factor:.2f} {rubs} ({wanted:g} wanted)"
        return factor, wanted, "", text
    text = f"the resultant is {use.effect:.0f} from the middle, past {use.resistance:.0f}"
    if use.effect >= section.base_m * 500:
        text = f"the resultant leaves the base, {use.effect:.0f} from its middle"
    return use.effect, round(use.resistance, 1), use.unit, text


def _pressed(section: Section) -> tuple[float | None, float, str, str]:
    """As `_said`, of the ground."""
    assert section.ground is not None
    bears, pressure = section.ground, ground_pressure(section)
    presumed = f"{bears.value:g} kPa is" if bears.value > 0 else "nothing is"
    presumed += f" presumed for {bears.name}"
    if pressure is None:
        text = f"the resultant leaves the base, whatever the ground bears; {presumed}"
        return None, bears.value, bears.unit, text
    most = max(pressure[:2])
    return most, bears.value, bears.unit, f"it presses with {most:.0f} kPa, and {presumed}"


def _advice(spec: WallSpec, code: str, section: Section) -> str:
    """What would stand by the same rules, returns and bond not counted."""

    def at(top: float) -> Section | None:
        return next((s for s in sections(spec, top) if s.name == section.name), None)

    ways = []
    thick = thickness_that_stands(section, code) if section.name == FOOT else None
    if thick is not None:
        ways.append(f"a thickness of {thick:.0f}")
    held = height_that_stands(at, code, spec.soil_top)
    if held is not None:
        ways.append(f"{held:.0f} of soil above ground")
    if not ways:
        return "as a plain gravity wall no height of soil would do"
    return f"as a plain gravity wall {' or '.join(ways)} would do; returns and bond not counted"
