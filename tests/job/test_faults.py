"""Every fault of a job file at once: where it stands, what stands there, what may stand there."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from parametric_wall.errors import Fault, JobError
from parametric_wall.job.read import loads

HEAD = 'title = "Low wall"\nblock = { size = "440x140x140" }\n'
WALL = """
[[walls]]
name = "wall"
plan = { shape = "straight", length_mm = 1790 }
height = { courses = 2 }
"""


def faults(text: str | bytes, **options: Any) -> tuple[Fault, ...]:
    with pytest.raises(JobError) as raised:
        loads(text, **options)
    return raised.value.faults


def only(text: str | bytes) -> Fault:
    (fault,) = faults(text)
    return fault


def test_the_job_these_faults_are_made_in_has_none() -> None:
    assert loads(HEAD + WALL).walls[0].name == "wall"


NUMBERS = {
    "nan": "nan",
    "inf": "inf",
    "-inf": "-inf",
    "true": "true",
    '"1790"': '"1790"',
    "[1790]": "[1790]",
    "{ mm = 1790 }": "{mm = 1790}",
    "1790-01-01": "1790-01-01",
}


@pytest.mark.parametrize("given", NUMBERS)
def test_what_is_no_number(given: str) -> None:
    fault = only(HEAD + WALL.replace("1790", given))
    assert (fault.path, fault.value) == ("walls.0.plan.length_mm", NUMBERS[given])
    assert fault.problem == "must be a number from 100 to 1000000"


@pytest.mark.parametrize(("key", "at"), [("length_mm = 1790", "plan"), ("courses = 2", "height")])
@pytest.mark.parametrize("given", ["1" + "0" * 4000, "-1" + "0" * 4000, "0x" + "f" * 9000])
def test_a_number_of_thousands_of_digits_is_out_of_range_too(key: str, at: str, given: str) -> None:
    name = key.split(" ", maxsplit=1)[0]
    fault = only(HEAD + WALL.replace(key, f"{name} = {given}"))
    assert (fault.path, fault.value) == (f"walls.0.{at}.{name}", "a number too long to show")


@pytest.mark.parametrize(
    "given", ["0", "-1790", "99.999", "1000001", "10_000_000", "-0.0", "1e300"]
)
def test_a_number_out_of_its_range(given: str) -> None:
    fault = only(HEAD + WALL.replace("1790", given))
    assert fault.path == "walls.0.plan.length_mm"
    assert float(fault.value) == float(given)
    assert fault.problem == "must be from 100 to 1000000"


@pytest.mark.parametrize("given", ["100", "100.0", "1_000_0e-1"])
def test_a_number_at_the_end_of_its_range_is_taken(given: str) -> None:
    assert loads(HEAD + WALL.replace("1790", given)).walls[0].path.lengths == (float(given),)


@pytest.mark.parametrize("given", ["2.0", "true", '"2"', "nan"])
def test_courses_are_counted_in_whole_numbers(given: str) -> None:
    fault = only(HEAD + WALL.replace("courses = 2", f"courses = {given}"))
    assert (fault.path, fault.value) == ("walls.0.height.courses", given)
    assert fault.problem == "must be a whole number from 1 to 60"


PLAIN = [
    ("title = 5", "title", "5", "must be text in quotes"),
    ('title = ""', "title", '""', "must be text, and not empty"),
    ("notes = [1]", "notes", "[1]", "must be text in quotes"),
    ('date = "2026-04-01"', "date", '"2026-04-01"', "must be a date without quotes"),
    ("date = 2026-04-01T12:00:00", "date", "2026-04-01 12:00:00", "must be a date without"),
    ('block = "440x140x140"', "block", '"440x140x140"', "must be a table"),
    ("joints = []", "joints", "[]", "must be a table"),
    (
        'bond = { wish = "fifth" }',
        "bond.wish",
        '"fifth"',
        "must be 'best', 'half', 'third' or 'quarter'",
    ),
    ("footing = { depth_mm = 10 }", "footing.depth_mm", "10", "must be from 50 to 2000"),
    ("base = { level_mm = 1001 }", "base.level_mm", "1001", "must be from -2000 to 1000"),
    ("base = { }", "base.level_mm", "", "is missing"),
]


@pytest.mark.parametrize(("line", "path", "value", "problem"), PLAIN)
def test_each_kind_of_fault_is_said_in_plain_words(
    line: str, path: str, value: str, problem: str
) -> None:
    key = line.split(" ", maxsplit=1)[0]
    rest = [kept for kept in HEAD.splitlines() if not kept.startswith(f"{key} ")]
    fault = only("\n".join([line, *rest, WALL]))
    assert (fault.path, fault.value) == (path, value)
    assert fault.problem.startswith(problem)


def test_a_long_text_says_how_long_it_may_be() -> None:
    title = "A wall of many words. " * 1000
    fault = only(HEAD.replace("Low wall", title) + WALL)
    assert fault.path == "title"
    assert fault.problem == f"must be text of at most 200 characters, not {len(title)}"
    assert len(fault.value) <= 60


def test_a_range_open_at_one_end_is_said_as_it_is() -> None:
    coping = 'coping = { size = "600x240x50", fall = { to = "back", mm = 0, in_mm = 240 } }\n'
    fault = only(HEAD + coping + WALL)
    assert (fault.path, fault.value) == ("coping.fall.mm", "0")
    assert fault.problem == "must be more than 0 and at most 200"


SHAPES = {
    '{ shape = "rectangle", length_mm = 199, width_mm = 900 }': ("length_mm", "200 to 200000"),
    '{ shape = "rectangle", length_mm = 900, width_mm = 199 }': ("width_mm", "200 to 200000"),
    '{ shape = "straight", length_mm = 99 }': ("length_mm", "100 to 1000000"),
    '{ shape = "legs", legs = [{ length_mm = 99, turn = "left" }, { length_mm = 900 }] }': (
        "legs.0.length_mm",
        "100 to 200000",
    ),
}


@pytest.mark.parametrize("plan", SHAPES)
def test_the_range_is_that_of_the_shape_given(plan: str) -> None:
    path, allowed = SHAPES[plan]
    fault = only(HEAD + WALL.replace('{ shape = "straight", length_mm = 1790 }', plan))
    assert fault.path == f"walls.0.plan.{path}"
    assert fault.problem == f"must be from {allowed}"


TAGS = {
    "plan = { length_mm = 900 }": ("plan.shape", "", "is missing", "straight"),
    'plan = { shape = "arc", radius_mm = 900 }': ("plan.shape", '"arc"', "is not known", "legs"),
    "plan = { shape = 3 }": ("plan.shape", "3", "is not known", "rectangle"),
    "plan = 900": ("plan", "900", "must be a table", ""),
    'end = { joint = "mortar" }': ("end.kind", "", "is missing", "abutment"),
    'start = { kind = "glued" }': ("start.kind", '"glued"', "is not known", "stop"),
}


@pytest.mark.parametrize("line", TAGS)
def test_the_kind_of_a_table_is_missing_or_unknown(line: str) -> None:
    path, value, problem, choice = TAGS[line]
    kept = [old for old in WALL.splitlines() if not old.startswith(line.split(" ", maxsplit=1)[0])]
    fault = only("\n".join([HEAD, *kept, line]))
    assert (fault.path, fault.value) == (f"walls.0.{path}", value)
    assert fault.problem.startswith(problem)
    assert choice in fault.hint


UNKNOWN = {
    ("[[walls]]", "[[walls]]\nhieght = 3"): ("walls.0.hieght", "perhaps height"),
    ("courses = 2", "courses = 2, course = 2"): ("walls.0.height.course", "perhaps courses"),
    ("1790", "1790, lenght_mm = 3"): ("walls.0.plan.lenght_mm", "perhaps length_mm"),
    ("1790", "1790, width_mm = 3"): ("walls.0.plan.width_mm", "known here: length_mm, shape"),
    ("height =", 'end = { kind = "stop", fixing = "ties" }\nheight ='): (
        "walls.0.end.fixing",
        "known here: kind",
    ),
    ("height =", 'end = { kind = "abutment", fixings = "ties" }\nheight ='): (
        "walls.0.end.fixings",
        "perhaps fixing",
    ),
    ("[[walls]]", "quantum = 3\n[[walls]]"): ("quantum", "known here: base, block, bond,"),
    ("[[walls]]", '"odd.key\\u001b" = 3\n[[walls]]'): ('"odd.key\\u001b"', "known here:"),
    ("[[walls]]", '"" = 3\n[[walls]]'): ('""', "known here:"),
}


@pytest.mark.parametrize("change", UNKNOWN)
def test_an_unknown_key_is_a_fault_with_a_suggestion(change: tuple[str, str]) -> None:
    path, hint = UNKNOWN[change]
    fault = only(HEAD + WALL.replace(*change))
    assert (fault.path, fault.problem) == (path, "is not a known key")
    assert hint in fault.hint


LATER = {
    "walls.0.plan": {
        "radius_mm": "curved walls",
        "curve": "curved walls",
        "turn_deg": "corners other than quarter turns",
        "angle_deg": "corners other than quarter turns",
    },
    "walls.0": {
        "slope_mm": "sloping ground and stepped footings",
        "slope_deg": "sloping ground and stepped footings",
        "steps": "sloping ground and stepped footings",
        "piers": "piers",
        "openings": "openings and gates",
        "junctions": "T junctions",
        "thickness_units": "walls two units thick",
        "units_thick": "walls two units thick",
    },
}


@pytest.mark.parametrize(("table", "key"), [(t, key) for t, keys in LATER.items() for key in keys])
def test_what_cannot_be_set_out_yet_is_refused_by_its_own_name(table: str, key: str) -> None:
    given = WALL.replace("1790", f"1790, {key} = 3") if "plan" in table else f"{WALL}{key} = 3\n"
    fault = only(HEAD + given)
    assert (fault.path, fault.value) == (f"{table}.{key}", "3")
    assert fault.problem == f"{LATER[table][key]} cannot be set out yet"


BAD_NAMES = ["../wall", "a/b", "/etc/wall", "..", "", "Wall", "1st", "a--b", "a-", "côté", "a b"]


@pytest.mark.parametrize("name", [*BAD_NAMES, "a\\\\b", "a\\u0000", "a\\n", "CON:", "a.toml"])
def test_a_wall_has_a_plain_name(name: str) -> None:
    fault = only(HEAD + WALL.replace('"wall"', f'"{name}"'))
    assert fault.path == "walls.0.name"
    assert fault.problem.startswith("must be small letters a to z and digits")
    assert "herb-bed" in fault.hint


def test_a_name_is_no_longer_than_a_drawing_can_show() -> None:
    fault = only(HEAD + WALL.replace('"wall"', f'"{"a" * 41}"'))
    assert fault.problem == "must be text of at most 40 characters, not 41"


def test_walls_of_one_name_are_told_apart_one_by_one() -> None:
    other = WALL.replace('"wall"', '"other"')
    found = faults(HEAD + WALL + other + WALL + WALL)
    assert [(f.path, f.value) for f in found] == [
        ("walls.2.name", '"wall"'),
        ("walls.3.name", '"wall"'),
    ]
    assert {f.problem for f in found} == {"is the name of walls.0 already"}


def test_a_size_that_is_not_known_is_a_fault_of_its_key() -> None:
    fault = only(HEAD.replace("440x140x140", "450x140x140") + WALL)
    assert (fault.path, fault.value) == ("block.size", '"450x140x140"')
    assert "440x140x140" in fault.problem


@pytest.mark.parametrize("table", ["block", "coping"])
def test_a_size_that_is_not_known_hides_no_other_fault_of_its_table(table: str) -> None:
    rows = {"block": 'block = { size = "440x140x140" }', "coping": ""}
    rows[table] = f'{table} = {{ size = "1x1", colour = 3, density_kg_m3 = 1, width_mm = 100 }}'
    found = faults("\n".join(['title = "Low wall"', *rows.values(), WALL]))
    paths = [f"{table}.{key}" for key in ("size", "colour", "density_kg_m3")]
    assert sorted(f.path for f in found) == sorted(paths)


def test_a_size_that_is_no_text_is_a_fault_of_its_key() -> None:
    fault = only(HEAD.replace('"440x140x140"', "440") + WALL)
    assert (fault.path, fault.value, fault.problem) == (
        "block.size",
        "440",
        "must be text in quotes",
    )


def test_a_block_without_a_size_wants_one_or_its_figures() -> None:
    found = faults(HEAD.replace('size = "440x140x140"', "length_mm = 440") + WALL)
    assert [(f.path, f.problem) for f in found] == [
        ("block.width_mm", "is missing"),
        ("block.height_mm", "is missing"),
    ]
    assert {f.hint for f in found} == {"give size, or every figure"}


def test_a_list_of_faulty_walls_is_not_said_to_be_empty() -> None:
    found = faults(HEAD + WALL.replace("1790", "0") + WALL.replace("courses = 2", "courses = 0"))
    assert [f.path for f in found] == [
        "walls.0.plan.length_mm",
        "walls.1.height.courses",
        "walls.1.name",
    ]


def test_a_list_of_faulty_legs_is_not_said_to_be_empty() -> None:
    legs = '{ shape = "legs", legs = [{ length_mm = 1 }, { length_mm = 2 }] }'
    found = faults(HEAD + WALL.replace('{ shape = "straight", length_mm = 1790 }', legs))
    assert [f.path for f in found] == [f"walls.0.plan.legs.{i}.length_mm" for i in (0, 1)]


COUNTS = {
    "walls = []": ("walls", "must be a list of at least 1"),
    "walls = 3": ("walls", "must be a list"),
    '[walls]\nname = "wall"': ("walls", "must be a list"),
    "walls = [3]": ("walls.0", "must be a table"),
    "": ("walls", "is missing"),
}


@pytest.mark.parametrize("walls", COUNTS)
def test_a_job_has_a_list_of_walls(walls: str) -> None:
    fault = only(HEAD + walls)
    assert (fault.path, fault.problem) == COUNTS[walls]
    if fault.problem == "must be a list":
        assert fault.hint == "head every wall with [[walls]]"


def test_a_job_has_at_most_forty_walls() -> None:
    walls = [WALL.replace('"wall"', f'"wall-{i}"') for i in range(41)]
    fault = only(HEAD + "".join(walls))
    assert (fault.path, fault.problem) == ("walls", "must be a list of at most 40, not 41")


EVERYWHERE = """
title = ""
colour = "red"
[block]
size = "440x140x140"
length_mm = true
[joints]
perp_mm = nan
[coping]
size = "600x240x50"
fall = { to = "left", mm = -6, in_mm = 240 }
[[walls]]
name = "../wall"
plan = { shape = "rectangle", length_mm = 0, width_mm = "900" }
height = { courses = 1.5 }
piers = 2
[[walls]]
name = "wall"
plan = { shape = "legs", legs = [{ length_mm = 900, turn = "up" }, { turn_deg = 30 }] }
start = { kind = "abutment", joint = "glue" }
height = { }
[[walls]]
name = "wall"
plan = { shape = "straight" }
height = { courses = 2, finished_mm = 500 }
"""


def test_every_fault_of_a_file_is_found_at_once() -> None:
    assert {f.path for f in faults(EVERYWHERE)} == {
        "title",
        "colour",
        "block.length_mm",
        "joints.perp_mm",
        "coping.fall.to",
        "coping.fall.mm",
        "walls.0.name",
        "walls.0.plan.length_mm",
        "walls.0.plan.width_mm",
        "walls.0.height.courses",
        "walls.0.piers",
        "walls.1.plan.legs.0.turn",
        "walls.1.plan.legs.1.length_mm",
        "walls.1.plan.legs.1.turn_deg",
        "walls.1.start.joint",
        "walls.1.height",
        "walls.2.name",
        "walls.2.plan.length_mm",
        "walls.2.height",
    }


CROSSING = """
[[walls]]
name = "crossing"
height = { courses = 2 }
plan = { shape = "legs", legs = [
    { length_mm = 3000, turn = "left" },
    { length_mm = 2000, turn = "left" },
    { length_mm = 1500, turn = "left" },
    { length_mm = 2500 },
] }
"""


def test_a_plan_that_crosses_itself_is_found_beside_a_wall_with_other_faults() -> None:
    found = faults(HEAD + WALL.replace("1790", "0") + CROSSING)
    assert [f.path for f in found] == ["walls.0.plan.length_mm", "walls.1.plan"]
    assert found[1].problem == "legs 1 and 4 cross or touch each other"


def test_a_wall_that_rests_on_a_faulty_table_is_not_judged_by_it() -> None:
    head = HEAD.replace('size = "440x140x140"', "length_mm = 0, width_mm = 140, height_mm = 140")
    assert [f.path for f in faults(head + CROSSING)] == ["block.length_mm"]


def test_a_fault_that_walls_share_is_told_once() -> None:
    both = "base = { level_mm = 0 }\nfooting = { depth_mm = 150 }\nclient = 5\n"
    other = WALL.replace('"wall"', '"other"')
    assert [f.path for f in faults(HEAD + both + WALL + other)] == ["client", "base"]


CLOSED = """
[[walls]]
name = "bed"
{body}
height = {{ courses = 2 }}
plan = {{ shape = "legs", closed = true, legs = [
    {{ length_mm = {first}, turn = "{turn}" }},
    {{ length_mm = 1500, turn = "{turn}" }},
    {{ length_mm = 3000, turn = "{turn}" }},
    {{ length_mm = 1500, turn = "{turn}" }},
] }}
"""
RIGHT = 'body = "right"'


@pytest.mark.parametrize(("body", "turn"), [("", "left"), (RIGHT, "right")])
def test_a_closed_plan_is_taken_either_way_round(body: str, turn: str) -> None:
    text = CLOSED.format(body=body, turn=turn, first=3000)
    assert loads(HEAD + text).walls[0].path.closed


@pytest.mark.parametrize(("body", "turn"), [("", "left"), (RIGHT, "right")])
def test_a_closed_plan_has_to_close(body: str, turn: str) -> None:
    fault = only(HEAD + CLOSED.format(body=body, turn=turn, first=2990))
    assert fault.path == "walls.0.plan.closed"
    assert fault.problem.startswith("the last leg ends")
    assert "10" in fault.problem


@pytest.mark.parametrize(("body", "turn"), [("", "right"), (RIGHT, "left")])
def test_a_closed_plan_turns_about_its_body(body: str, turn: str) -> None:
    fault = only(HEAD + CLOSED.format(body=body, turn=turn, first=3000))
    assert fault.path == "walls.0.plan.closed"
    assert fault.problem == "a closed plan turns once round, with its body inside"


STRAIGHT = '{ shape = "straight", length_mm = 1790 }'


@pytest.mark.parametrize(("closed", "missing"), [("false", (0, 2)), ("true", (0, 2, 3))])
def test_every_leg_without_a_turn_is_told(closed: str, missing: tuple[int, ...]) -> None:
    legs = '{ length_mm = 900 }, { length_mm = 900, turn = "left" }' + ", { length_mm = 900 }" * 2
    plan = f'{{ shape = "legs", closed = {closed}, legs = [{legs}] }}'
    found = faults(HEAD + WALL.replace(STRAIGHT, plan))
    assert [f.path for f in found] == [f"walls.0.plan.legs.{i}.turn" for i in missing]
    told = [f"is missing: leg {i + 1} needs one, left or right, to the next" for i in missing]
    assert [f.problem for f in found] == told


def test_the_last_leg_of_an_open_plan_has_no_turn() -> None:
    leg = '{ length_mm = 900, turn = "left" }'
    fault = only(
        HEAD + WALL.replace(STRAIGHT, f'{{ shape = "legs", legs = [{leg}, {leg}, {leg}] }}')
    )
    assert (fault.path, fault.value) == ("walls.0.plan.legs.2.turn", '"left"')
    assert fault.problem == "leg 3 is the last of an open plan: it has no turn"


RECTANGLE = '{ shape = "rectangle", length_mm = 2240, width_mm = 1340 }'
MEETS = '{ kind = "abutment" }'


def test_a_closed_plan_has_no_ends_to_meet_a_wall() -> None:
    closed = WALL.replace(STRAIGHT, RECTANGLE)
    found = faults(f"{HEAD}{closed}start = {MEETS}\nend = {MEETS}\n")
    assert [f.path for f in found] == ["walls.0.start", "walls.0.end"]
    assert {f.problem for f in found} == {"a closed plan has no ends"}
    assert loads(f'{HEAD}{closed}start = {{ kind = "stop" }}\n').walls[0].path.closed
    assert not loads(f"{HEAD}{WALL}start = {MEETS}\n").walls[0].path.closed


@pytest.mark.parametrize(("below", "faulty"), [(450, True), (300, True), (299, False)])
def test_a_wall_has_to_end_above_ground(below: int, faulty: bool) -> None:
    """Two courses of 150 end at ground level where the first starts 300 below it."""
    text = f"{HEAD}footing = {{ below_ground_mm = {below} }}\n{WALL}"
    if not faulty:
        assert loads(text).walls[0].gauge.finished == 1
        return
    fault = only(text)
    assert (fault.path, fault.value) == ("walls.0.height.courses", "2")
    assert fault.problem == f"the wall ends {below - 300} below ground"


@pytest.mark.parametrize(("level", "faulty"), [(-201, True), (-200, False)])
def test_no_fill_goes_deeper_than_the_footing(level: int, faulty: bool) -> None:
    """A footing 150 thick, 50 under ground."""
    text = f"{HEAD}{WALL.replace(STRAIGHT, RECTANGLE)}fill = {{ base_level_mm = {level} }}\n"
    if not faulty:
        assert loads(text).walls[0].fill is not None
        return
    fault = only(text)
    assert (fault.path, fault.value) == ("walls.0.fill.base_level_mm", "-201")
    assert fault.problem == "must not be less than -200, the underside of the footing"


@pytest.mark.parametrize("name", ["me", "J Smith", "        ", "  J S  "])
def test_a_design_is_named_with_its_calculations(name: str) -> None:
    fault = only(f'designed_by = "{name}"\n{HEAD}{WALL}')
    assert (fault.path, fault.value) == ("designed_by", f'"{name}"')
    assert fault.problem.startswith("must have at least 8 characters")
    assert loads(f'designed_by = "Sheet 31"\n{HEAD}{WALL}').job.designed_by == "Sheet 31"


SHORT = "block = { length_mm = 100, width_mm = 50, height_mm = 40 }\n"


@pytest.mark.parametrize(
    ("block", "cut"), [(100, 50), (150, 75), (215, 100), (400, 100), (440, 110)]
)
def test_the_usual_cut_is_never_more_than_half_a_block(block: int, cut: int) -> None:
    text = f'title = "Low wall"\n{SHORT.replace("100", str(block))}{WALL}'
    assert loads(text).walls[0].rules.min_cut == cut


def test_a_wall_of_ten_kilometres_is_refused() -> None:
    assert only(HEAD + WALL.replace("1790", "10_000_000")).problem == "must be from 100 to 1000000"


def test_a_million_blocks_are_refused() -> None:
    legs = ", ".join(
        f'{{ length_mm = 200_000, turn = "{turn}" }}'
        for turn in itertools.islice(itertools.cycle(("left", "right")), 10)
    )
    plan = f'{{ shape = "legs", legs = [{legs}, {{ length_mm = 200_000 }}] }}'
    text = WALL.replace('{ shape = "straight", length_mm = 1790 }', plan)
    found = faults(HEAD + text.replace("courses = 2", "courses = 60"))
    assert "walls" in [f.path for f in found]
    assert any(f.problem.startswith("at most 20000 in one job") for f in found)


@pytest.mark.parametrize("text", [HEAD, EVERYWHERE, "walls = [3]", "[walls]", "x = 1"])
def test_no_fault_speaks_of_the_program_instead_of_the_file(text: str) -> None:
    for fault in faults(text):
        assert "Input should" not in str(fault)
        assert not {"tuple", "dictionary", "instance"} & set(str(fault).lower().split())


def test_movement_joints_want_a_spacing() -> None:
    """No spacing suits every block, so none is taken for granted."""
    fault = only(HEAD + "movement = {}\n" + WALL)
    assert (fault.path, fault.problem) == ("movement.spacing_mm", "is missing")


def test_a_wall_s_own_movement_joints_replace_the_job_s() -> None:
    both = "movement = { spacing_mm = 6000, width_mm = 16 }\n"
    own = loads(HEAD + both + WALL + "movement = { spacing_mm = 3000 }\n").walls[0].movement
    general = loads(HEAD + both + WALL).walls[0].movement
    assert own is not None
    assert general is not None
    assert (own.spacing_mm, own.width_mm) == (3000, 10)
    assert (general.spacing_mm, general.width_mm) == (6000, 16)
