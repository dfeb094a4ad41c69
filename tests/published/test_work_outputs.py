"""How fast walls are built, and what has to wait.

Sources: estimating notes (half brick wall 1.00 h/m2 bricklayer and 0.35 labourer; mixing
mortar 2 h/m3); BS 8000-3 / BS EN 1996-2, as quoted: lifts of not more than 1.5 m a day;
common practice: six courses at a time, a footing left overnight before building on it, no
laying in air below 3 degrees and falling (the last from memory).
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from helpers_order import straight

from parametric_wall.job.labour import Outputs
from parametric_wall.order.days import Schedule, schedule
from parametric_wall.order.outputs import outputs
from parametric_wall.reference.tables import table
from parametric_wall.setting_out.set_out import set_out

HALF_BRICK = 'size = "215x102.5x65"'


def planned(**job) -> Schedule:
    spec = straight(**job)
    return schedule(spec, set_out(spec))


def days_of(plan: Schedule, key: str) -> list[int]:
    return [day.number for day in plan.days if any(s.task.key == key for s in day.tasks)]


def test_half_brick_takes_1_35_h_a_m2_and_mortar_2_h_a_m3() -> None:
    """6 courses at 75 over 3.590 m are 1.6155 m2: 2.1809 h; the mortar of the notes
    for half brick is 0.017615 m3/m2 before waste, less the perp that every course has not
    at its end."""
    (lay,) = (t for t in planned(courses=6, block=HALF_BRICK).tasks if t.stage == "lay")
    bricks, mortar = lay.works
    assert bricks.quantity == pytest.approx(3.590 * 6 * 0.075)
    assert bricks.hours == pytest.approx(1.6155 * (1.00 + 0.35))
    assert mortar.hours == pytest.approx(2 * 1.6155 * 0.017615, rel=0.02)


def test_blocks_are_laid_by_the_piece() -> None:
    """3590 = 8 x 440 + 7 x 10: eight whole blocks a course, or nine pieces in half bond."""
    (lay,) = (t for t in planned(courses=3).tasks if t.stage == "lay")
    assert lay.works[0].quantity == 8 + 9 + 8


@pytest.mark.parametrize(("courses", "lifts"), [(1, 1), (6, 1), (7, 2), (9, 2)])
def test_no_more_than_six_courses_a_day(courses: int, lifts: int) -> None:
    plan = planned(courses=courses, block=HALF_BRICK)
    lays = [t.key for t in plan.tasks if t.stage == "lay"]
    assert len(lays) == lifts
    for before, after in pairwise(lays):
        assert days_of(plan, before)[-1] < days_of(plan, after)[0]


@pytest.mark.parametrize(("height", "lifts"), [(240, 1), (290, 2)])
def test_no_more_than_a_metre_and_a_half_a_day(height: int, lifts: int) -> None:
    """Six courses gauged at 250 are 1.5 m; at 300 five are."""
    block = f"length_mm = 440, width_mm = 140, height_mm = {height}"
    plan = planned(courses=6, block=block, designed_by="calculations, sheet 1")
    assert sum(t.stage == "lay" for t in plan.tasks) == lifts


def test_a_footing_is_left_overnight() -> None:
    plan = planned()
    assert days_of(plan, "lay/front/1")[0] > days_of(plan, "concrete/front")[-1]


def test_copings_follow_the_last_lift_and_filling_follows_them() -> None:
    plan = planned(courses=7, block=HALF_BRICK, more='[coping]\nsize = "600x180x50"\n')
    last, copings = days_of(plan, "lay/front/2")[-1], days_of(plan, "copings/front")[0]
    assert last < copings < days_of(plan, "backfill/front")[0]


def test_three_degrees_is_a_caution_of_every_job() -> None:
    assert any("below 3 degrees and falling" in text for text in planned().cautions)


def test_ready_mixed_concrete_wants_no_mixer() -> None:
    """One lift without copings: mixed on the footing's day and the lift's, or the lift's alone."""
    assert planned().mixer_days == 2
    assert planned(more='[concrete]\nmade_of = "ready-mix"\n').mixer_days == 1


def test_all_that_is_dug_takes_its_hours() -> None:
    """Price-book order of size, 2.5 h/m3 to dig and 1 to cart away, from memory: 3.79 x 0.34 of
    trench, 250 deep, and 3.59 x 0.14 of wall in its upper 50 with the rest put back."""
    (dig,) = (t for t in planned().tasks if t.stage == "dig")
    dug = 3.79 * 0.34 * 0.25
    back = (3.79 * 0.34 - 3.59 * 0.14) * 0.05
    assert dig.hours == pytest.approx(2.5 * dug + 1.0 * (dug - back))


def test_every_output_names_source_and_standing() -> None:
    rows = table("outputs")
    assert set(rows) == set(Outputs.model_fields)
    assert all(row["source"] and row["standing"] for row in rows.values())
    standings = {row["standing"] for row in rows.values()}
    assert standings <= {"read", "common practice", "from memory"}


def test_the_job_file_has_the_last_word() -> None:
    slow = planned(more="[outputs]\nblocks_h_per_nr = 1\nfooting_nights = 4\n")
    (lay,) = (t for t in slow.tasks if t.stage == "lay")
    assert lay.works[0].hours == 25
    assert days_of(slow, "lay/front/1")[0] == 5
    known = outputs(Outputs(blocks_h_per_nr=1.0))
    assert known["blocks_h_per_nr"].standing == "the job file"
    assert known["copings_h_per_m"].standing == "from memory"
