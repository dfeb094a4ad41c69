"""Plots of calculations: well-formed, true to scale, everything on the sheet."""

from __future__ import annotations

from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from parametric_wall.checks.check import calculations
from parametric_wall.drawings.plots.plots import sheets
from parametric_wall.drawings.sheet import Area, Point, Sheet, Text
from parametric_wall.export.svg import CAPITAL, svg
from parametric_wall.job.read import loads

WIDEST = 0.62
"""Width of a letter over the font's size, on average: a broad plain font, common practice."""

LONG = "a-wall-with-a-name-as-long-as-one-can-be"


def sheet(
    courses: int = 3, spread: int = 105, depth: int = 150, more: str = "", name: str = "w"
) -> Sheet:
    spec = loads(
        'title = "plot"\n[block]\nsize = "440x140x140"\n[coping]\nsize = "600x240x50"\n'
        f"[footing]\nspread_mm = {spread}\ndepth_mm = {depth}\n{more}\n"
        f'[[walls]]\nname = "{name}"\nplan = {{ shape = "straight", length_mm = 3590 }}\n'
        f"height = {{ courses = {courses} }}\n"
    )
    (found,) = calculations(spec)
    (made,) = sheets(spec, found)
    return made


def test_a_wall_without_a_coping_has_one_too() -> None:
    spec = loads(
        'title = "plot"\n[block]\nsize = "440x140x140"\n[[walls]]\nname = "w"\n'
        'plan = { shape = "straight", length_mm = 3590 }\nheight = { courses = 2 }\n'
    )
    (made,) = sheets(spec, calculations(spec)[0])
    layers = [m.layer for m in made.marks if isinstance(m, Area)]
    assert sorted(layers) == ["concrete", "load area", "masonry"]


def points(made: Sheet) -> list[Point]:
    found: list[Point] = []
    for mark in made.marks:
        if isinstance(mark, Text):
            found.append(mark.at)
        else:
            found += mark.outline if isinstance(mark, Area) else mark.points
    return found


@pytest.mark.parametrize(
    ("courses", "spread", "depth"), [(1, 0, 50), (3, 105, 150), (12, 300, 600), (60, 1000, 2000)]
)
def test_all_of_it_is_on_the_sheet(courses: int, spread: int, depth: int) -> None:
    made = sheet(courses, spread, depth, '[ground]\nkind = "medium dense sand or gravel"', LONG)
    assert len(LONG) == 40
    assert all(0 <= x <= made.width and 0 <= y <= made.height for x, y in points(made))
    for mark in made.marks:
        if isinstance(mark, Text) and mark.anchor == "start":
            reach = len(mark.text) * mark.height / CAPITAL * WIDEST
            assert mark.at[0] + reach <= made.width, mark.text


def test_the_footing_is_drawn_to_the_scale_that_the_title_names() -> None:
    made = sheet()
    scale = int(made.title.rpartition(":")[2])
    concrete = next(m for m in made.marks if isinstance(m, Area) and m.layer == "concrete")
    xs, ys = zip(*concrete.outline, strict=True)
    assert (max(xs) - min(xs)) * scale == pytest.approx(350)
    assert (max(ys) - min(ys)) * scale == pytest.approx(150)
    wall = next(m for m in made.marks if isinstance(m, Area) and m.layer == "masonry")
    assert min(y for _, y in wall.outline) == pytest.approx(max(ys))


def test_what_is_shown_is_told_too() -> None:
    made = sheet()
    (found,) = calculations(
        loads(
            'title = "plot"\n[block]\nsize = "440x140x140"\n[coping]\nsize = "600x240x50"\n'
            '[footing]\nspread_mm = 105\n[[walls]]\nname = "w"\nheight = { courses = 3 }\n'
            'plan = { shape = "straight", length_mm = 3590 }\n'
        )
    )
    pressure = f"{found.figure('q').value:.1f} kPa"
    assert pressure in made.told
    assert any(pressure in m.text for m in made.marks if isinstance(m, Text))


def test_it_is_svg_the_same_every_time() -> None:
    data = svg(sheet())
    assert data == svg(sheet())
    root = ET.fromstring(data)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert root.get("width", "").endswith("mm")


def test_no_two_lines_of_figures_stand_on_each_other() -> None:
    rows = [m for m in sheet().marks if isinstance(m, Text) and m.height == 2.2]
    levels = sorted(m.at[1] for m in rows)
    assert len(rows) > 6
    assert all(above - below > 2.2 for below, above in pairwise(levels))
