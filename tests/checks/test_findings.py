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


ASKED = {"zone-not-given", "neighbour-not-given", "ground-not-given", "wind-not-given"}
"""What only the one who has been there can answer."""

REMARKS = {"shallow-footing", "coping-dpc"}
"""Worth knowing of a plain wall on the usual footing."""

PLACE = """
[site]
exposure_zone = 1
highway = "none"
neighbour_distance_mm = 20000
[ground]
kind = "firm clay"
[wind]
peak_pressure_Pa = 200
"""

STRAIGHT = '{ shape = "straight", length_mm = 3590 }'


def test_a_plain_wall_has_the_standing_cautions_and_no_objection() -> None:
    codes = found(wall(STRAIGHT))
    assert set(codes) == {"height-table", *CAUTIONS, *ASKED, *REMARKS}
    assert codes["height-table"].grade is Grade.LOOK  # 100 block: 450 in the best zone.
    assert not stops(tuple(codes.values()))


def test_a_place_that_is_known_is_not_asked_for() -> None:
    codes = found(wall(STRAIGHT, "height = { courses = 2 }"), COPING + PLACE)
    assert set(codes) == {*CAUTIONS, *REMARKS}
    assert {f.grade for f in codes.values()} == {Grade.KNOW}


def test_every_code_has_a_meaning_and_every_meaning_a_source() -> None:
    for meaning in meanings().values():
        assert all((meaning.title, meaning.why, meaning.next, meaning.ask, meaning.source))
        assert meaning.standing in ("read", "computed", "common practice", "from memory")


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
    assert codes.keys() & {"walls-overlap", "footings-overlap"} == set()


def test_a_leg_too_short_to_bond_says_which_lengths_work() -> None:
    """Between two convex corners a leg holds two thicknesses and the smallest legal piece."""
    plan = '{ shape = "rectangle", length_mm = 2250, width_mm = 320 }'
    said = found(wall(plan))["no-legal-bond"]
    assert said.grade is Grade.STOP
    assert said.where in ("w/r2", "w/r4")
    least = 2 * 140 + 2 * 10 + 50  # In the course that butts at both ends, one closer.
    assert f"nearest lengths that work: {least};" in said.message


def test_a_length_that_has_no_bond_names_a_shorter_and_a_longer_one() -> None:
    plan = '{ shape = "straight", length_mm = 520 }'
    bond = "[bond]\nmin_cut_mm = 300\n"
    said = found(wall(plan), top=COPING + bond)["no-legal-bond"]
    # Two pieces of 300 and 366 and a joint: 366 - 310 is the lap of 56 that 140 high wants.
    assert "nearest lengths that work: 440 and 680;" in said.message
    # In two pieces each 510 less a joint is shared out; a lap of 56 wants ends of 222 and 288.
    assert said.message.endswith("this length would bond with a cut of 220, not 300")


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


NARROW = '{ shape = "rectangle", length_mm = 2250, width_mm = 380 }'


def test_a_row_that_does_not_fit_says_what_was_asked_and_which_lengths_it_fits() -> None:
    """A mitred piece of both ends: two thicknesses and two overhangs inside a side of 380.

    Its short side is 380 - 2 x (140 + 50) - 14 of joints, and 75 has to be left: 469.
    """
    said = found(wall(NARROW), block="290x140x140")["no-coping-fit"]
    assert "with pieces of 150 or more and 75 or more on the short side" in said.message
    assert said.message.endswith("nearest lengths it fits: 470")
    for width, fits in ((460, False), (470, True)):
        codes = found(wall(NARROW.replace("380", str(width))), block="290x140x140")
        assert ("no-coping-fit" in codes) == (not fits)


def test_a_row_that_fits_a_shorter_and_a_longer_length_names_both() -> None:
    """Of pieces of 550 to 600 two and a joint fill 1110 to 1210; one alone no more than 600."""
    coping = COPING + "min_cut_mm = 550\n"
    said = found(wall('{ shape = "straight", length_mm = 850 }'), top=coping)["no-coping-fit"]
    assert said.message.endswith("nearest lengths it fits: 600 and 1110")
    for length in (600, 1110):
        codes = found(wall(f'{{ shape = "straight", length_mm = {length} }}'), top=coping)
        assert "no-coping-fit" not in codes


