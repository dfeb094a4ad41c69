"""Facts of mixed lengths.

Blocks of 190, 290 and 390 with joints of 10 are modules of 200, 300 and 400: any run
between stop ends whose length is a multiple of 100 less a joint closes without a cut, a
run to one existing wall at a multiple of 100 (common practice: co-ordinating sizes are
the work sizes and one joint). Units lap by 0.4 of their height, and by 40 at the least,
up to 250 high (EN 1996-1-1, 8.1.4.1, read).
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from parametric_wall.job.read import loads
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.closed_form import blocks_by_area


def job(length: int, height: int = 140, more: str = "", block: str = "") -> JobSpec:
    return loads(
        f"""
title = "modules"
[block]
lengths_mm = [190, 290, 390]
width_mm = 100
height_mm = {height}
{block}
[bond]
adjust = false
[[walls]]
name = "w"
plan = {{ shape = "straight", length_mm = {length} }}
height = {{ courses = 4 }}
{more}
"""
    )


@pytest.mark.parametrize("modules", [*range(8, 30), 60, 99])
def test_any_multiple_of_a_module_closes_without_a_cut(modules: int) -> None:
    (run,) = set_out(job(100 * modules - 10)).walls[0].bonded
    assert run.bond.cut == ()
    assert run.bond.opened == 0
    assert all(sum(x + 10 for x in c.pieces) == 100 * modules for c in run.bond.courses)


@pytest.mark.parametrize("modules", [9, 14, 27])
def test_to_an_existing_wall_a_joint_more(modules: int) -> None:
    end = 'end = { kind = "abutment", joint = "mortar" }'
    (run,) = set_out(job(100 * modules, more=end)).walls[0].bonded
    assert run.bond.cut == ()


@pytest.mark.parametrize(("height", "lap"), [(65, 40), (140, 56), (190, 76), (215, 86)])
def test_laps_by_the_height_of_the_units(height: int, lap: int) -> None:
    spec = job(3990, height)
    assert spec.walls[0].rules.min_lap == lap
    (run,) = set_out(spec).walls[0].bonded
    for low, high in pairwise(run.bond.courses):
        for a in low.perps:
            assert all(abs(a - b) - 10 >= lap - 1e-6 for b in high.perps)


def test_the_area_method_takes_the_mean_of_a_pack() -> None:
    """1, 2 and 1 of modules of 200, 300 and 400: 300 in the mean; 3 m of four courses are 40."""
    assert blocks_by_area(job(3000, block="mix = [1, 2, 1]").walls[0]) == pytest.approx(40)
    assert blocks_by_area(job(3000, block="mix = [3, 1, 1]").walls[0]) == pytest.approx(12000 / 260)
