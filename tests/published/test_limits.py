"""Common limits: heights, lifts, masses. Sources: HSE CIS37 (20 kg), NHBC Standards 10.2.4
(retaining over 600), common practice (any wall over 900; six courses at a time; 1.5 m a day)."""

from __future__ import annotations

import pytest

from parametric_wall.checks.check import check
from parametric_wall.checks.limits import block_mass, lift_courses
from parametric_wall.job.model import Block
from parametric_wall.job.read import loads
from parametric_wall.setting_out.set_out import set_out


@pytest.mark.parametrize(
    ("width", "density", "mass", "heavy"),
    [
        (100, 2000, 18.92, False),
        (140, 2000, 26.49, True),
        (215, 2000, 40.68, True),
        (100, 2150, 20.34, True),
    ],
)
def test_masses_of_a_440_by_215_block(width, density, mass, heavy) -> None:
    block = Block(
        length_mm=440.0, width_mm=float(width), height_mm=215.0, density_kg_m3=float(density)
    )
    assert block_mass(block) == pytest.approx(mass, abs=0.005)
    spec = loads(
        f"""
title = "mass"
[block]
length_mm = 440
width_mm = {width}
height_mm = 215
density_kg_m3 = {density}
[[walls]]
name = "w"
plan = {{ shape = "straight", length_mm = 3590 }}
height = {{ courses = 2 }}
"""
    )
    codes = {f.code for f in check(spec, set_out(spec))}
    assert ("heavy-block" in codes) == heavy


def tall(finished: float, more: str = ""):
    spec = loads(
        f"""
title = "tall"
{more}
[block]
size = "290x140x140"
[base]
level_mm = 0
[[walls]]
name = "w"
plan = {{ shape = "rectangle", length_mm = 1940, width_mm = 1040 }}
height = {{ finished_mm = {finished} }}
fill = {{ below_coping_mm = 0 }}
"""
    )
    return {f.code: f for f in check(spec, set_out(spec))}


@pytest.mark.parametrize(("finished", "stopped"), [(900, False), (901, True)])
def test_any_wall_over_900_goes_to_a_professional(finished: float, stopped: bool) -> None:
    assert ("wall-height" in tall(finished)) == stopped


@pytest.mark.parametrize(("finished", "stopped"), [(600, False), (601, True)])
def test_soil_over_600_goes_to_an_engineer(finished: float, stopped: bool) -> None:
    found = tall(finished)
    assert ("retained-height" in found) == stopped
    if stopped:
        assert found["retained-height"].grade == "not to be built as it stands"


def test_with_a_designer_named_the_limit_is_to_be_looked_at() -> None:
    found = tall(950, 'designed_by = "calculations of the engineer, sheet 3"')
    assert found["wall-height"].grade == "look at this"
    assert "Lower the wall" not in found["wall-height"].next
    assert "Lower the wall" in tall(950)["wall-height"].next


@pytest.mark.parametrize(
    ("block", "courses"), [("440x100x215", 6), ("215x102.5x65", 6), ("440x100x140", 6)]
)
def test_six_courses_at_a_time(block: str, courses: int) -> None:
    spec = loads(
        f'title = "lift"\n[block]\nsize = "{block}"\n[[walls]]\nname = "w"\n'
        'plan = { shape = "straight", length_mm = 3590 }\nheight = { courses = 9 }\n'
    ).walls[0]
    assert lift_courses(spec) == courses


def test_no_lift_passes_1500() -> None:
    spec = loads(
        'title = "lift"\n[block]\nlength_mm = 600\nwidth_mm = 140\nheight_mm = 290\n[[walls]]\n'
        'name = "w"\nplan = { shape = "straight", length_mm = 3590 }\nheight = { courses = 9 }\n'
    ).walls[0]
    assert lift_courses(spec) == 5
