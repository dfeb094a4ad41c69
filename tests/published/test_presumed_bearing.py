"""What ground is presumed to bear. BS 8004:1986 Table 1: the least of each range; weak ground by
the widths of Approved Document A, Table 10, under 20 kN/m. Both from memory, to be confirmed."""

from __future__ import annotations

import math

import pytest

from parametric_wall.reference.presumed_bearing import presumed

LEAST_OF_ITS_RANGE = {
    "rock": 600,
    "stiff clay": 150,
    "medium dense sand or gravel": 100,
    "firm clay": 75,
}
WIDTH_UNDER_20_KN_M = {"loose sand": 0.4, "soft clay or silt": 0.45}
LESS_THAN = {"loose sand": 100, "soft clay or silt": 75}


@pytest.mark.parametrize("ground", LEAST_OF_ITS_RANGE)
def test_the_least_of_its_range(ground: str) -> None:
    found = presumed(ground)
    assert (found.name, found.value, found.unit) == (ground, LEAST_OF_ITS_RANGE[ground], "kPa")


@pytest.mark.parametrize("ground", WIDTH_UNDER_20_KN_M)
def test_weak_ground_bears_what_its_footing_width_has(ground: str) -> None:
    assert presumed(ground).value == math.floor(20 / WIDTH_UNDER_20_KN_M[ground])
    assert presumed(ground).value < LESS_THAN[ground]


def test_of_peat_nothing_is_presumed() -> None:
    assert presumed("peat or very soft").value == 0


def test_where_nobody_says_it_is_firm_clay() -> None:
    assert presumed(None) == presumed("firm clay")


def test_all_of_it_says_that_it_is_from_memory() -> None:
    for ground in (*LEAST_OF_ITS_RANGE, *WIDTH_UNDER_20_KN_M, "peat or very soft"):
        assert "from memory, confirm" in presumed(ground).cited


def test_no_other_ground_is_known() -> None:
    with pytest.raises(ValueError, match="firm clay"):
        presumed("mud")