def test_a_row_that_fits_no_near_length_says_so() -> None:
    coping = COPING.replace("600", "2000") + "min_cut_mm = 1000\n"
    said = found(wall('{ shape = "straight", length_mm = 600 }'), top=coping)["no-coping-fit"]
    assert said.message.endswith("it fits no near length")


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


@pytest.mark.parametrize(
    ("block", "base", "thin"),
    [
        ("440x100x140", 0, False),
        ("440x100x140", 1, True),
        ("215x102.5x65", 226, True),
        ("440x140x140", 1, False),
    ],
)
def test_a_single_skin_over_450_is_thin(block: str, base: int, thin: bool) -> None:
    """Three courses of 150 end at 450; so do three of 75 on a base of 225."""
    codes = found(wall(STRAIGHT), top=f"[base]\nlevel_mm = {base}\n", block=block)
    assert ("thin-wall" in codes) == thin
    if thin:
        assert codes["thin-wall"].grade is Grade.LOOK
        assert (codes["thin-wall"].value, codes["thin-wall"].limit) == (451, 450)


PLANTER = '{ shape = "rectangle", length_mm = 1940, width_mm = 1040 }'
LEVELS = 'height = { courses = 3 }\nweeps = { kind = "tubes", spacing_mm = 900 }\n'


@pytest.mark.parametrize(
    ("fill", "told"),
    [
        ("base_level_mm = 0, drainage_mm = 100", None),
        ("base_level_mm = -50, drainage_mm = 150", None),
        ("base_level_mm = 0, drainage_mm = 99", "the drainage layer ends at 99: water stands"),
        ("base_level_mm = -100, drainage_mm = 75", "the drainage layer ends at -25: water stands"),
        ("base_level_mm = 0, below_coping_mm = 350", "the soil ends at 60: they drain nothing"),
    ],
)
def test_weep_holes_that_miss_the_water(fill: str, told: str | None) -> None:
    """Courses of 150 from 50 below ground: the first wholly above it starts at 100."""
    codes = found(wall(PLANTER, f"{LEVELS}fill = {{ {fill} }}\n"), block="290x140x140")
    assert ("weeps-miss-drainage" in codes) == (told is not None)
    if told is not None:
        said = codes["weeps-miss-drainage"]
        assert said.grade is Grade.LOOK
        assert said.value == 100
        assert said.message.startswith("the weeps' course starts at 100, ")
        assert told in said.message


@pytest.mark.parametrize(("below", "level"), [(0, None), (1, 149), (150, 0), (200, -50)])
def test_a_damp_proof_course_less_than_150_above_ground(below: int, level: int | None) -> None:
    """It lies under the second course, which starts at 150 where the first starts at ground."""
    more = "height = { courses = 3 }\ndpc = { under_course = 2 }\n"
    codes = found(wall(STRAIGHT, more), top=f"[footing]\nbelow_ground_mm = {below}\n")
    assert ("dpc-low" in codes) == (level is not None)
    if level is not None:
        said = codes["dpc-low"]
        assert (said.grade, said.value, said.limit) == (Grade.KNOW, level, 150)
        assert f"{abs(level)} {'above' if level >= 0 else 'below'} ground" in said.message


@pytest.mark.parametrize(("depth", "below", "deep"), [(1150, 50, False), (1151, 50, True)])
def test_a_trench_deeper_than_1200(depth: int, below: int, deep: bool) -> None:
    footing = f"[footing]\ndepth_mm = {depth}\nbelow_ground_mm = {below}\n"
    codes = found(wall(STRAIGHT), top=COPING + footing)
    assert ("deep-trench" in codes) == deep
    if deep:
        assert (codes["deep-trench"].grade, codes["deep-trench"].value) == (Grade.LOOK, 1201)


