"""All views of any job: whole, finite, named once, and with no text over anything.

Lettering and its clearances follow ISO 3098 and ISO 129-1: no text over a line or a text.
"""

import math
from dataclasses import fields

import pytest
from helpers_plans import EXAMPLES, drawn, example, over_one_another, texts, undefined
from hypothesis import HealthCheck, given, settings
from strategies import jobs, laid_out

from parametric_wall.drawings.layers import LAYERS
from parametric_wall.drawings.pages import pages
from parametric_wall.drawings.plans.wall_plan import numbered
from parametric_wall.drawings.view import Label, View
from parametric_wall.drawings.views import letter, views
from parametric_wall.pack.draw import FRAME

NAMES = sorted(path.stem for path in EXAMPLES.glob("*.toml"))
PLANS = ("site", "footing", "lines", "squares", "section", "course", "coping")


def figures(value):
    """Every number in a mark, however deep."""
    if isinstance(value, float | int):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from figures(part)
    elif hasattr(value, "__dataclass_fields__"):
        for one in fields(value):
            yield from figures(getattr(value, one.name))


def sound(view: View) -> None:
    assert view.marks
    assert view.title
    assert view.told
    assert not undefined(view)
    assert all(math.isfinite(n) for part in (view.marks, view.symbols) for n in figures(part))
    marks = [*view.marks, *(m for symbol in view.symbols for m in symbol.marks)]
    assert {mark.layer for mark in marks} <= set(LAYERS)
    assert all(mark.height >= 2.5 for mark in view.marks if isinstance(mark, Label))


def on_sheets(spec, laid):
    """The views of a job as its sheets have them."""
    made = [
        placed.view
        for page in pages(spec.job.title, "", views(spec, laid))
        for placed in page.views
        if placed.view.name != FRAME
    ]
    assert len({view.name for view in made}) == len(made)
    return made


@pytest.mark.parametrize("name", [n for n in NAMES if n != "too-tall"])
def test_the_views_of_every_example(name) -> None:
    for view in on_sheets(*example(name)):
        sound(view)
        assert view.scale <= 50
        if view.name.startswith(PLANS):
            assert list(over_one_another(view)) == [], view.name


@settings(max_examples=10, deadline=None, suppress_health_check=list(HealthCheck))
@given(jobs())
def test_the_views_of_any_job(table) -> None:
    spec, laid = laid_out(table)
    made = on_sheets(spec, laid)
    for view in made:
        sound(view)
        if view.name.startswith(PLANS):
            assert list(over_one_another(view)) == [], view.name
    numbers = {str(point.number) for point in numbered(spec)["wall"]}
    for view in made:
        if view.name in ("footing-plan-wall", "lines-plan-wall"):
            assert numbers <= set(texts(view))


def test_the_order_of_the_sheets() -> None:
    spec, laid = example("herb-planter")
    names = [one.make(one.scales[0]).name for one in views(spec, laid)]
    assert names == [
        "site-plan",
        "footing-plan-herbs",
        "lines-plan-herbs",
        "squares-plan-herbs",
        "section-herbs",
        *(f"elevation-herbs-r{n}" for n in (1, 2, 3, 4)),
        "course-plan-herbs-c01",
        "course-plan-herbs-c02",
        "coping-plan-herbs",
        "gauge-rod-herbs",
        "gauge-rod-herbs-1",
    ]


def test_a_view_is_the_same_every_time() -> None:
    for name in ("terrace-nook", "orchard-wall"):
        assert drawn(*example(name)) == drawn(*example(name))


def test_the_letters_of_sections_are_those_of_columns() -> None:
    """A to Z, then AA, as columns of a sheet are counted: common practice."""
    assert [letter(n) for n in (0, 25, 26, 51, 52)] == ["A", "Z", "AA", "AZ", "BA"]
