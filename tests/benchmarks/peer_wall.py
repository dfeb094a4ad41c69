"""The wall of `long_job`, as somebody would lay it out who scripts CadQuery by hand.

20 m by 6 courses of 440 x 140 x 140, half bond, copings of 600 x 220 x 50 bedded to a fall.
"""

from __future__ import annotations

import math

T, L, H, J = 140.0, 440.0, 140.0, 10.0
COPING, OVER, DEEP, FALL = 600.0, 40.0, 50.0, 5 / 220
LENGTH, COURSES, BASE = 20_000.0, 6, -150.0


def courses(length: float = LENGTH):
    """For each course its level and the (start, length) of its blocks."""
    for course in range(COURSES):
        at, blocks = 0.0, []
        first = L if course % 2 == 0 else (L - J) / 2
        while at < length - 1e-6:
            piece = min(first if at == 0 else L, length - at)
            if 0 < length - at - piece - J < 100:
                piece = (length - at - J) / 2
            blocks.append((at, piece))
            at += piece + J
        yield BASE + course * (H + J), blocks


def copings(length: float = LENGTH):
    """The (start, length) of every coping."""
    at = 0.0
    while at < length - 1e-6:
        piece = min(COPING, length - at)
        yield at, piece
        at += piece + J


def slab() -> list[tuple[float, float]]:
    """A coping's section: across the wall and up, tilted to the front."""
    c = 1 / math.hypot(1, FALL)
    s = FALL * c
    corners = ((0, 0), (2 * OVER + T, 0), (2 * OVER + T, DEEP), (0, DEEP))
    return [(-OVER + p * c - q * s, J - OVER * FALL + p * s + q * c) for p, q in corners]


def wedge() -> list[tuple[float, float]]:
    """The section of the bed under the copings."""
    return [(0.0, 0.0), (T, 0.0), (T, J + T * FALL), (0.0, J)]
