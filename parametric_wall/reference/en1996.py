"""Clauses of the masonry design standards that the setting-out rests on."""

from __future__ import annotations


def overlap_min(hu: float) -> float:
    """Least overlap of masonry units in a course on those of the course below.

    BS EN 1996-1-1:2005, 8.1.4.1(3) (from memory, confirm).

    Args:
        hu: height of the unit, in mm.

    Returns:
        The least overlap, in mm: the greater of 0.4 hu and 40 up to 250 high,
        of 0.2 hu and 100 above.

    Raises:
        ValueError: hu is not positive.
    """
    if not hu > 0:
        msg = f"hu must be more than 0, not {hu}"
        raise ValueError(msg)
    return max(0.4 * hu, 40.0) if hu <= 250 else max(0.2 * hu, 100.0)
