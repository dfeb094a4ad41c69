"""Wind on free-standing walls: BS EN 1991-1-4:2005.

Table 7.9 and the published case (l 16, h 4, solidity 0.9, a return of 2 m) as two public
reproductions have them; exposure factor at 10 m in terrain II read off Figure 4.2 (2.35);
the pressures computed from 4.3 to 4.5 with an air density of 1.25. Terrain categories and the
zones' extents are from memory.
"""

from __future__ import annotations

import pytest

from parametric_wall.reference import en1991_1_4 as en1991

TABLE_7_9 = {
    "l/h 2": ((2, 1, 0, 1), (2.3, 1.4, 1.2, 1.2)),
    "l/h 3": ((3, 1, 0, 1), (2.3, 1.4, 1.2, 1.2)),
    "l/h 5": ((5, 1, 0, 1), (2.9, 1.8, 1.4, 1.2)),
    "l/h 10": ((10, 1, 0, 1), (3.4, 2.1, 1.7, 1.2)),
    "l/h 40": ((40, 1, 0, 1), (3.4, 2.1, 1.7, 1.2)),
    "return of h, short": ((2, 1, 1, 1), (2.1, 1.8, 1.4, 1.2)),
    "return of h": ((16, 1, 1, 1), (2.1, 1.8, 1.4, 1.2)),
    "return of 5 h": ((16, 1, 5, 1), (2.1, 1.8, 1.4, 1.2)),
    "solidity 0.8": ((10, 1, 0, 0.8), (1.2, 1.2, 1.2, 1.2)),
    "solidity 0.8, return": ((10, 1, 1, 0.8), (1.2, 1.2, 1.2, 1.2)),
    # The published case, step by step.
    "l 16, h 4": ((16, 4, 0, 1), (2.6, 1.6, 1.3, 1.2)),
    "and a return of 2": ((16, 4, 2, 1), (2.35, 1.7, 1.35, 1.2)),
    "and a solidity of 0.9": ((16, 4, 2, 0.9), (1.775, 1.45, 1.275, 1.2)),
}


@pytest.mark.parametrize("row", TABLE_7_9)
def test_net_pressure_coefficients(row: str) -> None:
    (l, h, lr, phi), expected = TABLE_7_9[row]  # noqa: E741 (the standard's own symbol)
    got = tuple(en1991.cp_net(zone, l, h, lr, phi) for zone in en1991.ZONES)
    assert got == pytest.approx(expected, abs=1e-12)


def test_zones_end_at_parts_of_the_height() -> None:
    """Figure 7.19, from memory: 0.3 h, 2 h, 4 h."""
    assert en1991.zone_ends(1200) == pytest.approx((360, 2400, 4800))


@pytest.mark.parametrize(
    ("vb", "z", "category", "cr", "turbulence", "ce", "qp"),
    [
        (24, 10, "II", 1.0067, 0.1887, 2.352, 846.8),
        (24, 2, "II", 0.7009, 0.2711, 1.4234, 512.4),
        (22, 2, "II", 0.7009, 0.2711, 1.4234, 430.6),
        (26, 2, "II", 0.7009, 0.2711, 1.4234, 601.4),
        (24, 5, "III", 0.6060, 0.3554, 1.2809, 461.1),
        # Below the least height of the terrain the profile is that height's.
        (24, 0.6, "II", 0.7009, 0.2711, 1.4234, 512.4),
        (24, 1, "III", 0.6060, 0.3554, 1.2809, 461.1),
    ],
)
def test_peak_velocity_pressure(vb, z, category, cr, turbulence, ce, qp) -> None:
    place = en1991.terrain(category)
    assert en1991.cr(z, *place) == pytest.approx(cr, abs=5e-5)
    assert en1991.vm(z, vb, *place) == pytest.approx(cr * vb, abs=5e-5 * vb)
    assert en1991.Iv(z, *place) == pytest.approx(turbulence, abs=5e-5)
    assert en1991.ce(z, *place) == pytest.approx(ce, abs=6e-4)
    assert en1991.qp(z, vb, *place) == pytest.approx(qp, abs=0.05)


def test_exposure_factor_read_off_figure_4_2() -> None:
    assert en1991.ce(10, *en1991.terrain("II")) == pytest.approx(2.35, abs=0.005)


def test_terrain_factor_of_open_country() -> None:
    """Eq. 4.5: 0.19 where z0 is 0.05."""
    assert en1991.kr(0.05) == 0.19


@pytest.mark.parametrize(
    ("category", "z0", "zmin"),
    [("0", 0.003, 1), ("I", 0.01, 1), ("II", 0.05, 2), ("III", 0.3, 5), ("IV", 1.0, 10)],
)
def test_terrain_categories_from_memory(category: str, z0: float, zmin: float) -> None:
    assert en1991.terrain(category) == (z0, zmin)


@pytest.mark.parametrize(("altitude", "factor"), [(0, 1), (100, 1.1), (250, 1.25)])
def test_altitude_factor_from_memory(altitude: float, factor: float) -> None:
    """UK national annex NA.2a: 1 + 0.001 A up to 10 m high."""
    assert en1991.calt(altitude) == pytest.approx(factor)


NAN = float("nan")


@pytest.mark.parametrize(
    "call",
    [
        lambda: en1991.qp(2, -24, 0.05, 2),
        lambda: en1991.qp(2, 0, 0.05, 2),
        lambda: en1991.qp(2, NAN, 0.05, 2),
        lambda: en1991.qp(0, 24, 0.05, 2),
        lambda: en1991.qp(-1, 24, 0.05, 2),
        lambda: en1991.qp(201, 24, 0.05, 2),
        lambda: en1991.cr(2, 0, 2),
        lambda: en1991.Iv(0.01, 0.05, 0.05),
        lambda: en1991.calt(-1),
        lambda: en1991.terrain("V"),
        lambda: en1991.zone_ends(0),
        lambda: en1991.cp_net("E", 5, 1),  # type: ignore[arg-type]
        lambda: en1991.cp_net("A", 0, 1),
        lambda: en1991.cp_net("A", 5, -1),
        lambda: en1991.cp_net("A", 5, 1, -0.1),
        lambda: en1991.cp_net("A", 5, 1, NAN),
        lambda: en1991.cp_net("A", 5, 1, 0, 0.79),
        lambda: en1991.cp_net("A", 5, 1, 0, 1.01),
        lambda: en1991.cp_net("A", 5, 1, 0, NAN),
    ],
)
def test_nonsense_is_refused(call) -> None:
    with pytest.raises(ValueError, match="must"):
        call()
