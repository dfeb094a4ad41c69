"""Facts of bonding.

l = 2t + j turns a corner with no closer, and a closed rectangle then has centre-line
girth / (l + j) whole units a course (computed). Half-bond closers of (l - j) / 2 - t - j
beside a return; n (l + j) - j between stop ends, + j for each abutment (common practice).
A block return laps by a quarter of a block at the least (trade-college page).
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from parametric_wall.job.read import loads
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.closed_form import measure


def job(block: str, plan: str, courses: int = 4, more: str = "") -> JobSpec:
    return loads(
        f'title = "bond"\n[block]\nsize = "{block}"\n[bond]\nwish = "half"\n[[walls]]\nname = "w"\n'
        f"plan = {plan}\nheight = {{ courses = {courses} }}\n{more}\n"
    )


def test_eighteen_whole_blocks_a_course_and_no_cut() -> None:
    spec = job("290x140x140", '{ shape = "rectangle", length_mm = 1940, width_mm = 1040 }')
    assert measure(spec.walls[0]).girth(70) == 5400
    runs = set_out(spec).walls[0].bonded
    for course in range(4):
        pieces = [p for run in runs for p in run.bond.courses[course].pieces]
        assert pieces == [290.0] * 18
        for run in runs:  # A pinwheel: each run goes through at one end and butts at the other.
            assert sorted(run.bond.courses[course].span.meets) == ["butt", "through"]


@pytest.mark.parametrize(
    ("block", "closer"),
    [("440x100x215", 105), ("440x140x215", 65), ("390x90x190", 90)],
)
def test_the_closer_that_half_bond_needs_beside_a_return(block: str, closer: float) -> None:
    length, width, _ = map(float, block.split("x"))
    # An L whose legs suit the block: whole blocks in the course that goes through.
    legs = [n * (length + 10) - 10 for n in (6, 4)]
    plan = (
        f'{{ shape = "legs", legs = [{{ length_mm = {legs[0]}, turn = "left" }}, '
        f"{{ length_mm = {legs[1] + width + 10} }}] }}"
    )
    first = set_out(job(block, plan)).walls[0].bonded[0].bond
    assert first.misses == 0
    butting = [c for c in first.courses if c.span.meets[1] == "butt"]
    assert butting
    assert all(c.pieces[-1] == pytest.approx(closer) for c in butting)


@pytest.mark.parametrize(
    ("start", "end", "length"),
    [
        ("stop", "stop", 8 * 450 - 10),
        ("stop", "abutment", 8 * 450),
        ("abutment", "abutment", 8 * 450 + 10),
    ],
)
def test_lengths_of_whole_blocks_between_ends(start: str, end: str, length: float) -> None:
    more = f'start = {{ kind = "{start}" }}\nend = {{ kind = "{end}" }}'
    plan = f'{{ shape = "straight", length_mm = {length} }}'
    run = set_out(job("440x100x215", plan, more=more)).walls[0].bonded[0]
    assert any(c.pieces == (440.0,) * 8 for c in run.bond.courses)
    assert run.bond.lap == 215.0


@pytest.mark.parametrize(
    ("wish", "perp_to_perp"), [("half", 225), ("third", 150), ("quarter", 112.5)]
)
def test_laps_of_a_440_block(wish: str, perp_to_perp: float) -> None:
    """From perp to perp; a block then overlaps the one below by a joint less."""
    spec = loads(
        f'title = "bond"\n[block]\nsize = "440x100x215"\n[bond]\nwish = "{wish}"\n'
        '[[walls]]\nname = "w"\nheight = { courses = 4 }\n'
        'plan = { shape = "straight", length_mm = 3590 }\n'
    )
    bond = set_out(spec).walls[0].bonded[0].bond
    assert bond.misses == 0
    assert bond.lap + 10 == pytest.approx(perp_to_perp)


def test_a_block_return_laps_by_its_thickness_and_a_joint() -> None:
    """Without closers. A quarter of 440 is 112.5; a return 100 thick gives 110 perp to perp."""
    plan = '{ shape = "legs", legs = [{ length_mm = 2250, turn = "left" }, { length_mm = 2250 }] }'
    spec = job(
        "440x100x215",
        plan,
        more='bond = { wish = "best", min_cut_mm = 330, min_closer_mm = 330, adjust = false }',
    )
    assert min(run.bond.lap for run in set_out(spec).walls[0].bonded) == pytest.approx(100)


def test_raking_third_bond_steps_the_same_way_in_every_course() -> None:
    spec = job(
        "440x100x140",
        '{ shape = "straight", length_mm = 5390 }',
        courses=6,
        more='bond = { wish = "third", third = "raking" }',
    )
    courses = set_out(spec).walls[0].bonded[0].bond.courses
    steps = [(b.phase - a.phase) % 450 for a, b in pairwise(courses)]
    assert steps == pytest.approx([150.0] * 5)
