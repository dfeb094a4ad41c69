"""Rows of dimensions: ISO 129-1's custom that details stand nearest and no text over another."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric_wall.drawings.placing.boxes import boxes
from parametric_wall.drawings.placing.dimensioning import Along, chains
from parametric_wall.drawings.view import View


def view(dimensions, scale):
    return View("v", "v", "v", scale, (), tuple(dimensions))


@st.composite
def rows(draw):
    lengths = draw(st.lists(st.sampled_from((10.0, 25.5, 65.0, 140.0, 290.0, 1940.0)), min_size=1))
    places = [0.0]
    for length in lengths:
        places.append(places[-1] + length)
    return [places, [0.0, *places[2:-1:3], places[-1]], [0.0, places[-1]]]


@settings(max_examples=60, deadline=None)
@given(
    rows(),
    st.sampled_from((0.0, 90.0, 180.0, 270.0)),
    st.sampled_from((1, -1)),
    st.sampled_from((5.0, 10.0, 20.0, 50.0)),
)
def test_no_text_over_another_and_every_row_adds_up(places, turn, side, scale):
    laid = chains(Along((100.0, 50.0), turn, side, scale), places)
    found = boxes(view(laid.dimensions, scale))
    for i, a in enumerate(found):
        for b in found[:i]:
            assert not a.meets(b)
    overall = places[0][-1]
    assert float(found[-1].text) == overall
    first = laid.dimensions[: len(places[0]) - 1]
    assert sum(float(box.text) for box in found[: len(first)]) == pytest.approx(overall)


def test_details_stand_nearest_and_the_overall_size_furthest_off():
    laid = chains(Along((0.0, 0.0), 0.0, -1, 20.0), [[0, 300, 600], [0, 600]])
    off = [-d.through[1] / 20.0 for d in laid.dimensions]
    assert off[0] == off[1] < off[2] < laid.reach
    assert off[0] >= 8.0
