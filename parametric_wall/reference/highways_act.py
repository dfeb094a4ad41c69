"""Highways Act 1980: retaining walls near streets."""

from __future__ import annotations

YARD, FOOT, INCH = 914.4, 304.8, 25.4
"""In mm, exact by definition."""

NEAR = 4 * YARD
"""How near a street the section reaches, mm: 4 yards."""

ABOVE = 4 * FOOT + 6 * INCH
"""How high above the boundary at the street a part of the wall has to be, mm: 4 ft 6 in."""


def needs_approval(distance: float, above_boundary: float) -> bool:
    """Whether a retaining wall's plans need the approval of the local authority.

    Highways Act 1980, section 167 (read).

    Args:
        distance: from the street to the nearest part of the wall, in mm.
        above_boundary: of the wall's highest part over the ground at the boundary nearest
            the street, in mm; below 0 where it lies lower.

    Returns:
        True where the wall stands within 4 yards (3657.6) of the street and any part of it
        is more than 4 ft 6 in (1371.6) above the boundary.

    Raises:
        ValueError: distance is negative or not a number.
    """
    if not distance >= 0:
        msg = f"distance must not be less than 0: {distance}"
        raise ValueError(msg)
    if above_boundary != above_boundary:  # noqa: PLR0124 (not a number)
        msg = "above_boundary is not a number"
        raise ValueError(msg)
    return distance <= NEAR and above_boundary > ABOVE
