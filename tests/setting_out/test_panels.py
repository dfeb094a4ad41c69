"""Where movement joints stand: where the panels' bonds take least."""

from __future__ import annotations

import pytest

from parametric_wall.job.model import Movement
from parametric_wall.job.read import loads
from parametric_wall.setting_out.choose import task_of
from parametric_wall.setting_out.panels import divided, panels
from parametric_wall.setting_out.runs import runs_of
from parametric_wall.setting_out.set_out import set_out


def straight(length: float, spacing: float, more: str = ""):
    return loads(
        f'title = "t"\n[block]\nsize = "440x100x215"\n[movement]\nspacing_mm = {spacing}\n'
        f'[[walls]]\nname = "w"\nplan = {{ shape = "straight", length_mm = {length} }}\n'
        f"height = {{ courses = 2 }}\n{more}\n"
    )


def test_joints_leave_whole_and_half_blocks_where_they_can() -> None:
    """7415 = 3590 + 10 + 3815: 16 and 17 half pitches of 225; half of it suits no block."""
    bonded = set_out(straight(7415, 4500)).walls[0].bonded
    assert sorted(laid.run.length for laid in bonded) == pytest.approx([3590, 3815])
    assert {x for laid in bonded for x, _ in laid.bond.cut} == {215}


def test_three_panels_that_suit_whole_blocks_are_found() -> None:
    """Three times 3590 and two joints of 10."""
    bonded = set_out(straight(10_790, 3600)).walls[0].bonded
    assert [laid.run.length for laid in bonded] == pytest.approx([3590] * 3)


def test_panels_are_even_where_no_place_is_better_for_a_joint() -> None:
    """At 12.00 m there is no room to move the joint by half a block."""
    bonded = set_out(straight(12_000, 6000)).walls[0].bonded
    assert [laid.run.length for laid in bonded] == pytest.approx([5995, 5995])


def test_panels_are_lettered_and_stand_one_after_the_other() -> None:
    spec = straight(200_000, 6000, "place = { x_mm = 100, heading_deg = 30 }")
    run = runs_of(spec.walls[0])[0]
    joints = tuple(5000.0 * k for k in range(1, 39))
    found = panels(run, joints, 10.0)
    names = [panel.name for panel in found]
    assert names[:2] == ["r1a", "r1b"]
    assert names[25:28] == ["r1z", "r1aa", "r1ab"]
    assert [panel.place.x for panel in found] == [0.0, *(x + 10 for x in joints)]
    assert found[-1].place.x + found[-1].length == pytest.approx(200_000)


def test_a_run_no_longer_than_the_spacing_is_left_alone() -> None:
    spec = straight(3590, 3590)
    task = task_of(spec, spec.walls[0])
    assert divided(task, spec.walls[0].movement) == task
    assert divided(task, None) == task
    assert len(divided(task, Movement(spacing_mm=3589.0)).runs) == 2


def test_the_joint_at_the_end_belongs_to_the_left_panel() -> None:
    wall = set_out(straight(7415, 4500)).walls[0]
    fillers = [p.id for p in wall.pieces if p.kind == "filler"]
    assert fillers == ["w/r1a/c01/f01", "w/r1a/c02/f01"]
