"""How work is measured in a bill: RICS NRM2, sections 5 and 14, as university and RICS-based
notes have it.

Walls in m2 on the centre line with the thickness stated; a wall shorter on plan than four
thicknesses is an isolated pier; voids of 0.50 m2 or less are not deducted (from memory);
excavation in m3 as it stands, without bulking; copings, damp-proof courses and movement
joints in m. A one-brick wall is built 215 thick and co-ordinates to 225: 4.7 % more.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from helpers_order import straight

from parametric_wall.job.read import loads
from parametric_wall.order.bill import PREAMBLE, BillLine, bill
from parametric_wall.order.digging import backfilled
from parametric_wall.setting_out.set_out import set_out

ONE_BRICK = "length_mm = 440, width_mm = 215, height_mm = 100"
RECTANGLE = """
title = "rectangle"
block = { size = "290x140x140" }
[[walls]]
name = "bed"
plan = { shape = "rectangle", length_mm = 1940, width_mm = 1040 }
height = { courses = 3 }
dpc = { under_course = 2 }
"""


def billed(spec) -> dict[str, BillLine]:
    return {line.key.removeprefix("bill: "): line for line in bill(spec, set_out(spec))}


def one(lines: dict[str, BillLine], start: str) -> BillLine:
    (found,) = (line for key, line in lines.items() if key.startswith(start))
    return found


def test_the_centre_line_is_the_outer_girth_less_four_thicknesses() -> None:
    """1940 x 1040 outside, 140 thick: 2 x 2980 - 4 x 140 = 5400; three gauges of 150: 2.43 m2."""
    lines = billed(loads(RECTANGLE))
    assert one(lines, "wall").quantity == Decimal("2.43")
    assert one(lines, "damp-proof course").quantity == Decimal("5.40")
    assert one(lines, "wall").unit == "m2"


def test_a_thickness_is_the_built_one_and_the_bill_says_so() -> None:
    line = one(billed(straight(block=ONE_BRICK)), "wall")
    assert "215 thick as built" in line.description
    assert "225" not in line.description
    assert any("not as co-ordinated" in text for text in PREAMBLE)
    assert pytest.approx(0.047, abs=0.0005) == 225 / 215 - 1


@pytest.mark.parametrize(("length", "pier"), [(859, True), (860, False), (1340, False)])
def test_a_wall_shorter_than_four_thicknesses_is_an_isolated_pier(length: int, pier: bool) -> None:
    """4 x 215 = 860."""
    lines = billed(straight(length=length, block=ONE_BRICK))
    assert any(key.startswith("isolated pier") for key in lines) == pier
    assert any(key.startswith("wall") for key in lines) != pier


def test_a_trench_is_measured_as_it_stands() -> None:
    """(3590 + 2 x 100) x (140 + 2 x 100) = 1.2886 m2; 200 of concrete, 50 above it: 0.32215 m3
    dug, 0.25772 m3 of concrete, 0.064430 m3 less the wall's 3.59 x 0.14 x 0.05 = 0.02513
    filled in again: 0.03930; 0.28285 taken away."""
    lines = billed(straight())
    expected = {
        "foundation excavation": "0.32",
        "filling from excavation": "0.04",
        "disposal": "0.28",
        "concrete in foundations": "0.26",
    }
    for key, quantity in expected.items():
        assert (lines[key].quantity, lines[key].unit) == (Decimal(quantity), "m3")


def test_a_planter_dug_out_inside_is_not_filled_there_with_what_was_dug() -> None:
    """The fill takes the inner trench above the footing: with 140 walls and 100 of spread,
    inside 1660 x 760, it is 1.66 x .76 - 1.46 x .56 = 0.444 m2, 50 deep: 0.0222 m3 less."""
    filled = RECTANGLE + "fill = { base_level_mm = -50, drainage_mm = 50, below_coping_mm = 50 }\n"
    level = filled.replace("-50", "0")
    less = backfilled(loads(level).walls[0]) - backfilled(loads(filled).walls[0])
    assert less / 1e9 == pytest.approx(0.0222)


def test_what_is_dug_inside_a_planter_is_an_item_and_disposed_of_as_it_stood() -> None:
    """Inside its trench 1.46 x .56, 120 deep: 0.098 m3. Trench 2.14 x 1.24 less 1.46 x .56,
    200 deep: 0.367; back beside the wall, outside, 2.14 x 1.24 less 1.94 x 1.04, 50 deep: 0.032."""
    text = RECTANGLE + "fill = { base_level_mm = -120, drainage_mm = 50, below_coping_mm = 50 }\n"
    lines = billed(loads(text))
    assert lines["excavation inside planters"].quantity == Decimal("0.10")
    assert lines["foundation excavation"].quantity == Decimal("0.37")
    assert lines["filling from excavation"].quantity == Decimal("0.03")
    assert lines["disposal"].quantity == Decimal("0.43")


def test_soil_used_again_is_neither_imported_nor_disposed_of() -> None:
    text = RECTANGLE + "fill = { base_level_mm = 0, drainage_mm = 50, below_coping_mm = 50 }\n"
    before = billed(loads(text))
    after = billed(loads(text.replace("[[walls]]", "[digging]\nreuse_as_fill = true\n[[walls]]")))
    again = after["excavated soil in planters"].quantity
    assert again == before["disposal"].quantity
    assert "disposal" not in after
    assert after["topsoil"].quantity == pytest.approx(before["topsoil"].quantity - again)


def test_weep_holes_are_voids_that_are_not_deducted() -> None:
    """An open perp of 10 x 140 is 0.0014 m2, less than 0.50."""
    weeps = RECTANGLE + 'weeps = { kind = "open perps", spacing_mm = 700 }\n'
    lines = billed(loads(weeps))
    assert lines["weep hole"].quantity > 0
    assert one(lines, "wall").quantity == Decimal("2.43")


def test_movement_joints_and_copings_by_length() -> None:
    """7190 in panels of at most 6000: one joint, two gauges of 150 high, and in the copings'
    bed and thickness besides; copings are measured through, 7.19 m."""
    spec = straight(
        courses=2,
        length=7190,
        more='[movement]\nspacing_mm = 6000\n[coping]\nsize = "600x240x50"\n',
    )
    lines = billed(spec)
    assert one(lines, "coping 240 x 50").quantity == Decimal("7.19")
    assert lines["movement joint"].unit == "m"
    assert lines["movement joint"].quantity >= Decimal("0.30")
