"""The bar chart: every bar within its sheet, its row and its day; marks that print in black."""

from __future__ import annotations

from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from helpers_order import straight

from parametric_wall.drawings.plots.gantt import gantt
from parametric_wall.drawings.sheet import Area, Line, Sheet, Text
from parametric_wall.export.svg import svg
from parametric_wall.order.days import schedule
from parametric_wall.setting_out.set_out import set_out

SHORT = {"courses": 2}
LONG = {"courses": 4, "length": 60_000, "more": "[crew]\npeople = 1\nhours_a_day = 4\n"}
FLIGHT = "[[walls]]\nname = '{}'\nplan = {{ shape = 'straight', length_mm = 890 }}\n"
MANY = {"more": "".join(f"{FLIGHT.format(f'w{i}')}height = {{ courses = 2 }}\n" for i in range(9))}
CASES = pytest.mark.parametrize("job", [SHORT, LONG, MANY], ids=["short", "long", "ten walls"])


def chart(job) -> tuple[Sheet, int, int]:
    spec = straight(**job)
    plan = schedule(spec, set_out(spec))
    shifts = sum(len(day.tasks) for day in plan.days)
    return gantt("front", spec.job.title, plan), shifts, plan.days[-1].number


@CASES
def test_everything_is_on_the_sheet(job) -> None:
    sheet, _, _ = chart(job)
    assert (sheet.width, sheet.height) == (170, 80)
    for mark in sheet.marks:
        points = mark.outline if isinstance(mark, Area) else ()
        points = mark.points if isinstance(mark, Line) else points
        points = (mark.at,) if isinstance(mark, Text) else points
        assert all(-1e-9 <= x <= 170 and -1e-9 <= y <= 80 for x, y in points)


@CASES
def test_a_bar_for_every_shift_and_no_text_too_small(job) -> None:
    sheet, shifts, days = chart(job)
    bars = [m for m in sheet.marks if isinstance(m, Area) and m.layer == "bar"]
    assert len(bars) == shifts
    edges = [52 + n * (170 - 52 - 3) / days for n in range(days + 1)]
    for bar in bars:
        left, right = bar.outline[0][0], bar.outline[1][0]
        assert any(a - 1e-9 <= left < right <= b + 1e-9 for a, b in pairwise(edges))
    assert min(m.height for m in sheet.marks if isinstance(m, Text)) >= 1.6


@CASES
def test_dates_do_not_run_into_each_other(job) -> None:
    sheet, _, _ = chart(job)
    at = [m.at[0] for m in sheet.marks if isinstance(m, Text) and m.anchor == "middle"]
    assert all(b - a >= 5 for a, b in pairwise(at))
    assert at
    assert max(at) <= 170 - 5


def test_it_is_told_in_words_too() -> None:
    sheet, _, _ = chart(SHORT)
    told = ET.fromstring(svg(sheet)).findtext("{http://www.w3.org/2000/svg}desc")
    assert "concrete footing, front: day 1" in told
    assert "lay courses 1 to 2, front: day 2" in told
