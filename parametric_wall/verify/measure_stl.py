"""A binary STL file, read back and measured. It has no names: one total for all."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from parametric_wall.errors import OutputError
from parametric_wall.geometry import Point3
from parametric_wall.solid.placing import Floats
from parametric_wall.verify.rounding import rounding_volume

HEADER, FACET = 84, 50
"""Bytes: of what comes before the facets, with their number, and of each facet."""


@dataclass(frozen=True, slots=True)
class StlMeasured:
    """What a file holds.

    Attributes:
        facets: how many triangles.
        volume: mm3.
        rounding: mm3 by which 24-bit coordinates may have changed the volume.
        lower: the lower corner of the box about everything, in the file's axes, mm.
        upper: its upper corner.
    """

    facets: int
    volume: float
    rounding: float
    lower: Point3
    upper: Point3


def measure_stl(path: Path) -> StlMeasured:
    """Read a binary STL file back.

    Args:
        path: a file in mm.

    Raises:
        OutputError: it is no binary STL file, or is cut short, or empty.
    """
    try:
        data = path.read_bytes()
    except OSError as error:
        raise OutputError(f"{path}: cannot be read: {error.strerror}") from error
    count = int.from_bytes(data[HEADER - 4 : HEADER], "little")
    if count == 0 or len(data) != HEADER + FACET * count:
        raise OutputError(f"{path}: not a whole binary STL file")
    facets = np.frombuffer(data, np.uint8, offset=HEADER).reshape(count, FACET)
    corners = facets[:, 12:48].copy().view("<f4").reshape(-1, 3, 3).astype(np.float64)
    if not np.isfinite(corners).all():
        raise OutputError(f"{path}: a corner that is not a number")
    lower, upper = corners.min(axis=(0, 1)), corners.max(axis=(0, 1))
    return StlMeasured(
        count,
        _volume(corners - (lower + upper) / 2),
        rounding_volume(corners),
        (float(lower[0]), float(lower[1]), float(lower[2])),
        (float(upper[0]), float(upper[1]), float(upper[2])),
    )


def _volume(corners: Floats) -> float:
    """By the divergence theorem: the tetrahedra from the origin to every triangle."""
    a, b, c = np.moveaxis(corners, 1, 0)
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)
