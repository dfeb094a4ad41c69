"""Heights near the one asked for, with nominal beds: the marks of a gauge rod.

Four courses of 65 mm bricks on 10 mm beds are 300, one is 75; a 215 mm block and its bed
are 225 (common practice; multiples of 75 and 225 in a trade textbook). The levels asked
for are between the marks; whole courses meet the marks only.
"""

from __future__ import annotations

import json
import math

import pytest
from jsonschema import Draft202012Validator

from parametric_wall.export.records import json_bytes
from parametric_wall.job.read import loads
from parametric_wall.job.resolve import JobSpec
from parametric_wall.pack.compare import compared_record, compared_text
from parametric_wall.pack.nearby import near_heights, near_lengths
from parametric_wall.pack.schemas import schema
from parametric_wall.setting_out.advice import nominal_heights


def job(block: str, height: str, more: str = "", length: int = 1790) -> JobSpec:
    return loads(
        f'title = "rod"\n[block]\n{block}\n[base]\nlevel_mm = 0\n{more}\n[[walls]]\nname = "w"\n'
        f'plan = {{ shape = "straight", length_mm = {length} }}\nheight = {{ {height} }}\n'
    )


BRICK, BLOCK = 'size = "215x102.5x65"', 'size = "440x100x215"'
COPED = '[coping]\nsize = "600x180x50"'


@pytest.mark.parametrize(
    ("block", "asked", "marks"),
    [
        (BRICK, 310, [(4, 300), (5, 375)]),
        (BRICK, 290, [(3, 225), (4, 300)]),
        (BRICK, 460, [(6, 450), (7, 525)]),
        (BLOCK, 455, [(2, 450), (3, 675)]),
        (BLOCK, 560, [(2, 450), (3, 675)]),
        (BRICK, 60, [(1, 75)]),
    ],
)
def test_the_nearest_heights_are_the_marks_on_either_side(
    block: str, asked: float, marks: list[tuple[int, float]]
) -> None:
    (wall,) = job(block, f"finished_mm = {asked}").walls
    found = nominal_heights(wall)
    assert [g.courses for g in found] == [courses for courses, _ in marks]
    assert [g.finished for g in found] == pytest.approx([level for _, level in marks])
    assert all(g.bed == 10 for g in found)


@pytest.mark.parametrize("asked", [75, 300, 525])
def test_a_height_that_gauges_needs_no_other(asked: int) -> None:
    assert nominal_heights(job(BRICK, f"finished_mm = {asked}").walls[0]) == ()


def test_courses_always_gauge() -> None:
    assert nominal_heights(job(BRICK, "courses = 4").walls[0]) == ()


def test_under_a_coping_its_bed_and_thickness_come_on_top() -> None:
    """3 x 225 and 2 x 225, and a bed of 10 and a coping of 50 over either."""
    (wall,) = job(BLOCK, "finished_mm = 600", COPED).walls
    assert [g.finished for g in nominal_heights(wall)] == pytest.approx([510, 735])


def test_courses_of_a_family_come_in_their_order() -> None:
    """215 + 65 + 215 and a bed each: 225, 300, 525, 600."""
    block = "length_mm = 440\nwidth_mm = 100\nheights_mm = [215, 65]"
    (wall,) = job(block, "finished_mm = 420").walls
    assert [g.finished for g in nominal_heights(wall)] == pytest.approx([300, 525])


def test_what_a_height_saves_is_counted_in_the_whole_job() -> None:
    """Eight bricks to the course of 1790; a half at either end of every other, from one brick.

    Four courses: 8 + (7 and 1 cut in two) + 8 + 8 = 32, with 4 cuts; five are 40.
    """
    spec = job(BRICK, "finished_mm = 310")
    low, high = near_heights(spec)
    assert (low.then.blocks, low.then.cuts) == (32, 4)
    assert high.then.blocks == 40
    assert low.now == low.then
    assert (low.wall.gauge.courses, low.gauge.courses, high.gauge.courses) == (4, 4, 5)


def test_another_length_saves_what_two_jobs_differ_by() -> None:
    """1790 = 8 x 225 - 10 takes eight bricks to the course, and two halves from one of them."""
    spec = job(BRICK, "courses = 2", "[bond]\nadjust = false", length=1830)
    found = {near.suits.length: near for near in near_lengths(spec)}
    assert 1790 in found
    assert (found[1790].then.blocks, found[1790].then.cuts) == (16, 2)
    assert found[1790].now.cuts > 2
    assert all(near.then.cuts < near.now.cuts for near in found.values())


def test_the_sides_of_a_rectangle_change_together() -> None:
    """Girth 5400 is 18 blocks of 290 and a joint: none is cut (computed, as the sides suit)."""
    spec = loads(
        'title = "box"\n[block]\nsize = "290x140x140"\n[bond]\nadjust = false\n[[walls]]\n'
        'name = "w"\nheight = { courses = 2 }\n'
        'plan = { shape = "rectangle", length_mm = 2000, width_mm = 1040 }\n'
    )
    found = [near for near in near_lengths(spec) if near.suits.length == 1940]
    assert {(near.suits.run.number, near.with_run) for near in found} == {(1, 3), (3, 1)}
    assert {(near.then.blocks, near.then.cuts) for near in found} == {(36, 0)}


def test_no_height_past_the_limit_is_advised() -> None:
    """At 900 common practice leaves a wall to a professional; 12 courses of 75 are 900."""
    heights = [near.gauge.finished for near in near_heights(job(BRICK, "finished_mm = 895"))]
    assert heights == pytest.approx([825, 900])
    heights = [near.gauge.finished for near in near_heights(job(BRICK, "finished_mm = 890", COPED))]
    assert heights == pytest.approx([885])
    assert math.isclose(885 + 75, 960)


def test_screen_and_json_say_the_same_and_keep_to_the_schema() -> None:
    spec = job(BRICK, "finished_mm = 310", length=1830)
    record = json.loads(json_bytes(compared_record(spec)))
    Draft202012Validator(schema("bonds")).validate(record)
    assert [h["finished_mm"] for h in record["heights"]] == [300, 375]
    assert record["lengths"]
    text = " ".join(compared_text(spec).split())
    for row in record["heights"]:
        assert f"finished {row['finished_mm']:g} in place of 310" in text
    for row in record["lengths"]:
        assert f"{row['length_mm']:g} in place of 1830" in text
        assert f"{row['job']['blocks']} blocks, not {row['job']['blocks_now']}" in text
