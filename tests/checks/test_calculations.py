"""Every calculation of a job: on the screen, in the record and as a plot; what it rests on."""

from __future__ import annotations

import json
import math
import re

import pytest
from jsonschema import Draft202012Validator

from parametric_wall.checks.calculation import Calculation, Use
from parametric_wall.checks.check import calculations, check
from parametric_wall.drawings.plots.plots import PLOTS, sheets
from parametric_wall.drawings.sheet import Text
from parametric_wall.export.finding_records import findings_record
from parametric_wall.export.records import json_bytes
from parametric_wall.export.svg import svg
from parametric_wall.job.read import loads
from parametric_wall.job.resolve import JobSpec
from parametric_wall.pack.schemas import schema
from parametric_wall.pack.screen import check_text
from parametric_wall.setting_out.set_out import set_out

JOB = """
title = "A bank and a wall by the road"
coping = { size = "600x275x60" }
block = { size = "440x215x100" }
[wind]
basic_velocity_m_s = 22
[[walls]]
name = "bank"
plan = { shape = "straight", length_mm = 4490 }
height = { courses = 5 }
soil = { retained_mm = 400 }
[[walls]]
name = "road"
place = { x_mm = 0, y_mm = 5000 }
plan = { shape = "straight", length_mm = 6290 }
height = { courses = 6 }
"""

# A coping 600 wide with its front flush on a wall of 100: its middle lies 200 behind the wall's
# back face, and it would fall off by itself.
FALLS_OFF = """
title = "A broad coping on a thin wall"
block = { length_mm = 440, width_mm = 100, height_mm = 65 }
coping = { length_mm = 600, width_mm = 600, thickness_mm = 100, overhang_front_mm = 0 }
base = { level_mm = 0 }
wind = { peak_pressure_Pa = 500 }
[[walls]]
name = "w"
plan = { shape = "straight", length_mm = 3590 }
height = { courses = 1 }
"""
UNBOUNDED = re.compile(r"\b(Infinity|NaN|inf|nan)\b")


def record(spec: JobSpec) -> str:
    return json_bytes(findings_record(spec, check(spec, set_out(spec)))).decode()


def screen(spec: JobSpec) -> str:
    laid = set_out(spec)
    return check_text(spec, laid, check(spec, laid))


def test_every_wall_has_the_calculations_that_concern_it() -> None:
    codes = [(found.code, found.wall) for found in calculations(loads(JOB))]
    assert codes == [
        ("bearing", "bank"),
        ("retaining-foot", "bank"),
        ("retaining-footing", "bank"),
        ("wind", "bank"),
        ("bearing", "road"),
        ("wind", "road"),
    ]


def test_each_is_on_the_screen_in_the_record_and_a_plot() -> None:
    spec = loads(JOB)
    said, kept = screen(spec), json.loads(record(spec))
    found = calculations(spec)
    assert len(kept["calculations"]) == len(found)
    for one, row in zip(found, kept["calculations"], strict=True):
        assert f"{one.where}: {one.title[0].lower()}{one.title[1:]}" in said
        assert all(use.name in said for use in one.uses)
        assert [use["name"] for use in row["uses"]] == [use.name for use in one.uses]
        (plot,) = sheets(spec, one)
        assert plot.name == f"{one.code}-{one.where}"
    assert {one.code for one in found} == set(PLOTS)


def test_the_screen_shows_of_each_use_the_worst_place_and_its_ratio() -> None:
    """Zone A of a free end has the greatest coefficient of every wall (Table 7.9)."""
    spec = loads(JOB)
    (wind,) = (c for c in calculations(spec) if (c.code, c.wall) == ("wind", "road"))
    rows = screen(spec).split("road: wind on a free-standing wall")[1].splitlines()
    for name in {use.name for use in wind.uses}:
        worst = max(use.ratio for use in wind.uses if use.name == name)
        shown = [row for row in rows if row.startswith(f"  {name}, ")]
        assert len(shown) == 1
        assert "zone A" in shown[0]
        assert f"  {worst:.2f}" in shown[0]


def test_past_its_limit_is_said_in_a_word() -> None:
    states = [Use("", effect, held, "kN", "").state for effect, held in ((1, 2), (2, 2), (3, 2))]
    assert states == ["within", "within", "past"]
    assert Use("", 1.0, 0.0, "kN", "").state == "no resistance"
    assert Use("", 1.0, -2.0, "kN", "").state == "no resistance"


