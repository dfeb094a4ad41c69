"""What a wall may be out by, and how that shows on site."""

from __future__ import annotations

import math
from dataclasses import dataclass

from parametric_wall.reference.tables import table


@dataclass(frozen=True, slots=True)
class Tolerance:
    """One tolerance.

    Attributes:
        value: out by at the most, either way, mm.
        over: in any such length, mm; None where it is over all.
        source: where it comes from.
        standing: how far it can be trusted.
    """

    value: float
    over: float | None
    source: str
    standing: str


def tolerance(name: str) -> Tolerance:
    """One row of the table of tolerances."""
    row = table("tolerances")[name]
    over = float(row["over_mm"]) if "over_mm" in row else None
    return Tolerance(float(row["value"]), over, row["source"], row["standing"])


def verticality_names(height: float) -> tuple[str, ...]:
    """Which rows say how far out of plumb a wall may be.

    BS 5606 / BS 8000-3 to 3 m and to 7 m, and a warranty manual (read); BS EN 1996-2,
    Table 3.1 (from memory).

    Args:
        height: of the wall, in mm.

    Raises:
        ValueError: height is not more than 0.
    """
    if not height > 0:
        msg = f"height must be more than 0: {height}"
        raise ValueError(msg)
    plumb = ("verticality_to_3_m", "verticality_to_7_m")
    within = next((name for name in plumb if height <= (tolerance(name).over or 0.0)), None)
    return (*([within] if within else []), "warranty_verticality", "en_verticality")


def straightness_names(length: float) -> tuple[str, ...]:
    """Which rows say how far off a straight line a wall may be.

    BS 5606 / BS 8000-3 and a warranty manual (read), BS EN 1996-2, Table 3.1 (from memory).

    Args:
        length: of the wall, in mm.

    Raises:
        ValueError: length is not more than 0.
    """
    if not length > 0:
        msg = f"length must be more than 0: {length}"
        raise ValueError(msg)
    warranty = "warranty_straightness" if length <= 5000 else "warranty_straightness_longer"
    long = ("en_straightness_10_m",) if length >= 10_000 else ()
    return ("straightness", warranty, "en_straightness", *long)


def diagonal(a: float, b: float) -> float:
    """Diagonal of a rectangle.

    Geometry: the theorem of Pythagoras.

    Args:
        a: one side, in mm.
        b: the other side, in mm.

    Returns:
        The diagonal, in mm.

    Raises:
        ValueError: a side is not more than 0.
    """
    if not (a > 0 and b > 0):
        msg = f"sides must be more than 0: {a}, {b}"
        raise ValueError(msg)
    return math.hypot(a, b)


def racked_diagonals(a: float, b: float, out: float) -> tuple[float, float]:
    """Diagonals of a frame pushed out of square, its sides keeping their lengths.

    Geometry: the far end of side b moves by `out` along side a.

    Args:
        a: the side it moves along, in mm.
        b: the side that is racked, in mm.
        out: how far its far end moves, in mm.

    Returns:
        The longer and the shorter diagonal, in mm.

    Raises:
        ValueError: a side is not more than 0, or out is negative or not less than b.
    """
    diagonal(a, b)
    if not 0 <= out < b:
        msg = f"out must be from 0 to less than {b}: {out}"
        raise ValueError(msg)
    along = math.sqrt(b * b - out * out)
    return math.hypot(a + out, along), math.hypot(a - out, along)


def three_four_five(short: float, long: float) -> tuple[float, float, float] | None:
    """The greatest 3-4-5 triangle, in whole hundreds, that two legs of a corner hold.

    Geometry: 3 x 3 + 4 x 4 = 5 x 5.

    Args:
        short: the shorter leg, in mm.
        long: the longer leg, in mm.

    Returns:
        Its sides along the shorter leg, along the longer and across, in mm; None where the
        legs are too short for one.

    Raises:
        ValueError: a leg is not more than 0, or short is more than long.
    """
    if not 0 < short <= long:
        msg = f"legs must be more than 0 and in order: {short}, {long}"
        raise ValueError(msg)
    n = 100.0 * min(short // 300, long // 400)
    return (3 * n, 4 * n, 5 * n) if n else None
