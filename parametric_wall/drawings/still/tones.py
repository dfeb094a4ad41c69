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
COPINGS: tuple[Rgb, ...] = ((231, 225, 212), (225, 218, 204), (236, 231, 220))
PLANTS: tuple[str, ...] = ("#7f9d6b", "#93ae7c", "#a9c091", "#6e8d5e")
MORTAR: Rgb = (246, 242, 233)
COPING_JOINT: Rgb = (186, 178, 163)
FILLER: Rgb = (150, 144, 134)
WEEP: Rgb = (62, 56, 50)
SOIL: Rgb = (112, 86, 64)
CONCRETE: Rgb = (196, 196, 192)
EXISTING: Rgb = (206, 207, 207)

PAPER, GROUND, SHADOW, PERSON, INK = "#fff", "#f2f1ea", "#dedcd2", "#d0d3d6", "#333"
SHADE = "#2a1c0c"
"""Painted thinly over a face that lies in the shadow of the coping above."""

LIGHT: Point3 = (-0.46, -0.54, 0.70)
"""Towards the light, in the drawing's axes: from the upper left and the front."""
AMBIENT, DIRECT = 0.76, 0.34
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
