"""Party Wall etc. Act 1996: digging near a neighbour's building. Garden walls count."""

from __future__ import annotations

NEAR, FAR = 3000.0, 6000.0
"""How far from our digging sections 6(1) and 6(2) reach, mm."""


def plane_depth(distance: float, founded: float) -> float:
    """Depth below ground of the plane drawn down at 45 degrees from the neighbour's foundation.

    Party Wall etc. Act 1996, section 6(2) (read in practitioners' quotations).

    Args:
        distance: horizontally from his building to our digging, in mm.
        founded: depth of his foundation's underside below ground, in mm.

    Returns:
        The plane's depth at our digging, in mm.

    Raises:
        ValueError: a length is negative or not a number.
    """
    for name, value in (("distance", distance), ("founded", founded)):
        if not value >= 0:
            msg = f"{name} must not be less than 0: {value}"
            raise ValueError(msg)
    return founded + distance


def notice_within_3_m(distance: float, founded: float, dug: float) -> bool:
    """Whether digging within 3 m of a neighbour's building wants a month's notice.

    Party Wall etc. Act 1996, section 6(1) (read in practitioners' quotations).

    Args:
        distance: horizontally from his building to our digging, in mm.
        founded: depth of his foundation's underside below ground, in mm.
        dug: depth of our digging below ground, in mm.

    Returns:
        True within 3000 where we dig lower than his foundation.

    Raises:
        ValueError: a length is negative or not a number.
    """
    plane_depth(distance, founded)  # Refuses nonsense.
    return _depth(dug) > founded and distance <= NEAR


def notice_within_6_m(distance: float, founded: float, dug: float) -> bool:
    """Whether digging within 6 m of a neighbour's building wants a month's notice.

    Party Wall etc. Act 1996, section 6(2) (read in practitioners' quotations).

    Args:
        distance: horizontally from his building to our digging, in mm.
        founded: depth of his foundation's underside below ground, in mm.
        dug: depth of our digging below ground, in mm.

    Returns:
        True within 6000 where we dig below the plane at 45 degrees.

    Raises:
        ValueError: a length is negative or not a number.
    """
    return _depth(dug) > plane_depth(distance, founded) and distance <= FAR


def _depth(dug: float) -> float:
    if not dug >= 0:
        msg = f"dug must not be less than 0: {dug}"
        raise ValueError(msg)
    return dug
