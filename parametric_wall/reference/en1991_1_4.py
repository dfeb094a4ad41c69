"""Clauses of the wind standard that a free-standing wall needs.

Flat ground (orography 1), no reduction for direction or season. The terrain categories
are the standard's own; the UK national annex replaces them by charts.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Literal

from parametric_wall.reference.tables import table

Zone = Literal["A", "B", "C", "D"]
ZONES: tuple[Zone, ...] = ("A", "B", "C", "D")
HIGHEST = 200.0
"""m: clause 4.3.2 reaches no higher."""


def _positive(**values: float) -> None:
    for name, value in values.items():
        if not 0 < value < math.inf:
            msg = f"{name} must be more than 0 and finite, not {value}"
            raise ValueError(msg)


def rho() -> float:
    """Density of air, in kg/m3.

    BS EN 1991-1-4:2005, 4.5(1), recommended value.
    """
    return float(table("wind")["rho"]["value"])


def terrain(category: str) -> tuple[float, float]:
    """Roughness length z0 and least height zmin of a terrain category, in m.

    BS EN 1991-1-4:2005, Table 4.1 (from memory, confirm).

    Raises:
        ValueError: there is no such category.
    """
    rows = table("wind")["terrain"]
    if category not in ("0", "I", "II", "III", "IV"):
        msg = f"the terrain category must be 0, I, II, III or IV, not {category}"
        raise ValueError(msg)
    return float(rows[category]["z0"]), float(rows[category]["zmin"])


def calt(A: float) -> float:
    """Altitude factor of the basic wind velocity.

    BS EN 1991-1-4:2005, UK national annex, NA.2a (from memory, confirm): for z up to
    10 m, and cautious above.

    Args:
        A: altitude of the site above sea level, in m.

    Raises:
        ValueError: A is negative or no number.
    """
    if not 0 <= A < math.inf:
        msg = f"A must not be negative, not {A}"
        raise ValueError(msg)
    return 1 + 0.001 * A


def kr(z0: float) -> float:
    """Terrain factor.

    BS EN 1991-1-4:2005, 4.3.2, eq. 4.5.

    Args:
        z0: roughness length, in m.

    Raises:
        ValueError: z0 is not positive.
    """
    _positive(z0=z0)
    return 0.19 * math.pow(z0 / 0.05, 0.07)


def _height(z: float, z0: float, zmin: float) -> float:
    """The height at which the profile is read: not below zmin (eq. 4.4 and 4.7)."""
    _positive(z=z, z0=z0, zmin=zmin)
    if z > HIGHEST or zmin <= z0:
        msg = f"z must not be more than {HIGHEST:g} m, nor zmin less than z0"
        raise ValueError(msg)
    return max(z, zmin)


def cr(z: float, z0: float, zmin: float) -> float:
    """Roughness factor.

    BS EN 1991-1-4:2005, 4.3.2, eq. 4.4: below zmin it is that of zmin.

    Args:
        z: height above ground, in m.
        z0: roughness length, in m.
        zmin: least height of the terrain, in m.

    Raises:
        ValueError: a length is not positive, or z is more than 200 m.
    """
    return kr(z0) * math.log(_height(z, z0, zmin) / z0)


def vm(z: float, vb: float, z0: float, zmin: float) -> float:
    """Mean wind velocity, in m/s.

    BS EN 1991-1-4:2005, 4.3.1, eq. 4.3, with an orography factor of 1.

    Args:
        z: height above ground, in m.
        vb: basic wind velocity, in m/s.
        z0: roughness length, in m.
        zmin: least height of the terrain, in m.

    Raises:
        ValueError: as `cr`, or vb is not positive.
    """
    _positive(vb=vb)
    return cr(z, z0, zmin) * vb


def Iv(z: float, z0: float, zmin: float) -> float:
    """Turbulence intensity.

    BS EN 1991-1-4:2005, 4.4, eq. 4.7, with a turbulence factor of 1: below zmin that of zmin.

    Args:
        z: height above ground, in m.
        z0: roughness length, in m.
        zmin: least height of the terrain, in m.

    Raises:
        ValueError: as `cr`.
    """
    return 1 / math.log(_height(z, z0, zmin) / z0)


def ce(z: float, z0: float, zmin: float) -> float:
    """Exposure factor: peak velocity pressure over basic velocity pressure.

    BS EN 1991-1-4:2005, 4.5, eq. 4.9.

    Args:
        z: height above ground, in m.
        z0: roughness length, in m.
        zmin: least height of the terrain, in m.

    Raises:
        ValueError: as `cr`.
    """
    return (1 + 7 * Iv(z, z0, zmin)) * cr(z, z0, zmin) ** 2


def qp(z: float, vb: float, z0: float, zmin: float) -> float:
    """Peak velocity pressure, in Pa.

    BS EN 1991-1-4:2005, 4.5, eq. 4.8.

    Args:
        z: height above ground, in m.
        vb: basic wind velocity, in m/s.
        z0: roughness length, in m.
        zmin: least height of the terrain, in m.

    Raises:
        ValueError: as `vm`.
    """
    return (1 + 7 * Iv(z, z0, zmin)) * rho() / 2 * vm(z, vb, z0, zmin) ** 2


def zone_ends(h: float) -> tuple[float, float, float]:
    """Where zones A, B and C end, from the free end or the return corner, in the unit of h.

    BS EN 1991-1-4:2005, Figure 7.19 (from memory, confirm).

    Args:
        h: height of the wall.

    Raises:
        ValueError: h is not positive.
    """
    _positive(h=h)
    ends = table("wind")["zones"]["ends"]
    return ends["A"] * h, ends["B"] * h, ends["C"] * h


def cp_net(zone: Zone, l: float, h: float, lr: float = 0.0, phi: float = 1.0) -> float:  # noqa: E741
    """Net pressure coefficient of a zone of a free-standing wall.

    BS EN 1991-1-4:2005, 7.4.1, Table 7.9. Between the rows of l/h, between no return and
    a return as long as the wall is high, and between solidities 0.8 and 1, by straight lines.

    Args:
        zone: A at the free end or corner, B, C, D furthest from it.
        l: length of the wall, in the unit of h.
        h: height of the wall.
        lr: length of the return at that end, in the unit of h; 0 at a free end.
        phi: solidity, solid over gross area.

    Raises:
        ValueError: there is no such zone, l or h is not positive, lr is negative,
            phi is not from 0.8 to 1.
    """
    rows = table("wind")["cp_net"]
    _positive(l=l, h=h)
    pierced = rows["pierced"]
    if zone not in ZONES or not 0 <= lr < math.inf or not pierced["solidity"] <= phi <= 1:
        msg = f"zone {zone} must be A to D, lr {lr} not negative, phi {phi} from 0.8 to 1"
        raise ValueError(msg)
    cp = _by_length(rows["no_return"], zone, l / h)
    share = 1.0 if lr >= h else lr / h
    cp += share * (rows["return_of_h"][zone] - cp)
    solid = (phi - pierced["solidity"]) / (1 - pierced["solidity"])
    return float(pierced[zone] + solid * (cp - pierced[zone]))


def _by_length(rows: list[dict[str, float]], zone: Zone, ratio: float) -> float:
    """Between the rows of l/h; up to the first and from the last, theirs (Table 7.9)."""
    if ratio <= rows[0]["l_over_h"]:
        return rows[0][zone]
    for low, high in pairwise(rows):
        a, b = low["l_over_h"], high["l_over_h"]
        if ratio < b:
            return low[zone] + (ratio - a) / (b - a) * (high[zone] - low[zone])
    return rows[-1][zone]
