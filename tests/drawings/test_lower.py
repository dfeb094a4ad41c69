"""Views on paper: dimensions as ISO 129-1 has them (from memory), symbols in their places.

ISO 129-1: an extension line begins off what is measured and ends past the dimension line;
an oblique stroke stands at 45 degrees; a text stands over its line, to be read from below
or from the right. Heights of text are those of ISO 3098.
"""

from __future__ import annotations

import math

import pytest
from helpers_views import CUT, WHOLE, page, view
from hypothesis import given
from hypothesis import strategies as st

from parametric_wall.drawings.dimension_lines import leader_end, measured_text, upright
from parametric_wall.drawings.lower import lower
from parametric_wall.drawings.placing.boxes import text_box
from parametric_wall.drawings.sheet import Line, Mark, Point, Text
from parametric_wall.drawings.view import Dimension, Label, Page, Placed, Use, View, ViewMark

ZERO = (100.0, 80.0)


def on_paper(*marks: ViewMark, scale: float = 10.0) -> tuple[Mark, ...]:
    shown = View("v", "v", "v", scale, (WHOLE, CUT), marks)
    return lower(Page("p", "p", 210.0, 148.0, (Placed(shown, ZERO),))).marks


def text_of(marks: tuple[Mark, ...]) -> Text:
    (text,) = (mark for mark in marks if isinstance(mark, Text))
    return text


def lines_of(marks: tuple[Mark, ...]) -> list[tuple[Point, ...]]:
    return [mark.points for mark in marks if isinstance(mark, Line)]


def test_a_dimension_in_full() -> None:
    marks = on_paper(Dimension("dimensions", (0, 0), (440, 0), (0, -300)))
    left, right, line, first, second = lines_of(marks)
    assert line == ((100.0, 50.0), (144.0, 50.0))
    for extension, x in ((left, 100.0), (right, 144.0)):
        (x0, y0), (x1, y1) = extension
        assert (x0, x1) == (x, x)
        assert 0.5 <= 80.0 - y0 <= 2.0  # Off what is measured,
        assert 1.0 <= 50.0 - y1 <= 3.0  # and past the line.
    for stroke, x in ((first, 100.0), (second, 144.0)):
        (x0, y0), (x1, y1) = stroke
        assert ((x0 + x1) / 2, (y0 + y1) / 2) == (x, 50.0)
        assert math.degrees(math.atan2(y1 - y0, x1 - x0)) == pytest.approx(45.0)
    text = text_of(marks)
    assert (text.text, text.anchor, text.turn_deg, text.height) == ("440", "middle", 0.0, 2.5)
    assert text.at[0] == 122.0
    assert 50.0 < text.at[1] < 52.0


def test_an_upright_one_is_read_from_the_right() -> None:
    text = text_of(on_paper(Dimension("dimensions", (0, 0), (0, 140), (-180, 0), 90.0)))
    assert text.turn_deg == 90.0
    assert text.at[0] < 100.0 - 18.0  # Over the line for who looks from the right.


@given(st.floats(-360, 360))
def test_every_text_is_read_from_below_or_from_the_right(turn: float) -> None:
    read = upright(turn)
    assert -59.0 <= read <= 121.0
    assert math.isclose(math.sin(math.radians(2 * (read - turn))), 0.0, abs_tol=1e-6)


@given(st.floats(0.0, 0.6))
def test_thicknesses_of_a_leaning_coping_are_read_from_the_right(fall: float) -> None:
    """No coping is steeper: square to it, the figures of both edges lean off 90 either way."""
    lean = math.degrees(math.atan(fall))
    for turn in (90.0 + lean, 90.0 - lean, -90.0 + lean, -90.0 - lean):
        assert abs(upright(turn) - 90.0) <= lean + 1e-9


