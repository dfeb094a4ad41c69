"""What the checks find, and that they find no more than that."""

from __future__ import annotations

import pytest

from parametric_wall.checks.check import CAUTIONS, check
from parametric_wall.checks.finding import Finding, Grade, meanings, stops
from parametric_wall.job.read import loads
from parametric_wall.setting_out.set_out import set_out

COPING = """
[coping]
length_mm = 600
width_mm = 240
thickness_mm = 50
drip = { width_mm = 8, depth_mm = 6, distance_mm = 2 }
"""


def found(walls: str, top: str = COPING, block: str = "440x140x140") -> dict[str, Finding]:
    spec = loads(f'title = "checks"\n[block]\nsize = "{block}"\n{top}\n{walls}')
    return {f.code: f for f in check(spec, set_out(spec))}


def wall(plan: str, more: str = "height = { courses = 3 }", name: str = "w") -> str:
    return f'[[walls]]\nname = "{name}"\nplan = {plan}\n{more}\n'


STRAIGHT = '{ shape = "straight", length_mm = 3590 }'


def test_a_plain_wall_has_the_standing_cautions_and_nothing_else() -> None:
    codes = found(wall(STRAIGHT))
    assert set(codes) == set(CAUTIONS)
    assert not stops(tuple(codes.values()))


def test_every_code_is_explained_and_every_explanation_has_a_source() -> None:
    for meaning in meanings().values():
        assert all((meaning.title, meaning.why, meaning.next, meaning.ask, meaning.source))


def placed(name: str, x: float, y: float, heading: float = 0.0) -> str:
    place = f"place = {{ x_mm = {x}, y_mm = {y}, heading_deg = {heading} }}"
    return wall(STRAIGHT, f"height = {{ courses = 3 }}\n{place}", name)


@pytest.mark.parametrize(
    ("x", "y", "heading", "code"),
    [
        (0, 100, 0, "walls-overlap"),
        (0, 300, 0, "footings-overlap"),
        (1000, -1000, 90, "walls-overlap"),
        (3000, 1900, 225, "walls-overlap"),
    ],
)
def test_walls_that_lie_on_each_other(x: float, y: float, heading: float, code: str) -> None:
    codes = found(placed("a", 0, 0) + placed("b", x, y, heading))
    assert codes[code].grade is Grade.STOP
    assert codes[code].where == "a, b"


def test_walls_apart_are_left_alone() -> None:
    codes = found(placed("a", 0, 0) + placed("b", 0, 400))
    assert set(codes) == set(CAUTIONS)


def test_a_leg_too_short_to_bond_says_which_lengths_work() -> None:
    """Between two convex corners a leg holds two thicknesses and the smallest legal piece."""
    plan = '{ shape = "rectangle", length_mm = 2250, width_mm = 320 }'
    said = found(wall(plan))["no-legal-bond"]
    assert said.grade is Grade.STOP
    assert said.where in ("w/r2", "w/r4")
    least = 2 * 140 + 2 * 10 + 50  # In the course that butts at both ends, one closer.
    assert said.message.endswith(f"nearest lengths that work: {least}")


def test_a_length_that_has_no_bond_names_a_shorter_and_a_longer_one() -> None:
    plan = '{ shape = "straight", length_mm = 520 }'
    bond = "[bond]\nmin_cut_mm = 300\n"
    said = found(wall(plan), top=COPING + bond)["no-legal-bond"]
    # Two pieces of 300 and 366 and a joint: 366 - 310 is the lap of 56 that 140 high wants.
    assert said.message.endswith("nearest lengths that work: 440 and 680")


def test_a_length_that_works_is_one_the_finding_named() -> None:
    bond = "[bond]\nmin_cut_mm = 300\n"
    for length in (440, 680):
        plan = f'{{ shape = "straight", length_mm = {length} }}'
        assert "no-legal-bond" not in found(wall(plan), top=COPING + bond)


NOOK = '{ shape = "legs", legs = [{ length_mm = 2250, turn = "right" }, { length_mm = 2250 }] }'
CORNER = NOOK.replace("right", "left")
FALL = COPING.replace("[coping]", '[coping]\nfall = { to = "front", mm = 6, in_mm = 240 }')


@pytest.mark.parametrize(
    ("plan", "to", "valley"),
    [
        (NOOK, "front", True),
        (CORNER, "front", False),
        (NOOK, "back", False),
        (CORNER, "back", True),
    ],
)
def test_falls_into_a_bend_make_a_valley(plan: str, to: str, valley: bool) -> None:
    codes = found(wall(plan), top=FALL.replace("front", to))
    assert ("valley" in codes) == valley


@pytest.mark.parametrize(("mm", "thick"), [(24, False), (27, True)])
def test_a_wedge_bed_over_25_is_named(mm: float, thick: bool) -> None:
    """A fall of 24 in 240 makes the bed 10 + 14 = 24 thick at its high edge."""
    codes = found(wall(STRAIGHT), top=FALL.replace(", mm = 6", f", mm = {mm}"))
    assert ("coping-bed-thick" in codes) == thick
    if thick:
        assert codes["coping-bed-thick"].value == pytest.approx(10 + 140 * mm / 240)


@pytest.mark.parametrize(
    ("base", "courses", "thin"), [("falls to the back", 3, True), ("falls to the front", 3, False)]
)
def test_a_run_through_coping_that_dips_into_the_other_wall(base, courses, thin) -> None:
    to = base.split()[-1]
    top = FALL.replace("front", to).replace(", mm = 6", ", mm = 10") + 'corner = "run through"\n'
    codes = found(wall(CORNER, f"height = {{ courses = {courses} }}"), top=top)
    assert ("corner-bed-thin" in codes) == thin


def test_copings_of_a_planter_too_narrow_for_their_overhangs() -> None:
    plan = '{ shape = "rectangle", length_mm = 2250, width_mm = 360 }'
    codes = found(wall(plan))
    assert codes["no-coping-fit"].grade is Grade.STOP or codes["copings-collide"]


def test_joints_beyond_what_mortar_is_meant_for() -> None:
    joints = "[joints]\nperp_mm = 4\nperp_min_mm = 3\n"
    assert (
        found(wall('{ shape = "straight", length_mm = 3548 }'), top=COPING + joints)[
            "joint-width"
        ].value
        == 4
    )


def test_a_planter_without_weep_holes() -> None:
    plan = '{ shape = "rectangle", length_mm = 1940, width_mm = 1040 }'
    more = "height = { courses = 3 }\nfill = {}\n"
    assert "planter-drainage" in found(wall(plan, more), block="290x140x140")
    weeps = more + 'weeps = { kind = "tubes", spacing_mm = 900 }\n'
    assert "planter-drainage" not in found(wall(plan, weeps), block="290x140x140")


def test_the_gravest_findings_come_first() -> None:
    spec = loads(
        'title = "x"\n[block]\nsize = "440x140x140"\n' + wall(STRAIGHT, "height = { courses = 8 }")
    )
    grades = [list(Grade).index(f.grade) for f in check(spec, set_out(spec))]
    assert grades == sorted(grades, reverse=True)
    assert grades[0] == 2
