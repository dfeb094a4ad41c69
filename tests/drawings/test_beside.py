"""What stands beside a drawing, at its corners: no text over anything."""

from itertools import chain as joined
from itertools import pairwise

import pytest
from helpers_sheets import overlaps
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric_wall.drawings.lower import lower
from parametric_wall.drawings.placing.beside import Frame, Mark, SideText, around
from parametric_wall.drawings.view import Page, Placed, View

FRAME = Frame(0.0, 0.0, 100.0, 100.0, 1.0)
AT = {
    "below": lambda t: (t, 0.0),
    "above": lambda t: (t, 100.0),
    "left": lambda t: (0.0, t),
    "right": lambda t: (100.0, t),
}


def beside_of(texts):
    view = View("view", "view", "", 1.0, (), around(FRAME, texts))
    return lower(Page("page", "page", 0.0, 0.0, (Placed(view, (0.0, 0.0)),)))


def marks_at(side, places):
    return [Mark(AT[side](t), f"r1/cop/{i:02d}") for i, t in enumerate(places)]


@pytest.mark.parametrize("corner", [0.0, 100.0])
@pytest.mark.parametrize("sides", [("below", "left"), ("above", "right"), tuple(AT)])
def test_marks_pushed_past_a_corner_keep_off_those_of_the_next_side(sides, corner):
    texts = {side: SideText(marks=marks_at(side, [corner] * 6)) for side in sides}
    assert list(overlaps(beside_of(texts))) == []


@settings(deadline=None)
@given(
    st.fixed_dictionaries(
        {},
        optional={
            side: st.tuples(
                st.lists(st.integers(0, 100), max_size=8),
                st.lists(st.integers(0, 100), max_size=6, unique=True),
            )
            for side in AT
        },
    )
)
def test_marks_and_figures_beside_any_drawing(drawn):
    texts = {}
    for side, (marks, row) in drawn.items():
        points = [AT[side](t) for t in sorted(row)]
        pairs = list(pairwise(points))
        texts[side] = SideText({1: pairs}, marks_at(side, marks))
    sheet = beside_of(texts)
    assert list(overlaps(sheet)) == []
    told = list(joined.from_iterable(t.marks for t in texts.values()))
    assert {m.text for m in told} <= {m.text for m in sheet.marks if hasattr(m, "text")}
