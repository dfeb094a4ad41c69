"""Mortar and concrete by volume.

Sources: estimating notes (dry to wet 1.33 of mortar; cement 1440 kg/m3; 1:3 takes 0.9975 m3 of
sand; 63 bricks for 60); worked pages on concrete (1.54, and 312.68 kg at 1.52). The rest of each
row is computed from the stated rule. Ballast by weight: practice, from memory.
"""

from __future__ import annotations

import pytest

from parametric_wall.job.read import loads
from parametric_wall.order.lines import bag_kg, counted_line, density, waste_step
from parametric_wall.order.mixes import Mix, concrete_mix, mortar_mix

JOB = """
title = "mixes"
{more}
[block]
size = "440x100x215"
[[walls]]
name = "w"
plan = {{ shape = "straight", length_mm = 3590 }}
height = {{ courses = 2 }}
"""


def job(more: str = ""):
    return loads(JOB.format(more=more))


def mortar(mix: str) -> Mix:
    return mortar_mix(job(f'[mortar]\nmix = "{mix}"').job)


def concrete(mix: str, dry_to_wet: str = "") -> Mix:
    factor = f"\ndry_to_wet = {dry_to_wet}" if dry_to_wet else ""
    more = f'[concrete]\nmade_of = "sand and coarse"\nmix = "{mix}"{factor}'
    found = concrete_mix(job(more).job)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("mix", "factor", "cement", "kg", "bags", "sand", "coarse"),
    [
        ("1:2:4", "", 0.2200, 316.8, 12.67, 0.440, 0.880),
        ("1:2:4", "1.52", 0.2171, 312.68, 12.51, 0.4343, 0.8686),
        ("1:3:6", "", 0.1540, 221.8, 8.87, 0.462, 0.924),
        ("1:1.5:3", "", 0.2800, 403.2, 16.13, 0.420, 0.840),
    ],
)
def test_a_cubic_metre_of_concrete(mix, factor, cement, kg, bags, sand, coarse) -> None:
    found = concrete(mix, factor)
    assert [p.material for p in found.parts] == ["cement", "sharp sand", "coarse aggregate"]
    volumes = [p.loose_m3 for p in found.parts]
    assert volumes == pytest.approx([cement, sand, coarse], abs=6e-5)
    assert found.cement.kg == pytest.approx(kg, abs=0.06)
    assert found.cement.kg / bag_kg() == pytest.approx(bags, abs=5.1e-3)


@pytest.mark.parametrize(
    ("mix", "cement", "kg", "bags", "sand"),
    [
        ("1:3", 0.3325, 478.8, 19.15, 0.9975),
        ("1:4", 0.2660, 383.0, 15.32, 1.064),
        ("1:5", 0.2217, 319.2, 12.77, 1.1083),
        ("1:6", 0.1900, 273.6, 10.94, 1.140),
    ],
)
def test_a_cubic_metre_of_mortar(mix, cement, kg, bags, sand) -> None:
    found = mortar(mix)
    assert [p.loose_m3 for p in found.parts] == pytest.approx([cement, sand], abs=6e-5)
    assert found.cement.kg == pytest.approx(kg, abs=0.06)
    assert found.cement.kg / bag_kg() == pytest.approx(bags, abs=5.1e-3)


@pytest.mark.parametrize(("mix", "absolute"), [("1:6", 1.002), ("1:3", 0.987)])
def test_the_absolute_volumes_fill_the_cubic_metre(mix: str, absolute: float) -> None:
    """Computed: cement 3150 and sand 2650 kg/m3 solid, and 0.27 m3 of water.

    So 1.33 covers the shrinkage of dry, loose sand and nothing more: waste comes on top.
    """
    cement, sand = mortar(mix).parts
    assert cement.kg / 3150 + sand.kg / 2650 + 0.27 == pytest.approx(absolute, abs=5e-4)


@pytest.mark.parametrize(
    ("name", "cement_to_sand"), [("M12", (3, 3)), ("M6", (3, 4)), ("M4", (5, 6)), ("M2", (7, 8))]
)
def test_designations_of_mortar(name: str, cement_to_sand: tuple[float, float]) -> None:
    """UK NA to BS EN 1996-1-1 Table NA.2, from memory: cement and sand with plasticiser."""
    cement, sand = mortar(name).parts
    low, high = cement_to_sand
    assert low <= sand.parts / cement.parts <= high


def test_twenty_cubic_metres_of_one_two_four() -> None:
    """1.52 x 20 / 7 = 4.343 m3 of cement; one worked page prints 4.14, which is its misprint."""
    assert 20 * concrete("1:2:4", "1.52").cement.loose_m3 == pytest.approx(4.343, abs=5e-4)


def test_a_bag_of_cement() -> None:
    """25 / 1440, computed from the bulk density of the estimating notes."""
    assert bag_kg() / density("cement") == pytest.approx(0.017361, abs=5e-7)


@pytest.mark.parametrize(
    ("material", "low", "high"),
    [
        ("cement", 1440, 1440),
        ("building sand", 1500, 1700),
        ("sharp sand", 1500, 1700),
        ("coarse aggregate", 1500, 1650),
    ],
)
def test_loose_densities(material: str, low: float, high: float) -> None:
    """Estimating notes for cement; a worked page for dry loose sand and coarse aggregate."""
    assert low <= density(material) <= high


def test_ballast_goes_by_weight_and_not_by_dry_to_wet() -> None:
    """From memory: 1.8 to 1.9 t of ballast and 270 to 300 kg of cement to the m3, 6:1."""
    found = concrete_mix(job().job)
    assert found is not None
    assert found.name == "1:6"
    cement, ballast = found.parts
    assert 270 <= cement.kg <= 300
    assert 1800 <= ballast.kg <= 1900
    by_dry_to_wet = 1.54 * 6 / 7
    assert ballast.loose_m3 < 0.95 * by_dry_to_wet
    assert ballast.loose_m3 / cement.loose_m3 == pytest.approx(6)


def test_three_to_one_and_six_to_one_unless_the_job_says_otherwise() -> None:
    """Common practice: mortar 3:1 with plasticiser, concrete 6:1 of ballast."""
    spec = job()
    assert mortar_mix(spec.job).name == "1:3"
    assert spec.job.mortar.plasticiser
    assert spec.job.concrete.made_of == "ballast"


def test_sixty_three_bricks_for_sixty() -> None:
    """Estimating notes: 5 % waste."""
    line = counted_line("brick", "blocks", "brick", 60.0, [waste_step(job(), "block", 60.0)])
    assert line.order == pytest.approx(63)
