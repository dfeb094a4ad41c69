"""Rankine's earth pressure on an upright plane: coefficients and thrusts a metre of wall."""

from __future__ import annotations

import math

WATER_WEIGHT = 9.81
"""Unit weight of water, kN/m3."""


def active(phi: float, beta: float = 0.0) -> float:
    """Coefficient of active earth pressure Ka; the thrust is parallel to the soil's top.

    Rankine; J. E. Bowles, Foundation Analysis and Design, 5th edition, chapter 11.

    Args:
        phi: angle of shearing resistance, in degrees.
        beta: slope of the soil's top, rising from the wall, in degrees.

    Returns:
        Ka, a bare number.

    Raises:
        ValueError: phi is not between 0 and 90, or beta not from 0 to less than phi.
    """
    _friction(phi)
    if not 0 <= beta < phi:
        msg = f"beta must be from 0 to less than phi, {phi}, not {beta}"
        raise ValueError(msg)
    c, p = math.cos(math.radians(beta)), math.cos(math.radians(phi))
    r = math.sqrt(c * c - p * p)
    return c * (c - r) / (c + r)


def passive(phi: float) -> float:
    """Coefficient of passive earth pressure Kp, of soil with a level top.

    Rankine; J. E. Bowles, Foundation Analysis and Design, 5th edition, chapter 11.

    Args:
        phi: angle of shearing resistance, in degrees.

    Returns:
        Kp, a bare number.

    Raises:
        ValueError: phi is not between 0 and 90.
    """
    return 1 / active(phi)


def submerged(gamma: float) -> float:
    """Unit weight of soil under water gamma'. It counts below the water table only.

    Archimedes; computed.

    Args:
        gamma: unit weight of the soil full of water, in kN/m3.

    Returns:
        gamma', in kN/m3.

    Raises:
        ValueError: the soil would float.
    """
    if not gamma > WATER_WEIGHT:
        msg = f"gamma must be more than {WATER_WEIGHT}, water, not {gamma}"
        raise ValueError(msg)
    return gamma - WATER_WEIGHT


def soil_thrust(Ka: float, gamma: float, H: float) -> float:
    """Thrust of soil, H/3 above the foot of the plane.

    Rankine: Pa = 1/2 Ka gamma H2.

    Args:
        Ka: coefficient of active earth pressure, a bare number.
        gamma: unit weight of the soil, in kN/m3.
        H: height of the soil, in m.

    Returns:
        The thrust, in kN/m.

    Raises:
        ValueError: Ka or gamma is not positive, or H is negative.
    """
    _positive(Ka=Ka, gamma=gamma)
    _not_negative(H=H)
    return Ka * gamma * H * H / 2


def surcharge_thrust(Ka: float, q: float, H: float) -> float:
    """Thrust of an even load, H/2 above the foot of the plane that it pushes on.

    Rankine: Pq = Ka q H. With q = gamma h it is the push of soil above on the height H below.

    Args:
        Ka: coefficient of active earth pressure, a bare number.
        q: load on the soil's top, on plan, in kPa.
        H: height that it pushes on, in m.

    Returns:
        The thrust, in kN/m.

    Raises:
        ValueError: Ka is not positive, or q or H is negative.
    """
    _positive(Ka=Ka)
    _not_negative(q=q, H=H)
    return Ka * q * H


def water_thrust(hw: float) -> float:
    """Thrust of standing water, hw/3 above the foot of the plane, level.

    Hydrostatics: Pw = 1/2 gamma_w hw2.

    Args:
        hw: depth of the water, in m.

    Returns:
        The thrust, in kN/m.

    Raises:
        ValueError: hw is negative.
    """
    _not_negative(hw=hw)
    return WATER_WEIGHT * hw * hw / 2


def soil_thrusts(
    Ka: float, gamma: float, H: float, hw: float
) -> tuple[tuple[float, float], tuple[float, float], tuple[float, float]]:
    """Thrusts of soil that stands in water at its foot; the water's own is `water_thrust`.

    Rankine. Above the water table, and for its load on what is below, the soil has its bulk
    weight; only below the table does the submerged weight count.

    Args:
        Ka: coefficient of active earth pressure, a bare number.
        gamma: unit weight of the soil, in kN/m3.
        H: height of the soil, in m.
        hw: depth of the water, from the foot of the plane, in m.

    Returns:
        Of the soil above the water, of its load on the depth below, and of the soil below:
        each the thrust in kN/m, and how high above the foot it acts, in m.

    Raises:
        ValueError: the water stands above the soil, or as `soil_thrust` and `submerged`.
    """
    _not_negative(hw=hw)
    if hw > H:
        msg = f"hw must not be more than H, {H}, not {hw}: water above the soil"
        raise ValueError(msg)
    dry = H - hw
    below = soil_thrust(Ka, submerged(gamma), hw) if hw > 0 else 0.0
    return (
        (soil_thrust(Ka, gamma, dry), hw + dry / 3),
        (surcharge_thrust(Ka, gamma * dry, hw), hw / 2),
        (below, hw / 3),
    )


def _friction(phi: float) -> None:
    if not 0 < phi < 90:
        msg = f"phi must be more than 0 and less than 90, not {phi}"
        raise ValueError(msg)


def _positive(**values: float) -> None:
    for name, value in values.items():
        if not 0 < value < math.inf:
            msg = f"{name} must be more than 0, not {value}"
            raise ValueError(msg)


def _not_negative(**values: float) -> None:
    for name, value in values.items():
        if not 0 <= value < math.inf:
            msg = f"{name} must not be less than 0, not {value}"
            raise ValueError(msg)
