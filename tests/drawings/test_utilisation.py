"""The diagram of the wind's utilisation: all of it on the sheet, nothing over anything else."""

from __future__ import annotations

from itertools import combinations
from xml.etree import ElementTree as ET

import pytest

from parametric_wall.drawings.plots.utilisation import utilisation_sheet
from parametric_wall.drawings.sheet import Area, Line, Sheet, Text
from parametric_wall.export.svg import svg
from parametric_wall.job.read import loads

PLANS = {
    "straight": ('{ shape = "straight", length_mm = 5400 }', 4),
    "low": ('{ shape = "straight", length_mm = 5400 }', 1),
    "L": (
        '{ shape = "legs", legs = [{ length_mm = 5400, turn = "left" }, { length_mm = 2400 }] }',
        3,
    ),
    "three-sided": (
        (
            '{ shape = "legs", legs = [{ length_mm = 1190, turn = "left" }, '
            '{ length_mm = 2390, turn = "left" }, { length_mm = 1190 }] }'
        ),
        3,
    ),
    "very short": ('{ shape = "straight", length_mm = 500 }', 4),
    "40 m": ('{ shape = "straight", length_mm = 40000 }', 6),
    "ring": ('{ shape = "rectangle", length_mm = 3000, width_mm = 900 }', 3),
    "zigzag": (
        '{ shape = "legs", legs = ['
        + "".join(
            f'{{ length_mm = 1500, turn = "{"left" if i // 2 % 2 else "right"}" }}, '
            for i in range(14)
        )
        + "{ length_mm = 1500 }] }",
        4,
    ),
}


def sheet(name: str) -> Sheet:
    plan, courses = PLANS[name]
    spec = loads(
        'title = "drawn"\n[block]\nlength_mm = 440\nwidth_mm = 215\nheight_mm = 190\n[wind]\n'
        f'basic_velocity_m_s = 22\n[[walls]]\nname = "w"\nplan = {plan}\n'
        f"height = {{ courses = {courses} }}\n"
    )
    assert spec.job.wind is not None
    return utilisation_sheet(spec.walls[0], spec.job.wind, spec.job.masonry)


def box(text: Text) -> tuple[float, float, float, float]:
    """Left, bottom, right, top. A character is 0.85 of a capital wide at the most, on average."""
    wide = 0.85 * text.height * len(text.text)
    x, y = text.at
    x -= {"start": 0.0, "middle": wide / 2, "end": wide}[text.anchor]
    if text.turn_deg == 90:
        return text.at[0] - text.height, text.at[1] - wide / 2, text.at[0], text.at[1] + wide / 2
    return x, y, x + wide, y + text.height


@pytest.mark.parametrize("name", PLANS)
def test_everything_is_on_the_sheet(name: str) -> None:
    drawn = sheet(name)
    assert (drawn.width, drawn.height) == (170, 84)
    for mark in drawn.marks:
        if isinstance(mark, Text):
            left, low, right, high = box(mark)
            points = [(left, low), (right, high)]
        else:
            points = list(mark.points if isinstance(mark, Line) else mark.outline)
        assert all(0 <= x <= drawn.width and 0 <= y <= drawn.height for x, y in points), mark


@pytest.mark.parametrize("name", PLANS)
def test_no_text_lies_on_another(name: str) -> None:
    texts = [m for m in sheet(name).marks if isinstance(m, Text)]
    for a, b in combinations(texts, 2):
        (al, ay, ar, at), (bl, by, br, bt) = box(a), box(b)
        apart = ar <= bl + 1e-9 or br <= al + 1e-9 or at <= by or bt <= ay
        assert apart, (a.text, b.text)


def test_the_steps_stand_at_the_zones_and_at_their_ratios() -> None:
    """5.4 m, 0.75 m high: A reaches 0.3 h = 0.225 m from each end, of 150 mm of paper."""
    drawn = sheet("straight")
    curve = next(m for m in drawn.marks if isinstance(m, Line) and m.layer == "curve")
    limit = next(m for m in drawn.marks if isinstance(m, Line) and m.layer == "limit")
    assert (limit.points[0][0], limit.points[1][0]) == (15, 165)
    xs = sorted({round(x, 6) for x, _ in curve.points})
    ends = (0, 0.225, 1.5, 3.9, 5.175, 5.4)
    assert xs == pytest.approx([15 + 150 * e / 5.4 for e in ends], abs=1e-6)
    # The table's coefficients at l/h = 7.2, as the heights of the steps over the floor.
    a, b, c = (y - 19 for y in sorted({round(y, 6) for _, y in curve.points}, reverse=True))
    assert a / c == pytest.approx((2.9 + 0.5 * 2.2 / 5) / (1.4 + 0.3 * 2.2 / 5))
    assert b / c == pytest.approx((1.8 + 0.3 * 2.2 / 5) / (1.4 + 0.3 * 2.2 / 5))


def test_as_svg_it_is_well_formed_and_told_in_words() -> None:
    drawn = sheet("L")
    root = ET.fromstring(svg(drawn))
    assert root.attrib["width"] == "170mm"
    assert "zone A" in drawn.told
    assert "does not say that the wall is safe" in drawn.told
    assert any(isinstance(m, Area) for m in drawn.marks)
