"""Tones of the still picture: plain sRGB, each by what it is and how the light meets it."""

from __future__ import annotations

import zlib
from functools import cache

from parametric_wall.geometry import Point3

Rgb = tuple[int, int, int]

STONES: tuple[Rgb, ...] = (
    (214, 184, 142),
    (205, 172, 130),
    (221, 194, 154),
    (198, 166, 127),
    (210, 177, 140),
)
COPINGS: tuple[Rgb, ...] = ((226, 219, 205), (219, 211, 196), (231, 225, 213))
PLANTS: tuple[str, ...] = ("#6f8f5c", "#86a46c", "#9db980", "#5d7d50")
MORTAR: Rgb = (243, 239, 229)
FILLER: Rgb = (150, 144, 134)
WEEP: Rgb = (62, 56, 50)
SOIL: Rgb = (112, 86, 64)
CONCRETE: Rgb = (196, 196, 192)
EXISTING: Rgb = (206, 207, 207)

PAPER, GROUND, SHADOW, PERSON, INK = "#fff", "#f1f1ea", "#dddcd2", "#c3c6c9", "#333"
SHADE = "#2a1c0c"
"""Painted thinly over a face that lies in the shadow of the coping above."""

LIGHT: Point3 = (-0.46, -0.54, 0.70)
"""Towards the light, in the drawing's axes: from the upper left and the front."""
AMBIENT, DIRECT = 0.66, 0.46
STEPS = 40
"""So many shades from dark to light, so that many faces share one."""


@cache
def lit(tone: Rgb, normal: Point3) -> str:
    """A tone as the light meets a face of this outward normal."""
    cosine = sum(a * b for a, b in zip(LIGHT, normal, strict=True))
    shade = round((AMBIENT + DIRECT * max(0.0, cosine)) * STEPS) / STEPS
    return "#" + "".join(f"{min(255, round(c * shade)):02x}" for c in tone)


def varied(tones: tuple[Rgb, ...], name: str) -> Rgb:
    """One of several tones, always the same for the same name."""
    return tones[zlib.crc32(name.encode()) % len(tones)]
