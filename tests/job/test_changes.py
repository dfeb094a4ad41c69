"""Other values for single keys of a job: by number, by a wall's name, and wrong ones."""

from __future__ import annotations

from pathlib import Path

import pytest

from parametric_wall.errors import Fault, JobError
from parametric_wall.job.read import load, loads
from parametric_wall.job.resolve import JobSpec

TEXT = """\
title = "Two walls"
block = { size = "440x140x140" }

[[walls]]
name = "front"
plan = { shape = "straight", length_mm = 1790 }
height = { courses = 2 }

[[walls]]
name = "back"
plan = { shape = "legs", legs = [{ length_mm = 2240, turn = "left" }, { length_mm = 1790 }] }
height = { courses = 3 }
"""


def changed(**changes: str) -> JobSpec:
    return loads(TEXT, changes={key.replace("__", "."): text for key, text in changes.items()})


def faults(changes: dict[str, str]) -> tuple[Fault, ...]:
    with pytest.raises(JobError) as raised:
        loads(TEXT, changes=changes)
    return raised.value.faults


def test_by_the_walls_number() -> None:
    spec = changed(walls__1__height__courses="4")
    assert [w.gauge.courses for w in spec.walls] == [2, 4]


def test_by_the_walls_name() -> None:
    assert changed(walls__back__height__courses="4") == changed(walls__1__height__courses="4")


def test_by_the_legs_number() -> None:
    assert changed(walls__back__plan__legs__1__length_mm="900").walls[1].path.lengths == (2240, 900)


def test_several_at_once() -> None:
    spec = changed(title='"Other walls"', walls__front__height__courses="1")
    assert (spec.job.title, spec.walls[0].gauge.courses) == ("Other walls", 1)


def test_a_bare_word_is_text() -> None:
    assert changed(bond__wish="third").walls[0].bond.wish == "third"


def test_a_table_that_the_file_does_not_have() -> None:
    assert changed(joints__bed_mm="8").walls[0].joints.bed_mm == 8


def test_a_whole_table() -> None:
    spec = changed(walls__front__height="{ finished_mm = 320 }")
    assert spec.walls[0].gauge.wanted == 320


def test_a_whole_list() -> None:
    legs = '[{ length_mm = 900, turn = "right" }, { length_mm = 1000 }]'
    assert changed(walls__back__plan__legs=legs).walls[1].path.lengths == (900, 1000)


def test_from_a_file(tmp_path: Path) -> None:
    path = tmp_path / "walls.toml"
    path.write_text(TEXT, encoding="utf-8")
    assert load(path, changes={"title": "Other"}).job.title == "Other"


WRONG_PLACES = {
    "walls.2.height.courses": ('"2"', "use 0 to 1, "),
    "walls.-1.height.courses": ('"-1"', '"front", "back"'),
    "walls.٠.height.courses": ('"٠"', "use 0 to 1"),
    "walls.side.height.courses": ('"side"', '"front", "back"'),
    f"walls.{'9' * 5000}.name": ('"' + "9" * 56 + "...", "use 0 to 1"),
    "walls..name": ('""', "use 0 to 1"),
    "walls.7": ('"7"', "use 0 to 1"),
}


@pytest.mark.parametrize("path", WRONG_PLACES, ids=lambda path: path[:20])
def test_no_such_place_in_a_list(path: str) -> None:
    value, hint = WRONG_PLACES[path]
    (fault,) = faults({path: "2"})
    assert (fault.path, fault.value) == (path, value)
    assert fault.problem == "names no item of the list"
    assert hint in fault.hint


def test_legs_have_no_names_to_offer() -> None:
    (fault,) = faults({"walls.back.plan.legs.2.length_mm": "900"})
    assert fault.hint == "use 0 to 1"


def test_an_empty_list_has_no_place_to_offer() -> None:
    with pytest.raises(JobError) as raised:
        loads('title = "none"\nwalls = []', changes={"walls.0.name": "wall"})
    assert raised.value.faults[0].hint == ""


@pytest.mark.parametrize("path", ["title.text", "title.text.more", "walls.front.name.first"])
def test_a_path_through_what_is_no_table(path: str) -> None:
    (fault,) = faults({path: "2"})
    assert (fault.path, fault.problem) == (path, "leads through what is no table")


WRONG_VALUES = {
    ("walls.0.height.courses", "many"): '"many"',
    ("walls.0.height.courses", "2.5"): "2.5",
    ("walls.0.height.courses", "2,5"): '"2,5"',
    ("walls.0.height.courses", ""): '""',
    ("walls.0.height.courses", "9" * 5000): '"' + "9" * 56 + "...",
    ("walls.0.height.courses", "[" * 20_000): '"' + "[" * 56 + "...",
    ("walls.0.height.courses", "3\ntitle = 4"): '"3\\ntitle = 4"',
    ("walls.0.hight", "3"): "3",
    ("title", "\udcff"): '"\udcff"',
}


@pytest.mark.parametrize(
    "change", WRONG_VALUES, ids=lambda change: change[1][:8].encode("unicode_escape").decode()
)
def test_a_wrong_value_is_a_fault_like_one_of_the_file(change: tuple[str, str]) -> None:
    path, text = change
    (fault,) = faults({path: text})
    assert (fault.path, fault.value) == (path, WRONG_VALUES[change])


def test_every_wrong_change_is_told() -> None:
    found = faults({"walls.7.name": "wall", "walls.8.name": "wall", "title": "Two"})
    assert [f.path for f in found] == ["walls.7.name", "walls.8.name"]
