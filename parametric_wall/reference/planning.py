"""Permitted development: how high a wall may be without planning permission. England."""

from __future__ import annotations


def enclosure_height_max(*, next_to_vehicles: bool) -> float:
    """Height of a wall above natural ground up to which it is permitted development.

    Town and Country Planning (General Permitted Development) (England) Order 2015,
    Schedule 2, Part 2, Class A (read). Not so within a listed building's curtilage, nor where
    a direction or a condition took the right away; "adjacent" has no fixed measure.

    Args:
        next_to_vehicles: whether it stands adjacent to a highway used by vehicular traffic,
            a plain yes or no without a unit.

    Returns:
        The height, in mm.
    """
    return 1000.0 if next_to_vehicles else 2000.0
