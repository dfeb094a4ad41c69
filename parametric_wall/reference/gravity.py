"""A wall that stands by its own weight: the pressure under its base."""

from __future__ import annotations


def base_pressure(N: float, x: float, B: float) -> tuple[float, float, float]:
    """Pressure under a base, at toe and heel; where the base would have to pull, it is open.

    Statics: N/B (1 +- 6e/B) within the middle third, else a triangle with qmax = 2N/(3x).

    Args:
        N: weight on the base, in kN/m.
        x: from the toe to where it meets the base, in m.
        B: width of the base, in m.

    Returns:
        Pressure at the toe and at the heel, in kPa, and the width that bears, in m.

    Raises:
        ValueError: N or B is not positive, or N meets the base outside its width.
    """
    if not (N > 0 and B > 0):
        msg = f"N and B must be more than 0, not {N} and {B}"
        raise ValueError(msg)
    if not 0 < x < B:
        msg = f"x must be more than 0 and less than B, {B}, not {x}: the wall goes over"
        raise ValueError(msg)
    e = B / 2 - x
    if -B / 6 <= e <= B / 6:
        return N / B * (1 + 6 * e / B), N / B * (1 - 6 * e / B), B
    if e > 0:
        return 2 * N / (3 * x), 0.0, 3 * x
    return 0.0, 2 * N / (3 * (B - x)), 3 * (B - x)
