"""What makes a wall worse never makes its verdict better."""

from __future__ import annotations

from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.checks.footing import footing_findings
from parametric_wall.checks.limits import height_findings
from parametric_wall.checks.permission import permission_findings
from parametric_wall.checks.retaining import retaining_findings
from parametric_wall.checks.wind import wind_findings
from parametric_wall.job.model import Job
from parametric_wall.job.resolve import resolve

GRADES = list(Grade)
NO_FINDING = -1

SITES = st.fixed_dictionaries(
    {},
    optional={
        "exposure_zone": st.sampled_from((1, 2, 3, 4)),
        "sheltered": st.booleans(),
        "highway": st.sampled_from(("vehicles", "other", "none")),
        "street_distance_mm": st.sampled_from((0.0, 3000.0, 3657.6, 5000.0)),
        "street_level_mm": st.floats(-2000, 2000),
        "neighbour_distance_mm": st.floats(0, 7000),
        "neighbour_founded_mm": st.floats(0, 1000),
    },
)
GROUNDS = st.fixed_dictionaries(
    {"shrinkable": st.sampled_from(("no", "low", "medium", "high"))},
    optional={"kind": st.sampled_from(("rock", "firm clay", "loose sand", "soft clay or silt"))},
)
UNITS = st.sampled_from(("concrete block", "clay", "calcium silicate"))


@st.composite
def walls(draw: st.DrawFn) -> dict[str, Any]:
    wall: dict[str, Any] = {
        "name": "w",
        "plan": {"shape": "rectangle", "length_mm": 2690.0, "width_mm": 1790.0},
        "height": {"courses": draw(st.integers(2, 14))},
    }
    if draw(st.booleans()):
        wall["fill"] = {"below_coping_mm": 0.0}
    return {
        "title": "verdicts",
        "block": {
            "length_mm": 440.0,
            "width_mm": draw(st.floats(60, 400)),
            "height_mm": 140.0,
        },
        "masonry": {"unit": draw(UNITS)},
        "footing": {"spread_mm": draw(st.floats(0, 300)), "depth_mm": draw(st.floats(100, 1200))},
        "site": draw(SITES),
        "ground": draw(GROUNDS),
        "walls": [wall],
    }


def verdicts(job: dict[str, Any]) -> dict[str, int]:
    """The grade of every code found, the gravest of each."""
    spec = resolve(Job.model_validate(job))
    (wall,) = spec.walls
    found: list[Finding] = [*permission_findings(wall, spec), *footing_findings(wall)]
    return {
        code: max(GRADES.index(f.grade) for f in found if f.code == code)
        for code in {f.code for f in found}
    }


def no_better(worse: dict[str, int], than: dict[str, int], *codes: str) -> None:
    for code in codes:
        assert worse.get(code, NO_FINDING) >= than.get(code, NO_FINDING), code


@settings(deadline=None)
@given(walls(), st.integers(1, 4))
def test_a_taller_wall_is_no_better(job: dict[str, Any], more: int) -> None:
    before = verdicts(job)
    job["walls"][0]["height"]["courses"] += more
    no_better(verdicts(job), before, *before)


@settings(deadline=None)
@given(walls(), st.integers(1, 3))
def test_a_worse_zone_is_no_better(job: dict[str, Any], zone: int) -> None:
    job["site"]["exposure_zone"] = zone
    before = verdicts(job)
    job["site"]["exposure_zone"] = zone + 1
    no_better(verdicts(job), before, *before)


@settings(deadline=None)
@given(walls(), st.floats(1, 800))
def test_a_deeper_trench_is_no_better_for_a_neighbour_or_who_stands_in_it(
    job: dict[str, Any], more: float
) -> None:
    before = verdicts(job)
    job["footing"]["depth_mm"] += more
    no_better(verdicts(job), before, "party-wall-notice", "neighbour-not-given", "deep-trench")


@settings(deadline=None)
@given(walls(), st.floats(0, 39))
def test_a_thicker_wall_is_no_worse_by_the_height_table(job: dict[str, Any], more: float) -> None:
    before = verdicts(job)
    job["block"]["width_mm"] += more
    no_better(before, verdicts(job), "height-table")


GROUND_KINDS = (
    "rock",
    "stiff clay",
    "medium dense sand or gravel",
    "firm clay",
    "loose sand",
    "soft clay or silt",
    "peat or very soft",
)
"""From the best to the worst."""


