"""Course plans and coping plans: every cut piece there, as long as the cut list has it.

That a mitre at 45 degrees shortens one edge by the width it runs across is plain geometry.
"""

import math
from itertools import pairwise

import pytest
from helpers_plans import dimensions, drawn, example, has, length, of_kind, texts
from hypothesis import HealthCheck, given, settings
from strategies import jobs, laid_out

from parametric_wall.drawings.placing.beside import settled
from parametric_wall.drawings.plans.coping_plan import divided, leg_plan
from parametric_wall.drawings.plans.course_plan import course_groups
from parametric_wall.drawings.view import Stroke, Use
from parametric_wall.takeoff.cutting import cut_units


def cuts(spec, laid, kind):
    """The cut pieces of the cut list: short name and length."""
    return {
        piece.id.split("/", 1)[1]: piece.length
        for unit in cut_units(spec, laid)
        for piece in unit.pieces
        if piece.kind == kind
    }


def each_has_its_length(views, wanted):
    said = [text for view in views for text in texts(view)]
    for name, size in wanted.items():
        assert said.count(name) == 1, name
        assert any(has(view, size) for view in views if name in texts(view)), name


@pytest.mark.parametrize(
    "name", ["herb-planter", "corner-seat", "terrace-nook", "pond-bands", "bin-store", "drive-edge"]
)
def test_every_cut_coping_is_marked_and_as_long_as_in_the_cut_list(name) -> None:
    spec, laid = example(name)
    each_has_its_length(of_kind(drawn(spec, laid), "coping-plan"), cuts(spec, laid, "coping"))


@pytest.mark.parametrize("name", ["corner-seat", "terrace-nook", "pond-bands", "bin-store"])
def test_every_cut_block_is_marked_in_the_first_of_the_courses_alike(name) -> None:
    spec, laid = example(name)
    views = of_kind(drawn(spec, laid), "course-plan")
    (wall,) = laid.walls
    shown = {f"c{group.courses[0]:02d}" for group in course_groups(wall)}
    wanted = {n: s for n, s in cuts(spec, laid, "block").items() if n.split("/")[1] in shown}
    assert wanted
    each_has_its_length(views, wanted)


def test_the_short_edge_of_a_mitre() -> None:
    """A mitred end piece 399.2 long; the leaning slab is 240 cos + 50 sin across: 158 is left."""
    (view,) = of_kind(drawn(*example("herb-planter")), "coping-plan")
    lean = math.atan(6 / 240)
    across = 240 * math.cos(lean) + 50 * math.sin(lean)
    long = max(length(d) for d in dimensions(view) if length(d) < 400)
    assert long == pytest.approx(399.1785, abs=1e-3)
    assert sum(length(d) == pytest.approx(long - across) for d in dimensions(view)) == 4


def test_the_copings_over_all_and_past_the_ends() -> None:
    """1490 + 30 at the stop end + the overhang past the corner, its upper arris leaning out."""
    (view,) = of_kind(drawn(*example("pond-bands")), "coping-plan")
    lean = math.atan(6 / 240)
    past = 50 + 50 * math.sin(lean)
    assert has(view, 30)
    assert has(view, 1490 + 30 + past, 0.0)
    assert has(view, 2840 + 2 * past, 90.0)


def test_drips_and_faces_lie_under_the_copings() -> None:
    (view,) = of_kind(drawn(*example("between-garages")), "coping-plan")
    dashed = [m for m in view.marks if isinstance(m, Stroke) and m.layer == "hidden lines"]
    copings = [m for m in view.marks if isinstance(m, Use) and m.layer == "copings"]
    # One drip, at the back: its two edges under every coping; and the wall's outline.
    assert len(dashed) == 2 * len(copings) + 1
    lean = math.cos(math.radians(1.5))
    edge = 180 - 12
    wanted = {round(-40 + at * lean, 6) for at in (edge, edge - 8)}
    assert {round(y, 6) for d in dashed if not d.closed for _, y in d.points} == wanted


def test_odd_and_even_courses_are_a_pair() -> None:
    spec, laid = example("herb-planter")
    views = of_kind(drawn(spec, laid), "course-plan")
    assert [view.title for view in views] == ["herbs: course 1 (3 alike)", "herbs: course 2"]
    for view in views:
        uses = [m for m in view.marks if isinstance(m, Use) and m.layer == "blocks"]
        assert len(uses) == 18
        assert {use.symbol for use in uses} == {"block-290x140"}


def test_a_large_wall_has_its_corners_alone() -> None:
    """Two and a half blocks and more of each leg of the L, and the break lines across both."""
    views = of_kind(drawn(*example("orchard-wall")), "course-plan")
    assert [view.title.split(":")[0] for view in views] == ["orchard, point 2"] * 2
    for view in views:
        blocks = [m for m in view.marks if isinstance(m, Use) and m.layer == "blocks"]
        assert 5 <= len(blocks) <= 7
        assert sum(isinstance(m, Stroke) and m.layer == "break lines" for m in view.marks) == 2


def test_parts_of_a_coping_plan_add_up() -> None:
    spec, laid = example("orchard-wall")
    (one,), (wall,) = spec.walls, laid.walls
    whole = max(length(d) for d in dimensions(leg_plan(one, wall, 1, "whole", 25.0)))
    for count in (2, 3, 5):
        parts = divided(one, wall, 1, "part", 25.0, count)
        assert len({part.name for part in parts}) == len(parts) == count
        assert sum(max(length(d) for d in dimensions(p)) for p in parts) == pytest.approx(whole)
        each_has_its_length(
            parts, {n: s for n, s in cuts(spec, laid, "coping").items() if n.startswith("r1")}
        )


def test_marks_keep_off_lines_and_one_another() -> None:
    places = settled([0.0, 1.0, 1.0, 9.0], 4.0, [(8.0, 8.0), (20.0, 30.0)])
    assert places[0] == 0.0
    ends = sorted((at - 2.0, at + 2.0) for at in places)
    assert all(b[0] >= a[1] - 1e-9 for a, b in pairwise(ends))
    assert not any(low < 8.0 < high for low, high in ends)


@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(jobs())
def test_every_cut_coping_of_any_job(table) -> None:
    spec, laid = laid_out(table)
    wanted = cuts(spec, laid, "coping")
    views = [v for n, v in drawn(spec, laid).items() if n.startswith("coping-plan")]
    each_has_its_length(views, wanted)
