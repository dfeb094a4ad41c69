"""What must hold of every wall that holds soil back: more of what pushes never makes it better."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from parametric_wall.checks.earth import Section, Weight
from parametric_wall.checks.sections import FOOT, sections
from parametric_wall.checks.stability import BEARS, OVERTURNS, SLIDES, TILTS, uses
from parametric_wall.job.read import validate
from parametric_wall.job.resolve import WallSpec, resolve

ROUNDING = 1e-9
TURN_AND_SLIDE = (OVERTURNS, SLIDES)


@st.composite
def walls(draw: st.DrawFn, *, water: bool) -> dict[str, Any]:
    """An open wall without copings that holds soil back, as the tables of its job."""
    courses = draw(st.integers(2, 6))
    retained = draw(st.integers(10, courses * 150 - 60))
    soil: dict[str, Any] = {
        "retained_mm": float(retained),
        "weight_kN_m3": draw(st.floats(14, 22)),
        "friction_deg": draw(st.floats(20, 40)),
        "slope_deg": draw(st.floats(0, 10)),
        "surcharge_kPa": draw(st.floats(0, 10)),
        "water_mm": float(draw(st.integers(0, retained + 200))) if water else 0.0,
    }
    return {
        "title": "drawn",
        "block": {
            "length_mm": 900.0,
            "width_mm": float(draw(st.sampled_from((100, 140, 190, 215, 300)))),
            "height_mm": 140.0,
            "density_kg_m3": draw(st.floats(1000, 2400)),
        },
        "footing": {
            "spread_mm": float(draw(st.sampled_from((0, 75, 150, 400, 1000)))),
            "depth_mm": 150.0,
            "below_ground_mm": 50.0,
        },
        "walls": [
            {
                "name": "wall",
                "plan": {"shape": "straight", "length_mm": 3590.0},
                "height": {"courses": courses},
                "soil": soil,
            }
        ],
    }


def wall(table: dict[str, Any], **soil: float) -> WallSpec:
    given_soil = table["walls"][0]["soil"] | soil
    changed = table | {"walls": [table["walls"][0] | {"soil": given_soil}]}
    return resolve(validate(changed)).walls[0]


def ratios(section: Section, codes: tuple[str, ...]) -> list[float]:
    return [use.ratio for code in codes for use in uses(section).get(code, ())]


def no_better(before: WallSpec, after: WallSpec, codes: tuple[str, ...]) -> None:
    for one, other in zip(sections(before), sections(after), strict=True):
        pairs = zip(ratios(one, codes), ratios(other, codes), strict=True)
        assert all(later >= earlier - ROUNDING * abs(earlier) for earlier, later in pairs)


@settings(max_examples=150, deadline=None)
@given(walls(water=True), st.floats(0, 20))
def test_more_load_on_top_never_improves_it(table: dict, more: float) -> None:
    heavier = table["walls"][0]["soil"]["surcharge_kPa"] + more
    no_better(wall(table), wall(table, surcharge_kPa=heavier), (*TURN_AND_SLIDE, TILTS))


@settings(max_examples=150, deadline=None)
@given(walls(water=True), st.floats(0, 5))
def test_a_steeper_slope_never_improves_it(table: dict, more: float) -> None:
    slope = table["walls"][0]["soil"]["slope_deg"] + more
    no_better(wall(table), wall(table, slope_deg=slope), (*TURN_AND_SLIDE, TILTS))


@settings(max_examples=150, deadline=None)
@given(walls(water=True), st.floats(0, 1))
def test_more_water_never_improves_it(table: dict, part: float) -> None:
    soil = table["walls"][0]["soil"]
    deeper = soil["water_mm"] + part * (soil["retained_mm"] + 200 - soil["water_mm"])
    no_better(wall(table), wall(table, water_mm=deeper), (*TURN_AND_SLIDE, TILTS))


@settings(max_examples=150, deadline=None)
@given(walls(water=False), st.floats(0, 1))
def test_less_friction_never_improves_it(table: dict, part: float) -> None:
    friction = table["walls"][0]["soil"]["friction_deg"]
    looser = friction - part * (friction - 16)
    no_better(wall(table), wall(table, friction_deg=looser), (*TURN_AND_SLIDE, TILTS))


@settings(max_examples=150, deadline=None)
@given(walls(water=False), st.integers(0, 500))
def test_more_soil_never_improves_it(table: dict, more: int) -> None:
    """Soil on the heel also weighs: it moves the resultant back, so the middle third of a
    footing is left out here. Standing water is left out as well: what lies on it holds it down."""
    held = table["walls"][0]["soil"]["retained_mm"] + more
    assume(held <= wall(table).gauge.masonry_top)
    before, after = wall(table), wall(table, retained_mm=held)
    no_better(before, after, TURN_AND_SLIDE)
    foot = [next(s for s in sections(w) if s.name == FOOT) for w in (before, after)]
    earlier, later = (ratios(s, (TILTS,)) for s in foot)
    assert later[0] >= earlier[0]


@settings(max_examples=150, deadline=None)
@given(walls(water=True), st.integers(0, 100))
def test_a_resultant_nearer_to_the_toe_never_presses_less(table: dict, more: int) -> None:
    """As long as it is on the toe's side: load on top then only adds to the toe's pressure."""
    table["walls"][0]["soil"]["surcharge_kPa"] = 0.0
    before, after = wall(table), wall(table, surcharge_kPa=more / 10)
    for one, other in zip(sections(before), sections(after), strict=True):
        if one.eccentricity >= 0 and BEARS in uses(one) and BEARS in uses(other):
            assert ratios(other, (BEARS,))[0] >= ratios(one, (BEARS,))[0] - ROUNDING


@settings(max_examples=150, deadline=None)
@given(walls(water=True), st.integers(0, 200))
def test_more_thickness_never_worsens_turning_or_sliding(table: dict, more: int) -> None:
    thicker = table | {"block": table["block"] | {"width_mm": table["block"]["width_mm"] + more}}
    no_better(wall(thicker), wall(table), TURN_AND_SLIDE)


@settings(max_examples=100, deadline=None)
@given(walls(water=True), st.sampled_from((0.1, 2.0, 1000.0)))
def test_a_wall_and_its_model_to_any_scale_have_the_same_factors(table: dict, by: float) -> None:
    """Lengths by k, loads by k: forces by k2, moments by k3, pressures by k, ratios by nothing."""
    for section in sections(wall(table)):
        weights = tuple(Weight(w.name, w.force * by**2, w.arm * by) for w in section.weights)
        scaled = replace(
            section,
            base_m=section.base_m * by,
            weights=weights,
            height_m=section.height_m * by,
            surcharge_kPa=section.surcharge_kPa * by,
            water_m=section.water_m * by,
        )
        assert scaled.push() == pytest.approx(section.push() * by**2)
        assert scaled.overturning() == pytest.approx(section.overturning() * by**3)
        codes = (*TURN_AND_SLIDE, TILTS)
        assert ratios(scaled, codes) == pytest.approx(ratios(section, codes), abs=1e-9)


@settings(max_examples=100, deadline=None)
@given(walls(water=False))
def test_worked_in_newtons_and_millimetres_it_is_the_same(table: dict) -> None:
    """Level soil at the foot, from the job's own mm: 1 kN/m3 is 1e-6 N/mm3, 1 kPa 1e-3 N/mm2."""
    spec = wall(table, slope_deg=0.0)
    soil, t, gauge = spec.soil, spec.thickness, spec.gauge
    assert soil is not None
    foot = next(s for s in sections(spec) if s.name == FOOT)
    sine = math.sin(math.radians(soil.friction))
    ka, held = (1 - sine) / (1 + sine), spec.retained - gauge.base
    heavy, load = soil.weight * 1e-6, soil.surcharge * 1e-3
    push = ka * (heavy * held**2 / 2 + load * held)
    turned = ka * (heavy * held**3 / 6 + load * held**2 / 2)
    weight = spec.block.density_kg_m3 * 9.81e-9 * t * gauge.masonry
    assert foot.push() == pytest.approx(push)  # N/mm is kN/m.
    assert foot.vertical == pytest.approx(weight)
    assert foot.overturning() * 1e3 == pytest.approx(turned)  # N is kNm/m by a thousand.
    assert foot.restoring / foot.overturning() == pytest.approx(weight * t / 2 / turned)