def test_without_resistance_there_is_no_ratio_but_a_word() -> None:
    spec = loads(FALLS_OFF)
    text = record(spec)
    assert not UNBOUNDED.search(text)
    kept = json.loads(text)
    uses = [use for one in kept["calculations"] for use in one["uses"]]
    assert {(use["ratio"], use["state"]) for use in uses} == {(None, "no resistance")}
    assert list(Draft202012Validator(schema("findings")).iter_errors(kept)) == []
    finding = next(f for f in kept["findings"] if f["code"] == "wind-past-limit")
    assert finding["value"] is None
    assert "nothing resists in zone A, B, C, D" in finding["message"]
    assert "no resistance" in screen(spec)
    assert not UNBOUNDED.search(screen(spec))


def test_a_schema_knows_no_other_state() -> None:
    kept = json.loads(record(loads(JOB)))
    kept["calculations"][0]["uses"][0]["state"] = "safe"
    assert list(Draft202012Validator(schema("findings")).iter_errors(kept)) != []


@pytest.mark.parametrize("text", [JOB, FALLS_OFF])
def test_every_plot_can_be_drawn(text: str) -> None:
    spec = loads(text)
    for one in calculations(spec):
        for sheet in sheets(spec, one):
            drawn = svg(sheet).decode()
            assert not UNBOUNDED.search(drawn)
            texts = [mark.text for mark in sheet.marks if isinstance(mark, Text)]
            assert any(one.wall in text for text in (sheet.title, *texts))


def marked(found: tuple[Calculation, ...], symbol: str) -> list[str]:
    return [f.source for c in found for f in (*c.given, *c.steps) if f.symbol == symbol]


@pytest.mark.parametrize(
    "symbol",
    ["fxk1", "gamma_M", "gamma_Q", "gamma_G", "z0", "calt", "γ", "φk", "μ", "γc", "qa", "φd"],
)
def test_what_is_from_memory_says_so(symbol: str) -> None:
    """Strengths, factors, terrain, soil, friction, weights: no standard was open for these."""
    sources = marked(calculations(loads(JOB)), symbol)
    assert sources
    assert all("from memory" in source for source in sources)


def test_what_was_read_does_not_say_that_it_is_from_memory() -> None:
    spec = loads(JOB)
    for symbol in ("rho", "Ka"):  # BS EN 1991-1-4 4.5 and Rankine's table were read.
        assert not any("from memory, confirm" in s for s in marked(calculations(spec), symbol))


def test_on_the_screen_what_rests_on_memory_says_so() -> None:
    said = " ".join(screen(loads(JOB)).split())
    for name in ("sliding, lumped factor", "overturning, EQU", "pressure on firm clay"):
        line = said.rsplit(f"{name}: ", 1)[1].split(". ")[0]
        assert "from memory, confirm" in line


@pytest.mark.parametrize(
    ("zone", "said"), [("", "goes from 775 to 1050 by the zone"), (2, "goes up to 925 in zone 2")]
)
def test_the_height_table_stands_beside_the_wind_and_proves_nothing(
    zone: object, said: str
) -> None:
    """Rows of the public height table for a 200 block; a wall that holds soil back has none."""
    site = f"site = {{ exposure_zone = {zone} }}\n" if zone else ""
    spec = loads(site + JOB)
    bank, road = (c for c in calculations(spec) if c.code == "wind")
    assert bank.beside == ()
    (beside,) = road.beside
    assert said in beside
    assert "neither proves the other" in beside
    assert " ".join(beside.split()) in " ".join(screen(spec).split())
    texts = [m.text for sheet in sheets(spec, road) for m in sheet.marks if isinstance(m, Text)]
    assert beside in texts


def test_a_wall_of_block_weighs_the_same_by_the_wind_and_by_its_footing() -> None:
    """The same blocks on the same base joint: mortar as heavy as blocks is 3 % more at the most."""
    spec = loads(JOB)
    found = {c.code: c for c in calculations(spec) if c.wall == "road"}
    load, weight = found["bearing"].figure("W").value, found["wind"].figure("N").value
    assert math.isclose(load, weight, rel_tol=0.03)


def test_nothing_that_is_shown_calls_a_wall_safe() -> None:
    """Only to say that it is not said, or of the health and safety of who builds."""
    allowed = re.compile(
        r"(do|does) not say that (a|the) wall is safe|health and safety|safety data sheet"
    )
    for text in (JOB, FALLS_OFF):
        spec = loads(text)
        drawn = [svg(sheet).decode() for c in calculations(spec) for sheet in sheets(spec, c)]
        for shown in (screen(spec), record(spec), *drawn):
            assert "safe" not in allowed.sub("", " ".join(shown.split()))
