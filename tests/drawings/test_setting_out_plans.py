"""Footing plan, lines, square corners and site plan, against figures worked out by hand.

A diagonal is held against `math.hypot`, a turned corner against a product of complex
numbers. That 3, 4 and 5 make a right angle, that profiles stand clear of the trench and
that the diagonals of a rectangle are equal is common practice and Pythagoras.
"""

import cmath
import math

import pytest
from helpers_plans import drawn, example, has, job, lengths, of_kind, rows, texts
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from strategies import jobs, laid_out

from parametric_wall.drawings.plans.lines_plan import diagonals, squares
from parametric_wall.drawings.plans.wall_plan import legs, numbered
from parametric_wall.drawings.view import Label, Region, Stroke


def at(view, text):
    return next(m.at for m in view.marks if isinstance(m, Label) and m.text == text)


def table(view, head):
    """Rows of texts on one line each, from under a head on."""
    top = at(view, head)[1]
    found = {}
    for mark in view.marks:
        if isinstance(mark, Label) and mark.turn_deg == 0 and mark.at[1] < top - 1:
            found.setdefault(round(mark.at[1], 3), []).append((mark.at[0], mark.text))
    return [[text for _, text in sorted(row)] for _, row in sorted(found.items(), reverse=True)]


def test_the_planters_footing_is_its_wall_and_two_spreads() -> None:
    """1940 x 1040 outside, 140 thick, spread 105: 2150 x 1250 round a hole of 1450 x 550."""
    (view,) = of_kind(drawn(*example("herb-planter")), "footing-plan")
    assert rows(view, 0.0) == [[1940], [350, 1450, 350], [2150]]
    assert rows(view, 90.0) == [[1040], [350, 550, 350], [1250]]


def test_the_footing_of_an_l_runs_past_its_ends_and_round_its_corner() -> None:
    """Legs 10340 and 3740, spread 105: 10550 x 3950 over all, 350 wide."""
    (view,) = of_kind(drawn(*example("orchard-wall"), 50.0), "footing-plan")
    assert rows(view, 0.0) == [[10340], [10200, 350], [10550]]
    assert rows(view, 90.0) == [[3740], [350, 3600], [3950]]


def test_a_footing_stops_at_an_existing_wall() -> None:
    (view,) = of_kind(drawn(*example("between-garages")), "footing-plan")
    assert rows(view, 0.0) == [[3610], [3610]]
    assert has(view, 350, 90.0)
    assert has(view, 100, 90.0)
    assert texts(view).count("existing wall") == 2
    walls = [m for m in view.marks if isinstance(m, Region) and m.layer == "existing"]
    assert sorted(max(x for x, _ in w.outline) for w in walls) == [0, 3810]


def test_rows_add_up_to_the_overall_size() -> None:
    for name in ("herb-planter", "orchard-wall", "terrace-nook", "bin-store"):
        (view,) = of_kind(drawn(*example(name), 50.0), "footing-plan")
        for turn in (0.0, 90.0):
            sums = [sum(row) for row in rows(view, turn) if len(row) > 1]
            wholes = [row[0] for row in rows(view, turn) if len(row) == 1]
            assert sums
            assert all(any(s == pytest.approx(w) for w in wholes) for s in sums)


def test_coordinates_are_the_jobs_own_points_turned_and_moved() -> None:
    """The planter stands at 1200, 800, turned by 15 degrees."""
    (view,) = of_kind(drawn(*example("herb-planter")), "footing-plan")
    turn, base = cmath.exp(1j * math.radians(15)), 1200 + 800j
    corners = (0, 1940, 1940 + 1040j, 1040j)
    wanted = [base + corner * turn for corner in corners]
    found = [row for row in table(view, "point") if row[-1] == "corner"]
    assert [row[0] for row in found] == ["1", "2", "3", "4"]
    for (_, x, y, _), point in zip(found, wanted, strict=True):
        assert float(x) == pytest.approx(point.real, abs=0.05)
        assert float(y) == pytest.approx(point.imag, abs=0.05)


def test_points_count_on_from_wall_to_wall() -> None:
    spec, laid = example("steps-pair")
    points = numbered(spec)
    assert [p.number for p in points["left"]] == [1, 2]
    assert [p.number for p in points["right"]] == [3, 4]
    left, right = of_kind(drawn(spec, laid), "footing-plan")
    assert [row for row in table(left, "point") if row[-1] == "stop end"] == [
        ["1", "0", "0", "stop end"],
        ["2", "0", "1790", "stop end"],
    ]
    # The second is walked the other way, from the far end: at 1600, 1790 down to 1600, 0.
    assert [row for row in table(right, "point") if row[-1] == "stop end"] == [
        ["3", "1600", "1790", "stop end"],
        ["4", "1600", "0", "stop end"],
    ]


