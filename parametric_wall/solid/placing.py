"""Placements as matrices, so that thousands of pieces are placed in one step."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from parametric_wall.geometry import Placement, direction

Floats = NDArray[np.float64]


def matrices(places: Iterable[Placement]) -> Floats:
    """(n, 4, 4): each placement as a matrix on column vectors of mm.

    Args:
        places: where the shapes' own axes stand, mm and degrees.
    """
    rows = []
    for place in places:
        c, s = direction(place.heading_deg)
        rows.append((c, -s, 0, place.x, s, c, 0, place.y, 0, 0, 1, place.z, 0, 0, 0, 1))
    return np.array(rows, dtype=np.float64).reshape(-1, 4, 4)


def place_points(motions: Floats, points: Floats) -> Floats:
    """(n, k, 3): every point placed by every matrix, mm.

    Args:
        motions: (n, 4, 4).
        points: (k, 3), mm.
    """
    turned: Floats = np.einsum("nij,kj->nki", motions[:, :3, :3], points)
    return turned + motions[:, None, :3, 3]