@given(st.floats(0, 359), st.floats(0.2, 5000))
def test_what_is_said_is_what_is_measured(turn: float, length: float) -> None:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    dim = Dimension("dimensions", (0, 0), (length * c, length * s), (100 * s, -100 * c), turn)
    back = Dimension("dimensions", dim.end, dim.start, dim.through, turn)
    for one in (dim, back):  # To a tenth, half of one up or down.
        assert abs(float(text_of(on_paper(one)).text) - length) <= 0.05 + 1e-9


@pytest.mark.parametrize(
    ("length", "said"),
    [(440.0, "440"), (399.24, "399.2"), (0.04, "0"), (66.6667, "66.7"), (20000.0, "20000")],
)
def test_lengths_are_said_to_a_tenth(length: float, said: str) -> None:
    assert measured_text(length) == said


def test_points_on_the_dimension_line_need_no_extension() -> None:
    marks = on_paper(Dimension("dimensions", (0, 0), (440, 0), (0, 0)))
    assert len(lines_of(marks)) == 3


def test_a_moved_text_has_a_leader_that_ends_before_it() -> None:
    dim = Dimension("dimensions", (440, 0), (450, 0), (0, -300), text_at=(300, -420))
    marks = on_paper(dim)
    text = text_of(marks)
    assert text.at == (130.0, 38.0)
    leader = lines_of(marks)[3]
    assert leader[0] == (144.5, 50.0)
    box = text_box(text.text, text.at, text.height, text.anchor)
    assert not box.crossed((leader[0], leader[1]))


@given(
    st.floats(-80, 80),
    st.floats(-80, 80),
    st.sampled_from(["start", "middle", "end"]),
    st.floats(-180, 180),
)
def test_a_leader_never_enters_its_text(x: float, y: float, anchor: str, turn: float) -> None:
    text = Text("text", (0.0, 0.0), "h1204", 2.5, anchor, turn)  # type: ignore[arg-type]
    figures = text_box("1204", text.at, text.height, text.anchor, turn)
    come_from = (x, y)
    end = leader_end(text, come_from)
    if math.dist(end, come_from) > 1e-6:
        assert not figures.crossed((come_from, end))


def test_a_label_stands_at_the_end_of_its_leader() -> None:
    label = Label("text", (300, 400), "c2", leader=((120, 220), (290, 350)))
    dot, line, text = on_paper(label)
    assert isinstance(line, Line)
    assert line.points[:2] == ((112.0, 102.0), (129.0, 115.0))
    assert isinstance(text, Text)
    assert text.at == (130.0, 120.0)
    xs = [p[0] for p in dot.outline]  # type: ignore[union-attr]
    assert (min(xs) + max(xs)) / 2 == pytest.approx(112.0)


@pytest.mark.parametrize(
    ("use", "corners"),
    [
        (Use("blocks", "block_440x140", (0, 0)), {(0, 0), (440, 0), (440, 140), (0, 140)}),
        (
            Use("blocks", "block_440x140", (440, 0), 0.0, mirrored=True),
            {(0, 0), (440, 0), (440, 140), (0, 140)},
        ),
        (Use("blocks", "block_440x140", (0, 0), 90.0), {(0, 0), (0, 440), (-140, 440), (-140, 0)}),
        (
            Use("blocks", "block_440x140", (0, 0), 90.0, mirrored=True),
            {(0, 0), (0, -440), (-140, -440), (-140, 0)},
        ),
    ],
)
def test_symbols_are_mirrored_then_turned_then_moved(use: Use, corners: set[Point]) -> None:
    outline = next(m for m in on_paper(use) if isinstance(m, Line) and m.closed)
    found = {(round((x - 100) * 10, 6), round((y - 80) * 10, 6)) for x, y in outline.points}
    assert found == corners


def test_a_sheet_is_told_as_its_views_are() -> None:
    sheet = lower(page(view(title="Front")))
    assert (sheet.told, sheet.width, sheet.height) == ("Front, told.", 210.0, 148.0)
