"""The sheet of the pressure on a wall: to scale, whole, and telling its figures."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import combinations

import pytest

from parametric_wall.checks.sections import sections
from parametric_wall.drawings.layers import LAYERS
from parametric_wall.drawings.plots.pressure import pressure_sheets
from parametric_wall.drawings.sheet import Area, Line, Sheet, Text
from parametric_wall.export.svg import CAPITAL, svg
from parametric_wall.job.read import loads

CASES = {
    "dry": "retained_mm = 450, water_mm = 0",
    "no surcharge": "retained_mm = 450, water_mm = 0, surcharge_kPa = 0",
    "water": "retained_mm = 450, water_mm = 350",
    "full of water": "retained_mm = 450, surcharge_kPa = 12.25, weight_kN_m3 = 18.25",
    "sloping": "retained_mm = 400, slope_deg = 18, friction_deg = 32, water_mm = 0",
    "sloping, in water": "retained_mm = 400, slope_deg = 18, friction_deg = 32",
    "steep": "retained_mm = 350, slope_deg = 40, friction_deg = 50, water_mm = 100",
    "low": "retained_mm = 20, water_mm = 0",
}
THICK = ("440x140x140", "440x215x215")


def sheets(soil: str, block: str = "440x215x215", spread: int = 200, courses: int = 4):
    spec = loads(
        f"""
title = "pressure"
coping = {{ size = "600x275x60" }}
block = {{ size = "{block}" }}
footing = {{ spread_mm = {spread} }}
[[walls]]
name = "a-long-name-for-the-bank-by-the-terrace"
plan = {{ shape = "straight", length_mm = 4490 }}
height = {{ courses = {courses} }}
soil = {{ {soil} }}
"""
    )
    return spec.walls[0], pressure_sheets(spec.walls[0])


def extent(mark: Line | Area | Text) -> tuple[float, float, float, float]:
    """The box of a mark, paper mm; a letter of a sans-serif is taken for 0.62 of its size wide."""
    if isinstance(mark, Text):
        wide = 0.62 * mark.height / CAPITAL * len(mark.text)
        x = mark.at[0] - {"start": 0.0, "middle": wide / 2, "end": wide}[mark.anchor]
        return x, mark.at[1], x + wide, mark.at[1] + mark.height
    points = mark.points if isinstance(mark, Line) else mark.outline
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def every_sheet() -> list[Sheet]:
    return [
        sheet
        for soil in CASES.values()
        for block in THICK
        for spread in (0, 100, 600)
        for sheet in sheets(soil, block, spread)[1]
    ]


def test_nothing_is_cut_off_and_every_layer_is_known() -> None:
    for sheet in every_sheet():
        assert (sheet.width, sheet.height) == (120, 90)
        for mark in sheet.marks:
            assert mark.layer in LAYERS
            left, low, right, high = extent(mark)
            assert left >= 1, mark
            assert low >= 1, mark
            assert right <= sheet.width, mark
            assert high <= sheet.height - 1, mark


def test_no_text_lies_on_another() -> None:
    for sheet in every_sheet():
        texts = [mark for mark in sheet.marks if isinstance(mark, Text)]
        for one, other in combinations(texts, 2):
            a, b = extent(one), extent(other)
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            assert apart, (one, other)


@pytest.mark.parametrize("soil", CASES.values(), ids=CASES)
def test_it_is_well_formed_and_in_millimetres(soil: str) -> None:
    for sheet in sheets(soil)[1]:
        root = ET.fromstring(svg(sheet))
        assert (root.get("width"), root.get("height")) == ("120mm", "90mm")
        assert svg(sheet) == svg(sheet)


def test_the_wall_is_drawn_to_the_scale_that_it_says() -> None:
    """A block of 215 under four courses of 225; the footing 615 wide and 150 deep."""
    _, (foot, under) = sheets(CASES["dry"])
    for sheet in (foot, under):
        (scale,) = (
            float(m.text.split("1:")[1])
            for m in sheet.marks
            if isinstance(m, Text) and "1:" in m.text
        )
        left, low, right, high = extent(
            next(m for m in sheet.marks if isinstance(m, Area) and m.layer == "masonry")
        )
        assert (right - left, high - low) == pytest.approx((215 / scale, 900 / scale))
    left, low, right, high = extent(next(m for m in under.marks if m.layer == "concrete"))
    assert (right - left, high - low) == pytest.approx((615 / scale, 150 / scale))
    assert not any(m.layer == "concrete" for m in foot.marks)


@pytest.mark.parametrize("soil", CASES.values(), ids=CASES)
def test_it_tells_the_figures_of_the_calculation(soil: str) -> None:
    wall, drawn = sheets(soil)
    for section, sheet in zip(sections(wall), drawn, strict=True):
        texts = [m.text for m in sheet.marks if isinstance(m, Text)]
        for name in {t.name.split()[0] for t in section.thrusts()}:
            force = sum(t.force for t in section.thrusts() if t.name.split()[0] == name)
            below = len(texts) - texts[::-1].index(name)  # The water's level has its name too.
            assert texts[below + 1] == f"{force:.2f} kN/m"
        assert f"{section.vertical:.2f} kN/m" in sheet.told


def test_a_wall_that_goes_over_says_so() -> None:
    _, (foot, _) = sheets("retained_mm = 500, surcharge_kPa = 10", "440x140x140", 100)
    assert any(isinstance(m, Text) and "leaves the base" in m.text for m in foot.marks)
    assert "leaves the base" in foot.told


def test_the_diagrams_share_one_scale() -> None:
    """kPa over paper width is the same for soil, surcharge and water."""
    wall, drawn = sheets(CASES["water"])
    for section, sheet in zip(sections(wall), drawn, strict=True):
        areas = [m for m in sheet.marks if isinstance(m, Area) and m.layer == "load area"][:3]
        widths = [extent(m)[2] - extent(m)[0] for m in areas]
        kpa = [
            section.soil_pressures[-1][1],
            section.surcharge_pressure,
            9.81 * section.water_m,
        ]
        assert [w / p for w, p in zip(widths, kpa, strict=True)] == pytest.approx(
            [widths[0] / kpa[0]] * 3
        )


def test_without_soil_there_is_no_sheet() -> None:
    assert sheets("friction_deg = 30")[1] == ()
