"""Sections against levels and sizes worked out by hand.

A flat coping bedded to a fall of tangent f leans by atan f about its low lower arris:
plain trigonometry. Hatches for concrete, earth and gravel are common practice in building
drawings; lines at 45 degrees stand for any cut (ISO 128-3).
"""

import math

import pytest
from helpers_plans import drawn, example, has, job, length, of_kind, rows, texts
from hypothesis import HealthCheck, given, settings
from strategies import jobs, laid_out

from parametric_wall.drawings.sections.section import section
from parametric_wall.drawings.view import Dimension, Region, Stroke

PLANTER_TOP = (
    400 + 10 - 50 * 0.025 + 240 * math.sin(math.atan(0.025)) + 50 * math.cos(math.atan(0.025))
)
"""Three courses of 150 from 50 below ground; a bed of 10 at the front face; 240 x 50 leaning 6 in
240 about an arris 50 before the face."""


def regions(view, layer):
    return [m for m in view.marks if isinstance(m, Region) and m.layer == layer]


def box(region):
    xs, ys = zip(*region.outline, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


@pytest.fixture(scope="module")
def planter():
    return of_kind(drawn(*example("herb-planter"), 10.0), "section")[0]


def test_the_planters_heights(planter) -> None:
    """Footing 150 under -50; courses 150; from the ground and in all."""
    heights = rows(planter, 90.0)
    top = pytest.approx(PLANTER_TOP, abs=1e-5)
    assert heights[0][:4] == [150, 150, 150, 150]
    assert sum(heights[0]) == pytest.approx(200 + PLANTER_TOP, abs=1e-5)
    assert [50, top] in heights
    assert [200] in heights
    assert [pytest.approx(200 + PLANTER_TOP, abs=1e-5)] in heights


def test_the_planters_widths(planter) -> None:
    """Projection 105 either side of 140; overhangs 50 and the rest of 240 leaning."""
    widths = rows(planter, 0.0)
    assert [105, 140, 105] in widths
    assert [350] in widths
    back = 240 * math.cos(math.atan(0.025)) - 140 - 50
    assert [50, 140, pytest.approx(back, abs=1e-5)] in widths


def test_the_planters_layers(planter) -> None:
    """100 of gravel from the ground up; soil to 60 under the coping's underside at the back."""
    under = 400 + 10 + 140 * 0.025
    wanted = [100, pytest.approx(under - 60 - 100, abs=1e-5), 60]
    assert wanted in rows(planter, 90.0)
    (gravel,) = regions(planter, "drainage")
    assert gravel.hatch == "gravel"
    assert box(gravel)[1::2] == (0, 100)
    said = " ".join(texts(planter))
    for word in ("soil", "gravel", "membrane", "open perp", "footing 350 x 150", "6 in 240 (1:40)"):
        assert word in said


def test_what_is_cut_has_its_hatch(planter) -> None:
    (footing,) = regions(planter, "footing")
    assert footing.hatch == "concrete"
    assert box(footing) == (-105, -200, 245, -50)
    assert [box(b) for b in regions(planter, "blocks")] == [
        (0, -40, 140, 100),
        (0, 110, 140, 250),
        (0, 260, 140, 400),
    ]
    assert all(b.hatch == "block" for b in regions(planter, "blocks"))
    assert {g.hatch for g in regions(planter, "ground")} == {"earth"}


def test_a_flat_coping_is_as_thick_at_the_back_as_in_front(planter) -> None:
    leaning = [d for d in planter.marks if isinstance(d, Dimension) and d.turn_deg % 90]
    assert [length(d) for d in leaning] == pytest.approx([50, 50])


def test_a_weathered_coping_is_thinner_where_the_water_runs() -> None:
    """60 thick, falling 10 in its width of 275 to the front."""
    (view,) = of_kind(drawn(*example("terrace-nook"), 10.0), "section")
    assert has(view, 50, 90.0)
    assert has(view, 60, 90.0)
    assert has(view, 67.5, 0.0)
    assert "fall 10 in 275 (1:27.5) to the front" in texts(view)


def test_a_fall_in_degrees_is_told_as_one_in_so_much() -> None:
    """1 / tan 1.5 degrees is 38.2."""
    (view,) = of_kind(drawn(*example("between-garages"), 10.0), "section")
    assert "fall 1.5° (1:38.2) to the back" in texts(view)


def test_courses_of_two_heights_keep_their_order() -> None:
    """140 and 65 in turn, each on a bed of 10, the first 60 below ground."""
    (view,) = of_kind(drawn(*example("pond-bands"), 10.0), "section")
    assert rows(view, 90.0)[0][:6] == [150, 150, 75, 150, 75, 150]
    assert [60, pytest.approx(604.7, abs=0.05)] in rows(view, 90.0)


def test_the_damp_proof_course_lies_in_the_bed_under_its_course() -> None:
    """Under the second course: its bed is 75 to 85 over ground, the first being 75 below."""
    (view,) = of_kind(drawn(*example("orchard-wall"), 10.0), "section")
    (line,) = [m for m in view.marks if isinstance(m, Stroke) and m.layer == "damp course"]
    assert {z for _, z in line.points} == {80}
    assert "damp-proof course" in texts(view)


def test_a_wall_on_a_base_has_no_footing() -> None:
    (view,) = of_kind(drawn(*example("corner-seat"), 10.0), "section")
    assert "existing base" in texts(view)
    assert not any("footing" in text for text in texts(view))
    assert rows(view, 0.0)[0] == [100]


def test_the_fill_goes_over_the_spread_where_it_begins_below() -> None:
    """From 120 below ground, over a footing whose top is 50 below: two corners more."""
    wall = {
        "name": "wall",
        "plan": {"shape": "rectangle", "length_mm": 2000, "width_mm": 1500},
        "height": {"courses": 3},
        "fill": {"base_level_mm": -120, "drainage_mm": 100, "below_coping_mm": 20},
    }
    (view,) = of_kind(drawn(*job(wall), 10.0), "section")
    (gravel,) = regions(view, "drainage")
    inner = {point for point in gravel.outline if point[0] <= 240}
    assert inner == {(140, -20), (140, -50), (240, -50), (240, -120)}


@settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))
@given(jobs())
def test_the_courses_add_up_to_the_whole(table) -> None:
    spec, _ = laid_out(table)
    (wall,) = spec.walls
    heights = rows(section(wall, "A", "section", 10.0), 90.0)
    gauge, under = wall.gauge, wall.footing.depth_mm
    whole = gauge.finished - gauge.base + under
    assert sum(heights[0]) == pytest.approx(whole, abs=1e-4)
    assert heights[0][0] == under
    assert any(row == [pytest.approx(whole, abs=1e-4)] for row in heights)
    blocks = heights[0][1 : 1 + gauge.courses]
    assert blocks == pytest.approx([10 + h for h in gauge.heights])