@st.composite
def banks(draw: st.DrawFn) -> dict[str, Any]:
    """A drained wall with soil behind it, on any footing."""
    courses = draw(st.integers(2, 6))
    return {
        "title": "bank",
        "block": {
            "length_mm": 900.0,
            "width_mm": float(draw(st.sampled_from((100, 140, 215, 300)))),
            "height_mm": 140.0,
        },
        "footing": {"spread_mm": draw(st.floats(0, 600)), "depth_mm": draw(st.floats(100, 1200))},
        "ground": {"kind": draw(st.sampled_from(GROUND_KINDS))},
        "walls": [
            {
                "name": "w",
                "plan": {"shape": "straight", "length_mm": 3590.0},
                "height": {"courses": courses},
                "soil": {
                    "retained_mm": float(draw(st.integers(10, courses * 150 - 60))),
                    "weight_kN_m3": draw(st.floats(14, 22)),
                    "friction_deg": draw(st.floats(18, 40)),
                    "surcharge_kPa": draw(st.floats(0, 10)),
                    "water_mm": 0.0,
                },
            }
        ],
    }


def held_back(job: dict[str, Any]) -> dict[str, int]:
    """The grade of everything that soil makes of a wall."""
    (wall,) = resolve(Job.model_validate(job)).walls
    found = [*retaining_findings(wall), *height_findings(wall, "")]
    return {f.code: GRADES.index(f.grade) for f in found}


@settings(deadline=None)
@given(banks(), st.integers(1, 400))
def test_more_soil_is_no_better(job: dict[str, Any], more: int) -> None:
    before, soil = held_back(job), job["walls"][0]["soil"]
    soil["retained_mm"] += more
    assume(soil["retained_mm"] <= job["walls"][0]["height"]["courses"] * 150 - 50)
    no_better(held_back(job), before, *before)


@settings(deadline=None)
@given(banks(), st.floats(0.1, 30))
def test_more_load_on_the_soil_is_no_better(job: dict[str, Any], more: float) -> None:
    before = held_back(job)
    job["walls"][0]["soil"]["surcharge_kPa"] += more
    no_better(held_back(job), before, *before)


@settings(deadline=None)
@given(banks(), st.integers(0, len(GROUND_KINDS) - 2))
def test_worse_ground_is_no_better(job: dict[str, Any], best: int) -> None:
    verdicts = []
    for kind in GROUND_KINDS[best : best + 2]:
        job["ground"]["kind"] = kind
        verdicts.append(held_back(job))
    no_better(verdicts[1], verdicts[0], *verdicts[0])


@settings(deadline=None)
@given(banks(), st.floats(1, 200))
def test_more_thickness_is_no_worse_for_turning_or_sliding(
    job: dict[str, Any], more: float
) -> None:
    before = held_back(job)
    job["block"]["width_mm"] += more
    no_better(before, held_back(job), "retaining-overturns", "retaining-slides")


WIND_VERDICTS = ("wind-on-bond", "wind-past-limit")
"""From the better to the worse."""


@st.composite
def screens(draw: st.DrawFn) -> dict[str, Any]:
    """A free-standing wall in a wind."""
    return {
        "title": "screen",
        "block": {
            "length_mm": 900.0,
            "width_mm": float(draw(st.integers(90, 300))),
            "height_mm": 140.0,
        },
        "wind": {"peak_pressure_Pa": draw(st.floats(50, 1500))},
        "walls": [
            {
                "name": "w",
                "plan": {"shape": "straight", "length_mm": draw(st.floats(1000, 15000))},
                "height": {"courses": draw(st.integers(1, 8))},
            }
        ],
    }


def in_the_wind(job: dict[str, Any]) -> int:
    spec = resolve(Job.model_validate(job))
    found = [f.code for f in wind_findings(spec.walls[0], spec.job)]
    return max((WIND_VERDICTS.index(code) for code in found), default=NO_FINDING)


@settings(deadline=None)
@given(screens(), st.floats(1, 500))
def test_more_wind_is_no_better(job: dict[str, Any], more: float) -> None:
    before = in_the_wind(job)
    job["wind"]["peak_pressure_Pa"] += more
    assert in_the_wind(job) >= before


@settings(deadline=None)
@given(screens(), st.floats(1, 200))
def test_more_thickness_is_no_worse_in_the_wind(job: dict[str, Any], more: float) -> None:
    before = in_the_wind(job)
    job["block"]["width_mm"] += more
    assert in_the_wind(job) <= before
