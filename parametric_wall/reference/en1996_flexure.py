"""Clauses of the masonry design standard on bed joints in bending."""

from __future__ import annotations

import math
from typing import Literal

from parametric_wall.reference.tables import table

Unit = Literal["concrete block", "concrete brick", "calcium silicate", "clay"]
Mortar = Literal["M12", "M6", "M4", "M2"]


def _positive(**values: float) -> None:
    for name, value in values.items():
        if not 0 < value < math.inf:
            msg = f"{name} must be more than 0 and finite, not {value}"
            raise ValueError(msg)


def fxk1(unit: Unit, mortar: Mortar, t: float, absorption: float | None = None) -> float:
    """Characteristic flexural strength, failure parallel to the bed joints, in N/mm2.

    BS EN 1996-1-1, UK national annex, Table NA.6 (from memory, confirm).

    Args:
        unit: what the masonry is built of.
        mortar: its class.
        t: thickness of the wall, in mm; concrete blocks have less the thicker it is,
            from 100 to 250.
        absorption: of clay units, water taken up, in %; None for the weakest row.

    Raises:
        ValueError: t is not positive, absorption is negative, unit or mortar unknown.
    """
    rows = table("flexure")["fxk1"]
    _positive(t=t)
    if mortar not in rows["brick"] or (absorption is not None and not 0 <= absorption <= 100):
        msg = f"mortar {mortar} must be M12 to M2, absorption {absorption} from 0 to 100 %"
        raise ValueError(msg)
    if unit == "concrete block":
        return _by_thickness(rows["block"], mortar, t)
    if unit == "clay":
        return float(_clay(rows["clay"], absorption)[mortar])
    if unit in ("concrete brick", "calcium silicate"):
        return float(rows["brick"][mortar])
    msg = f"unit must be concrete block, concrete brick, calcium silicate or clay, not {unit}"
    raise ValueError(msg)


def _clay(rows: list[dict[str, float]], absorption: float | None) -> dict[str, float]:
    if absorption is not None and absorption < rows[0]["below_percent"]:
        return rows[0]
    if absorption is not None and absorption <= rows[1]["to_percent"]:
        return rows[1]
    return rows[2]


def _by_thickness(rows: list[dict[str, float]], mortar: str, t: float) -> float:
    thin, thick = rows
    a, b = thin["thickness_mm"], thick["thickness_mm"]
    if t <= a:
        return thin[mortar]
    if t >= b:
        return thick[mortar]
    return thin[mortar] + (t - a) / (b - a) * (thick[mortar] - thin[mortar])


def gamma_M(control: int) -> float:
    """Partial factor of masonry in flexure.

    BS EN 1996-1-1, UK national annex, Table NA.1 (from memory, confirm).

    Args:
        control: class of execution control, 1 or 2.

    Raises:
        ValueError: there is no such class.
    """
    row = table("flexure")["gamma_M"]["class"].get(str(control))
    if row is None:
        msg = f"the class of execution control is 1 or 2, not {control}"
        raise ValueError(msg)
    return float(row)


def fd(fxk1: float, gM: float, gd: float) -> float:
    """Design flexural strength with the compression of the weight above, in N/mm2.

    BS EN 1996-1-1, 6.3.1(4), as BS 5628-1 36.5.3: fxk1 / gM + gd.

    Args:
        fxk1: characteristic flexural strength, in N/mm2; 0 where a joint takes no tension.
        gM: partial factor.
        gd: design compression, favourable, in N/mm2.

    Raises:
        ValueError: fxk1 or gd is negative, gM not positive.
    """
    _positive(gM=gM)
    if not 0 <= fxk1 < math.inf or not 0 <= gd < math.inf:
        msg = f"fxk1 and gd must not be negative, not {fxk1} and {gd}"
        raise ValueError(msg)
    return fxk1 / gM + gd


def Z(t: float) -> float:
    """Elastic section modulus of a wall a metre long, in mm3.

    BS EN 1996-1-1, 6.3.1(3): rectangular section.

    Args:
        t: thickness, in mm.

    Raises:
        ValueError: t is not positive.
    """
    _positive(t=t)
    return 1000 * t**2 / 6


def MRd(fd: float, Z: float) -> float:
    """Design moment of resistance, in kNm for each metre.

    BS EN 1996-1-1, 6.3.1(3).

    Args:
        fd: design flexural strength, in N/mm2.
        Z: section modulus for each metre, in mm3.

    Raises:
        ValueError: fd is negative or Z not positive.
    """
    _positive(Z=Z)
    if not 0 <= fd < math.inf:
        msg = f"fd must not be negative, not {fd}"
        raise ValueError(msg)
    return fd * Z / 1e6
