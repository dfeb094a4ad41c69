"""How far a file of 24-bit numbers can be off, from those numbers: no tolerance is chosen."""

from __future__ import annotations

from math import sqrt

import numpy as np

from parametric_wall.solid.placing import Floats


def rounding_length(largest: float) -> float:
    """The farthest that rounding can move a point, in the coordinates' own unit.

    Args:
        largest: the largest coordinate, without its sign. Each of the three is off by at
            most half the distance to the next number of 24 bits.
    """
    return sqrt(3) * float(np.spacing(np.float32(largest))) / 2


def rounding_volume(corners: Floats) -> float:
    """The most that rounding can change the volume of a closed surface.

    Each triangle, seen along each axis, sweeps its area times how far its corners moved
    along that axis.

    Args:
        corners: (n, 3, 3), of every triangle, as they were read.

    Returns:
        The cube of the corners' unit.
    """
    a, b, c = np.moveaxis(corners, 1, 0)
    seen = np.abs(np.cross(b - a, c - a)) / 2
    largest = np.abs(corners).max(axis=1).astype(np.float32)
    return float((seen * np.spacing(largest)).sum() / 2)
