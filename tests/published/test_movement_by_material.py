"""Movement joints by material. BRE Digest 164 and BS 5628-3 as quoted by a council note and a
brick association (clay: 12 m at the most, first joint 6 m from a corner, 1.3 mm of joint for each
metre; calcium silicate 7.5 to 9 m), council note GN24 (blockwork 6 m): read. Free-standing clay
walls about half as much, 5 to 8 m, PD 6697: from memory."""

from __future__ import annotations

import math

import pytest

from parametric_wall.checks.check import check
from parametric_wall.checks.finding import Finding
from parametric_wall.job.read import loads
from parametric_wall.reference.movement_joints import joint_width_min, movement_rule
from parametric_wall.setting_out.set_out import set_out


def found(unit: str, plan: str, movement: str = "") -> dict[str, Finding]:
    spec = loads(
        f'title = "joints"\n[masonry]\nunit = "{unit}"\n[block]\nsize = "440x100x215"\n'
        f'{movement}\n[[walls]]\nname = "w"\nplan = {plan}\nheight = {{ courses = 1 }}\n'
    )
    return {f.code: f for f in check(spec, set_out(spec))}


def straight(length: int) -> str:
    return f'{{ shape = "straight", length_mm = {length} }}'


@pytest.mark.parametrize(
    ("unit", "most", "standing"),
    [
        ("concrete block", 6000, "read"),
        ("concrete brick", 6000, "common practice"),
        ("calcium silicate", 9000, "read"),
        ("clay", 12_000, "read"),
    ],
)
def test_longest_run_without_a_joint(unit: str, most: int, standing: str) -> None:
    at = found(unit, straight(most)).get("long-panel")
    assert at is None or at.grade == "worth knowing"
    past = found(unit, straight(most + 1))["long-panel"]
    assert (past.grade, past.limit, past.standing) == ("look at this", most, standing)


@pytest.mark.parametrize(("length", "told"), [(8000, False), (8001, True)])
def test_free_standing_clay_wants_joints_nearer_each_other(length: int, told: bool) -> None:
    said = found("clay", straight(length)).get("long-panel")
    assert (said is not None) == told
    if said is not None:
        assert (said.grade, said.standing) == ("worth knowing", "from memory")


@pytest.mark.parametrize(("length", "past"), [(6000, False), (6001, True)])
def test_from_a_corner_the_first_joint_in_clay_stands_within_6_m(length: int, past: bool) -> None:
    plan = (
        f'{{ shape = "legs", legs = [{{ length_mm = {length}, turn = "left" }}, '
        "{ length_mm = 2240 }] }"
    )
    assert ("long-panel" in found("clay", plan)) == past


@pytest.mark.parametrize(
    ("unit", "spacing", "width"),
    [
        ("clay", 12_000, 16),  # 12 x 1.3 = 15.6
        ("clay", 10_000, 13),
        ("clay", 6000, 8),
        ("concrete block", 6000, 10),
        ("calcium silicate", 9000, 10),
    ],
)
def test_least_width_of_a_joint(unit: str, spacing: float, width: float) -> None:
    assert joint_width_min(unit, spacing) == width


@pytest.mark.parametrize(("width", "narrow"), [(8, False), (7, True)])
def test_a_narrow_joint_is_to_be_looked_at(width: int, narrow: bool) -> None:
    """Two panels of just under 6 m of clay: 7.8, so 8."""
    movement = f"[movement]\nspacing_mm = 6000\nwidth_mm = {width}"
    said = found("clay", straight(12_000), movement).get("joint-narrow")
    assert (said is not None) == narrow


def test_nonsense_is_refused() -> None:
    with pytest.raises(ValueError, match="unit must be one of"):
        movement_rule("straw")
    for bad in (0.0, -1.0, math.nan):
        with pytest.raises(ValueError, match="spacing must be"):
            joint_width_min("clay", bad)