def test_the_site_plan_has_every_footing_in_its_true_place() -> None:
    spec, laid = example("herb-planter")
    view = drawn(spec, laid)["site-plan"]
    rings = [m.points for m in view.marks if isinstance(m, Stroke) and m.layer == "footing"]
    turn = cmath.exp(1j * math.radians(15))
    wanted = 1200 + 800j + (-105 - 105j) * turn
    assert any(
        (x, y) == pytest.approx((wanted.real, wanted.imag)) for ring in rings for x, y in ring
    )
    assert {"1", "2", "3", "4", "base point 0, 0", "x", "y"} <= set(texts(view))


def test_a_lone_wall_at_the_base_point_has_no_site_plan() -> None:
    assert not any(name == "site-plan" for name in drawn(*example("corner-seat")))


def test_the_diagonals_of_a_rectangle_are_one_length() -> None:
    (view,) = of_kind(drawn(*example("herb-planter")), "lines-plan")
    slanting = [size for size in lengths(view) if size not in set(lengths(view, 0.0))]
    found = [s for s in slanting if s == pytest.approx(math.hypot(1940, 1040))]
    assert len(found) == 2


def test_an_open_l_has_one_diagonal_from_end_to_end() -> None:
    (view,) = of_kind(drawn(*example("orchard-wall"), 50.0), "lines-plan")
    assert has(view, math.hypot(10_340, 3740))


def test_profiles_stand_clear_of_the_trench() -> None:
    """600 past a spread of 105."""
    (view,) = of_kind(drawn(*example("herb-planter")), "lines-plan")
    assert rows(view, 0.0) == [[705, 1940, 705]]
    assert rows(view, 90.0) == [[705, 1040, 705]]
    assert sum(isinstance(m, Stroke) and m.layer == "profiles" for m in view.marks) == 8


def test_a_line_ends_at_an_existing_wall() -> None:
    (view,) = of_kind(drawn(*example("between-garages")), "lines-plan")
    (line,) = [m.points for m in view.marks if isinstance(m, Stroke) and m.layer == "string lines"]
    assert line == ((0, 0), (3610, 0))


def test_heights_of_the_lines_are_the_courses() -> None:
    """Footing 50 below ground, three courses of 150: 100, 250 and 400 over it."""
    (view,) = of_kind(drawn(*example("herb-planter")), "lines-plan")
    found = [row for row in table(view, "line at") if row[0].startswith("c0")]
    assert found == [["c01", "150", "+100"], ["c02", "300", "+250"], ["c03", "450", "+400"]]


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("herb-planter", {(900, 1200, 1500), (1200, 900, 1500)}),
        ("orchard-wall", {(4000, 3000, 5000)}),
        ("corner-seat", {(2000, 1500, 2500)}),
    ],
)
def test_the_greatest_3_4_5_that_fits(name, wanted) -> None:
    """Of hundreds: 1040 / 3 is past 300, 1690 / 3 past 500; and none past 3 m by 4 m by 5 m."""
    spec, laid = example(name)
    (wall,) = spec.walls
    checks = list(squares(legs(wall, numbered(spec)[wall.name])))
    assert {check.sides for check in checks} == wanted
    (view,) = of_kind(drawn(spec, laid, 50.0), "squares-plan")
    for check in checks:
        assert has(view, check.sides[2])
        assert {f"{side:g} from {check.number}" for side in check.sides[:2]} <= set(texts(view))


def test_legs_too_short_for_a_3_4_5_have_none() -> None:
    spec, _ = job(
        {
            "name": "wall",
            "plan": {
                "shape": "legs",
                "legs": [{"length_mm": 1500, "turn": "left"}, {"length_mm": 100}],
            },
            "height": {"courses": 1},
        }
    )
    (wall,) = spec.walls
    (check,) = squares(legs(wall, numbered(spec)["wall"]))
    assert check.sides == (120, 90, 150)


@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_3_4_5_and_diagonals_of_any_plan(data) -> None:
    spec, _ = laid_out(data.draw(jobs()))
    (wall,) = spec.walls
    walked = legs(wall, numbered(spec)["wall"])
    by_end = {leg.end: leg for leg in walked}
    by_start = {leg.start: leg for leg in walked}
    for check in squares(walked):
        a, b, c = check.sides
        assert a * a + b * b == pytest.approx(c * c)
        assert a <= by_end[check.number].length
        assert b <= by_start[check.number].length
        assert math.dist(check.at, check.before) == pytest.approx(a)
        assert math.dist(check.at, check.after) == pytest.approx(b)
        assert math.dist(check.before, check.after) == pytest.approx(c)
    for first, last, p, q in diagonals(walked):
        corner = by_start[first].end
        sides = by_end[corner].length, by_start[corner].length
        assert last == by_start[corner].end
        assert math.dist(p, q) == pytest.approx(math.hypot(*sides))
