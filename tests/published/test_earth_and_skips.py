"""Digging, swell, skips.

Sources: Construction Planning, Equipment and Methods, Table 4-1 (swell by soil); a collected
table (clay dry 35, damp 40; gravel dry 15, wet 5 %); an earthworks reference (compacted to bank,
40 % on 8000, 67 % gives a load factor of 0.599, barrow 0.085 m3); skip trade pages (8 yd is 6.1
m3 and takes about 8 t). 1 yd3 = 0.764555 m3, exact.
"""

from __future__ import annotations

import pytest

from parametric_wall.job.read import loads
from parametric_wall.order.digging import Ground, digging, skips_for
from parametric_wall.order.materials import order_lines
from parametric_wall.reference.tables import table
from parametric_wall.setting_out.set_out import set_out

TRENCH = """
title = "a trench 5.0 x 0.6 x 0.8"
{more}
[block]
length_mm = 440
width_mm = 100
height_mm = 215
[footing]
spread_mm = 250
depth_mm = 800
below_ground_mm = 0
[[walls]]
name = "w"
plan = {{ shape = "straight", length_mm = 4500 }}
height = {{ courses = 2 }}
"""
PLANTER = """
title = "planter"
{more}
[block]
size = "290x140x140"
[footing]
spread_mm = 105
depth_mm = 150
below_ground_mm = 50
[[walls]]
name = "w"
plan = {{ shape = "rectangle", length_mm = 1940, width_mm = 1040 }}
height = {{ courses = 3 }}
fill = {{ base_level_mm = {base}, drainage_mm = 20 }}
"""


def ground(swell: float) -> Ground:
    return Ground("clay", swell, 1900.0, 1.0, "", "")


def dug(text: str, more: str = "", **given: object):
    spec = loads(text.format(more=f"[digging]\n{more}", **given))
    return digging(spec, set_out(spec))


RANGES = {
    "sand or gravel": (5, 15),
    "topsoil": (10, 25),
    "loam": (10, 35),
    "common earth": (20, 45),
    "clay": (30, 60),
    "rock": (50, 80),
    "dry clay": (35, 35),
    "damp clay": (40, 40),
    "dry gravel": (15, 15),
    "wet gravel": (5, 5),
}


def test_swell_by_soil() -> None:
    rows = table("soils_bulking")
    assert set(rows) == set(RANGES)
    for soil, (low, high) in RANGES.items():
        assert rows[soil]["swell_percent"] == pytest.approx((low + high) / 2)
        assert (rows[soil]["low"], rows[soil]["high"]) == (low, high)


@pytest.mark.parametrize(
    ("soil", "low", "high"),
    [("loam", 0.82, 0.88), ("clay", 0.78, 0.85), ("sand or gravel", 0.88, 0.93)],
)
def test_compacted_over_its_volume_in_the_ground(soil: str, low: float, high: float) -> None:
    assert low <= table("soils_bulking")[soil]["compacted"] <= high


def test_swell_and_load_factor() -> None:
    assert ground(40).loose(8000) == pytest.approx(11200)
    assert ground(67).load_factor == pytest.approx(0.599, abs=5e-4)


def test_swell_is_the_density_in_the_ground_over_the_loose_one() -> None:
    """Earthworks reference: swell % = (bank density / loose density - 1) x 100."""
    found = dug(TRENCH, 'soil = "dry clay"')
    loose = found.away_kg / found.away_loose
    assert (found.ground.density_kg_m3 / loose - 1) * 100 == pytest.approx(35)


def test_two_point_four_cubic_metres_of_dry_clay() -> None:
    """Computed: 2.40 x 1.35 = 3.24 m3 loose, 4.56 t at 1.9 t/m3: too much for a 4 yd skip."""
    found = dug(TRENCH, 'soil = "dry clay"\ndensity_kg_m3 = 1900\nskip_yd = 4')
    assert found.trench == pytest.approx(2.40)
    assert found.away_loose == pytest.approx(3.24)
    assert found.away_kg == pytest.approx(4560)
    assert found.barrows == 39  # 3.24 / 0.085 = 38.1
    assert found.skips is not None
    assert found.skips.holds_m3 == pytest.approx(3.058, abs=5e-4)
    assert found.skips.by_volume > 1


@pytest.mark.parametrize(("yards", "holds"), [(2, 1.529), (4, 3.058), (6, 4.587), (8, 6.116)])
def test_what_skips_hold(yards: int, holds: float) -> None:
    spec = loads(TRENCH.format(more=f"[digging]\nskip_yd = {yards}"))
    found = skips_for(1.0, 1000.0, spec)
    assert found.holds_m3 == pytest.approx(holds, abs=6e-4)


def test_a_level_skip_of_soil_is_over_its_payload() -> None:
    """8 yd, 6.1 m3 at 1.5 t/m3 = 9.15 t, and it takes 8 t: the mass governs."""
    spec = loads(TRENCH.format(more="[digging]\nskip_yd = 8"))
    found = skips_for(6.1, 6.1 * 1500, spec)
    assert found.by_volume < 1 < found.by_mass
    assert found.governs == "mass"


def test_light_stuff_is_governed_by_its_volume() -> None:
    spec = loads(TRENCH.format(more="[digging]\nskip_yd = 8"))
    assert skips_for(6.1, 6.1 * 500, spec).governs == "volume"


def test_without_a_size_soil_goes_in_six_yards_at_the_most() -> None:
    """Skip trade pages: some firms take soil in 6 yards at the most."""
    found = dug(TRENCH, 'soil = "clay"').skips
    assert found is not None
    assert found.yards == 6  # 4.56 t: more than 4 yd carries


def test_what_is_dug_and_put_back_round_a_planter() -> None:
    """By hand: ring 2150 x 1250 less 1450 x 550 = 1.89 m2; wall 1940 x 1040 less 1660 x 760."""
    found = dug(PLANTER, base=0)
    assert found.trench == pytest.approx(1.89 * 0.2)
    assert found.inside == 0
    assert found.backfill == pytest.approx((1.89 - 0.756) * 0.05)


def test_a_planter_dug_out_below_ground() -> None:
    """By hand: 1450 x 550 x 120 inside; put back only outside, 2150 x 1250 less 1940 x 1040."""
    found = dug(PLANTER, base=-120)
    assert found.inside == pytest.approx(1.45 * 0.55 * 0.12)
    assert found.backfill == pytest.approx((2.15 * 1.25 - 1.94 * 1.04) * 0.05)


def test_compacted_backfill_takes_more_than_its_volume_in_the_ground() -> None:
    found = dug(PLANTER, 'soil = "loam"\ncompacted = true', base=0)
    assert found.backfill == pytest.approx((1.89 - 0.756) * 0.05 / 0.85)


def test_soil_used_again_is_not_bought_and_not_hauled() -> None:
    before, after = (
        dug(PLANTER, f"reuse_as_fill = {again}", base=0) for again in ("false", "true")
    )
    assert after.reused == pytest.approx(before.away)
    assert after.skips is None
    spec = loads(PLANTER.format(more="[digging]\nreuse_as_fill = true", base=0))
    lines = {line.key: line for line in order_lines(spec, set_out(spec))}
    assert "skip 2 yd" not in lines
    again, settles, _ = lines["topsoil"].steps
    kg_m3 = table("bags")["density"]["topsoil"]["value"]
    assert -again.adds == pytest.approx(after.reused * kg_m3 / 1000)
    assert settles.adds == pytest.approx(0.15 * (lines["topsoil"].net + again.adds))