def test_the_inside_of_a_planter_can_be_the_deeper_digging() -> None:
    fill = "fill = { base_level_mm = -1300, drainage_mm = 100 }\n"
    codes = found(
        wall(PLANTER, f"height = {{ courses = 3 }}\n{fill}"),
        top=COPING + "[base]\nlevel_mm = 0\n",
        block="290x140x140",
    )
    assert codes["deep-trench"].value == 1300


def test_no_finding_calls_anything_safe() -> None:
    for meaning in meanings().values():
        words = f"{meaning.title} {meaning.why} {meaning.next} {meaning.next_designed}"
        assert " safe " not in words.replace(".", " ").replace(",", " ")


@pytest.mark.parametrize("body", ["left", "right"])
def test_an_end_is_called_as_the_file_calls_it(body: str) -> None:
    more = (
        f'height = {{ courses = 3 }}\nbody = "{body}"\n'
        'start = { kind = "abutment", joint = "movement", fixing = "none" }\n'
    )
    said = found(wall(STRAIGHT, more))["fixing-to-existing"]
    assert said.message.startswith("at its start: movement joint, no fixing; ")
    said = found(wall(STRAIGHT, more.replace("start", "end").replace("none", "ties")))
    assert said["fixing-to-existing"].message.startswith("at its end: movement joint, ties; ")


@pytest.mark.parametrize(
    ("mm", "grade", "limit"), [(4, None, None), (6, Grade.LOOK, 10), (20, Grade.STOP, 6)]
)
def test_a_thin_bed_at_a_corner_is_held_against_the_bed_of_the_job(
    mm: int, grade: Grade | None, limit: float | None
) -> None:
    """A fall of 6 in 240 over an overhang of 50 takes 1.25 from the bed; one of 4 only 0.83."""
    top = FALL.replace("front", "back").replace(", mm = 6", f", mm = {mm}")
    codes = found(wall(CORNER), top=top + 'corner = "run through"\n')
    assert ("corner-bed-thin" in codes) == (grade is not None)
    if grade is not None:
        said = codes["corner-bed-thin"]
        assert (said.grade, said.limit) == (grade, limit)
        assert said.value is not None
        assert said.value < limit


def test_what_is_only_told_has_no_limit() -> None:
    beds = found(wall(STRAIGHT, "height = { finished_mm = 455 }"))["bed-adjusted"]
    bond = '[bond]\nwish = "half"\nadjust = false\nmin_cut_mm = 300\n'
    length = '{ shape = "straight", length_mm = 1500 }'
    odd = found(wall(length), top=COPING + bond)["wish-not-met"]
    assert (beds.limit, odd.limit) == (None, None)


def test_the_gravest_findings_come_first() -> None:
    spec = loads(
        'title = "x"\n[block]\nsize = "440x140x140"\n' + wall(STRAIGHT, "height = { courses = 8 }")
    )
    grades = [list(Grade).index(f.grade) for f in check(spec, set_out(spec))]
    assert grades == sorted(grades, reverse=True)
    assert grades[0] == 2


JOINTS = "[movement]\nspacing_mm = {}\n"


@pytest.mark.parametrize(
    ("top", "long"),
    [
        ("", {"w/r1": 15_000}),
        (JOINTS.format(6000), {}),
        (JOINTS.format(9000), {"w/r1a": 7495, "w/r1b": 7495}),
    ],
)
def test_long_panels_are_looked_for_between_movement_joints(top: str, long: dict) -> None:
    spec = loads('title = "t"\n[block]\nsize = "440x140x140"\n' + top + wall(straight(15_000)))
    laid = set_out(spec)
    told = {f.where: f.value for f in check(spec, laid) if f.code == "long-panel"}
    assert told.keys() == long.keys()
    assert sum(told.values()) == pytest.approx(sum(long.values()))


def test_copings_of_two_panels_do_not_collide() -> None:
    assert "copings-collide" not in found(wall(straight(15_000)), COPING + JOINTS.format(6000))
    assert "no-coping-fit" not in found(wall(straight(15_000)), COPING + JOINTS.format(6000))


def straight(length: int) -> str:
    return f'{{ shape = "straight", length_mm = {length} }}'
