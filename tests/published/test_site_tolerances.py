"""What a wall may be out by. BS 5606 / BS 8000-3 as quoted in a block manual and a warranty
manual's chapter 1 (read); BS EN 1996-2 Table 3.1 (from memory). Squareness: computed, textbook."""

from __future__ import annotations

import math

import pytest

from parametric_wall.checks.on_site import SiteCheck, check_sheet
from parametric_wall.job.read import loads
from parametric_wall.reference.tolerances import (
    diagonal,
    racked_diagonals,
    straightness_names,
    three_four_five,
    tolerance,
    verticality_names,
)


@pytest.mark.parametrize(
    ("name", "value", "over"),
    [
        ("position", 10, None),
        ("straightness", 5, 5000),
        ("verticality_to_3_m", 10, 3000),
        ("verticality_to_7_m", 14, 7000),
        ("thickness", 10, None),
        ("bed_from_average", 5, None),
        ("warranty_straightness", 10, 5000),
        ("warranty_straightness_longer", 15, None),
        ("warranty_verticality", 20, None),
    ],
)
def test_rows_that_were_read(name: str, value: float, over: float | None) -> None:
    row = tolerance(name)
    assert (row.value, row.over, row.standing) == (value, over, "read")


@pytest.mark.parametrize(
    ("name", "value", "over"),
    [
        ("en_verticality", 20, None),
        ("en_straightness", 10, 1000),
        ("en_straightness_10_m", 50, 10_000),
    ],
)
def test_rows_of_en_1996_2_are_from_memory(name: str, value: float, over: float | None) -> None:
    row = tolerance(name)
    assert (row.value, row.over, row.standing) == (value, over, "from memory")


@pytest.mark.parametrize(("height", "most"), [(600, 10), (3000, 10), (3001, 14), (7000, 14)])
def test_plumb_by_height(height: float, most: float) -> None:
    assert tolerance(verticality_names(height)[0]).value == most


def test_no_row_of_bs_5606_is_stretched_past_7_m() -> None:
    assert verticality_names(7001) == ("warranty_verticality", "en_verticality")


@pytest.mark.parametrize(("length", "most"), [(5000, {5, 10}), (5001, {5, 10, 15})])
def test_straight_by_length(length: float, most: set[float]) -> None:
    assert {tolerance(name).value for name in straightness_names(length)} == most


@pytest.mark.parametrize(
    ("a", "b", "across"), [(1040, 1940, 2201.2), (2240, 3590, 4231.5), (3000, 4000, 5000)]
)
def test_diagonals(a: float, b: float, across: float) -> None:
    assert diagonal(a, b) == pytest.approx(across, abs=0.05)


def test_10_out_on_a_4_m_side_puts_the_diagonals_12_apart() -> None:
    longer, shorter = racked_diagonals(3000, 4000, 10)
    assert (longer, shorter) == pytest.approx((5006.0, 4994.0), abs=0.05)
    assert longer - shorter == pytest.approx(12, abs=0.05)


@pytest.mark.parametrize(
    ("short", "long", "square"),
    [
        (900, 1200, (900, 1200, 1500)),
        (1500, 2000, (1500, 2000, 2500)),
        (1040, 1940, (900, 1200, 1500)),
        (3000, 3000, (2100, 2800, 3500)),
        (299, 5000, None),
        (399, 399, None),
    ],
)
def test_three_four_five(short, long, square) -> None:
    assert three_four_five(short, long) == square


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan])
def test_nonsense_is_refused(bad: float) -> None:
    for call in (
        lambda: verticality_names(bad),
        lambda: straightness_names(bad),
        lambda: diagonal(bad, 1),
        lambda: racked_diagonals(3000, bad, 10),
        lambda: three_four_five(bad, 400),
        lambda: three_four_five(400, bad),
    ):
        with pytest.raises(ValueError, match="must be"):
            call()
    with pytest.raises(ValueError, match="out must be"):
        racked_diagonals(3000, 4000, 4000)


def sheet(plan: str, more: str = "", courses: int = 3) -> dict[str, list[SiteCheck]]:
    spec = loads(
        'title = "sheet"\n[block]\nsize = "440x140x140"\n[coping]\nsize = "600x240x50"\n'
        f'[[walls]]\nname = "w"\nplan = {plan}\nheight = {{ courses = {courses} }}\n{more}\n'
    )
    rows: dict[str, list[SiteCheck]] = {}
    for row in check_sheet(spec):
        rows.setdefault(row.what, []).append(row)
    return rows


RECTANGLE = '{ shape = "rectangle", length_mm = 1940, width_mm = 1040 }'
STRAIGHT = '{ shape = "straight", length_mm = 5990 }'
LEGS = '{ shape = "legs", legs = [{ length_mm = 3590, turn = "left" }, { length_mm = 2240 }] }'


def test_the_sheet_of_a_rectangle() -> None:
    rows = sheet(RECTANGLE)
    (across,) = rows["diagonals"]
    assert across.value == "2201.2"
    # sqrt(1050 x 1050 + 1940 x 1940 - 100) and sqrt(1030 x 1030 + 1940 x 1940 - 100)
    assert "2205.9 and 2196.5" in across.allowed
    (corner,) = rows["corner between 1040 and 1940"]
    assert (corner.how.split()[0], corner.value) == ("900", "1500")
    (beds,) = rows["bed joints"]
    assert (beds.value, beds.allowed) == ("10.0", "5 either way of the average")
    assert "150.0" in beds.how
    assert rows["depth of the trench"][0].allowed == "not less than 200"
    assert rows["lap"][0].allowed == "not less than 56"
    assert [row.standing for row in rows["verticality"]] == ["read", "read", "from memory"]


def test_the_sheet_of_a_straight_wall_has_no_corner() -> None:
    rows = sheet(STRAIGHT)
    assert not [what for what in rows if what.startswith(("corner", "diagonals"))]
    assert rows["straightness"][0].allowed == "5 either way in any 5 m"
    assert rows["straightness"][1].allowed == "15 either way"


def test_the_sheet_of_an_open_corner_has_no_diagonals() -> None:
    rows = sheet(LEGS)
    assert "diagonals" not in rows
    assert rows["corner between 2240 and 3590"][0].value == "3500"


def test_a_base_and_an_existing_wall_are_on_the_sheet() -> None:
    more = 'start = { kind = "abutment" }\nbase = { level_mm = 0 }'
    rows = sheet(STRAIGHT, more)
    assert "existing base" in rows
    assert "depth of the trench" not in rows
    assert "30 (1/2 brick)" in rows["existing wall at its start"][0].allowed


def test_every_row_says_where_it_comes_from_and_how_far_that_can_be_trusted() -> None:
    for plan in (RECTANGLE, STRAIGHT, LEGS):
        for rows in sheet(plan).values():
            for row in rows:
                assert all((row.where, row.what, row.how, row.value, row.allowed, row.source))
                assert row.standing in ("read", "computed", "common practice", "from memory")
