"""Rankine's coefficients, as printed to four digits in a coastal-engineering handbook that cites
J. E. Bowles, Foundation Analysis and Design, 5th edition; more of them and the thrusts, computed
from the closed form."""

from __future__ import annotations

import math

import pytest

from parametric_wall.checks.earth import Section
from parametric_wall.reference import rankine

ANGLES = (26, 28, 30, 32, 34, 36, 38, 40, 42)
PRINTED = {
    0: (0.3905, 0.3610, 0.3333, 0.3073, 0.2827, 0.2596, 0.2379, 0.2174, 0.1982),
    5: (0.3959, 0.3656, 0.3372, 0.3105, 0.2855, 0.2620, 0.2399, 0.2192, 0.1997),
    10: (0.4134, 0.3802, 0.3495, 0.3210, 0.2944, 0.2696, 0.2464, 0.2247, 0.2044),
    15: (0.4480, 0.4086, 0.3729, 0.3405, 0.3108, 0.2834, 0.2581, 0.2346, 0.2129),
    20: (0.5152, 0.4605, 0.4142, 0.3739, 0.3381, 0.3060, 0.2769, 0.2504, 0.2262),
    25: (0.6999, 0.5727, 0.4936, 0.4336, 0.3847, 0.3431, 0.3070, 0.2750, 0.2465),
}
TABLE = [
    (slope, angle, value)
    for slope, row in PRINTED.items()
    for angle, value in zip(ANGLES, row, strict=True)
]


def test_the_table_is_whole() -> None:
    assert len(TABLE) == 54


@pytest.mark.parametrize(("slope", "angle", "printed"), TABLE)
def test_active_pressure_as_printed(slope: float, angle: float, printed: float) -> None:
    assert rankine.active(angle, slope) == pytest.approx(printed, abs=0.5001e-4)


@pytest.mark.parametrize(
    ("angle", "value"),
    [(20, 0.4903), (22, 0.4550), (24, 0.4217), (25, 0.4059), (35, 0.2710), (45, 0.1716)],
)
def test_active_pressure_of_level_soil_computed(angle: float, value: float) -> None:
    assert rankine.active(angle) == pytest.approx(value, abs=0.5e-4)


@pytest.mark.parametrize(("angle", "value"), [(30, 3.000), (35, 3.690)])
def test_passive_pressure_computed(angle: float, value: float) -> None:
    assert rankine.passive(angle) == pytest.approx(value, abs=0.5e-3)


def test_water_presses_by_its_depth() -> None:
    """Hydrostatics: 9.81 kN/m3, two metres deep, 19.62 kN/m."""
    assert rankine.water_thrust(2.0) == pytest.approx(19.62)
    assert rankine.submerged(20.0) == pytest.approx(10.19)


# A copied calculation of a wall 3.33 high with water at a third of it counts the soil above the
# water as submerged: its push on the depth below is then 8.475 kN/m. With the bulk weight of
# 20 kN/m3 it is 16.63; Ka follows from the wrong figure.
TRAP_HEIGHT, TRAP_WATER, TRAP_WRONG, TRAP_RIGHT = 3.33, 3.33 / 3, 8.475, 16.63
TRAP_KA = TRAP_WRONG / ((20 - 9.81) * (TRAP_HEIGHT - TRAP_WATER) * TRAP_WATER)


def test_soil_above_the_water_table_has_its_bulk_weight() -> None:
    _, (loads_below, arm), _ = rankine.soil_thrusts(TRAP_KA, 20.0, TRAP_HEIGHT, TRAP_WATER)
    assert loads_below == pytest.approx(TRAP_RIGHT, abs=0.005)
    assert arm == pytest.approx(TRAP_WATER / 2)


def test_below_the_water_table_it_has_its_submerged_weight() -> None:
    """By hand, Ka 1/3, 18 kN/m3, 2 m high, water 1 m: 3.0 at 4/3, 6.0 at 1/2, 1.365 at 1/3."""
    parts = rankine.soil_thrusts(1 / 3, 18.0, 2.0, 1.0)
    expected = ((3.0, 4 / 3), (6.0, 0.5), ((18 - 9.81) / 6, 1 / 3))
    assert [value for part in parts for value in part] == pytest.approx(
        [value for part in expected for value in part]
    )


def test_the_pressures_drawn_have_the_area_of_the_thrusts() -> None:
    section = Section("x", 1.0, (), 2.0, 18.0, 30.0, 12.0, 4.0, 0.8)
    (top, _), (water, at_water), (_, at_base) = section.soil_pressures
    area = at_water * (top - water) / 2 + (at_water + at_base) * water / 2
    soil = [t.force for t in section.thrusts() if t.name.startswith("soil")]
    assert area == pytest.approx(sum(soil))
    (surcharge,) = (t.force for t in section.thrusts() if t.name == "surcharge")
    assert surcharge == pytest.approx(section.surcharge_pressure * 2.0)


@pytest.mark.parametrize(
    ("phi", "beta"), [(0, 0), (-30, 0), (90, 0), (30, 30), (30, 31), (30, -1), (math.nan, 0)]
)
def test_no_coefficient_without_friction_or_on_a_slope_that_slips(phi: float, beta: float) -> None:
    with pytest.raises(ValueError, match="must be"):
        rankine.active(phi, beta)


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (rankine.soil_thrust, (1 / 3, 18, -0.1)),
        (rankine.soil_thrust, (0, 18, 1)),
        (rankine.soil_thrust, (1 / 3, -18, 1)),
        (rankine.surcharge_thrust, (1 / 3, -1, 1)),
        (rankine.surcharge_thrust, (1 / 3, 1, -1)),
        (rankine.water_thrust, (-0.1,)),
        (rankine.water_thrust, (math.inf,)),
        (rankine.submerged, (9.81,)),
        (rankine.soil_thrusts, (1 / 3, 18, 1.0, 1.01)),
        (rankine.soil_thrusts, (1 / 3, 18, 1.0, -0.01)),
        (rankine.soil_thrusts, (1 / 3, 9, 1.0, 0.5)),
        (rankine.passive, (0,)),
    ],
)
def test_nonsense_has_no_thrust(function, arguments) -> None:
    with pytest.raises(ValueError, match="must"):
        function(*arguments)
