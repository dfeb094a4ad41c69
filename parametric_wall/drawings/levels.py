"""The levels that a wall is built to: where the line is set for every course."""

from __future__ import annotations

from dataclasses import dataclass

from parametric_wall.job.resolve import WallSpec


@dataclass(frozen=True, slots=True)
class Level:
    """One level.

    Attributes:
        name: what has its top there.
        over_base: over the top of the footing or base, mm.
        over_ground: over ground, mm.
        rise: from the level below, mm; 0 for the first.
    """

    name: str
    over_base: float
    over_ground: float
    rise: float


def levels(spec: WallSpec) -> tuple[Level, ...]:
    """Tops of the footing, of every course, and of the coping at its highest arris."""
    gauge = spec.gauge
    tops = [("footing" if spec.footing else "base", gauge.base)]
    tops += [(f"c{n:02d}", gauge.course_base(n + 1)) for n in range(1, gauge.courses + 1)]
    if gauge.coped:
        tops.append(("coping", gauge.finished))
    found: list[Level] = []
    for name, top in tops:
        below = found[-1].over_ground if found else top
        found.append(Level(name, top - gauge.base, top, top - below))
    return tuple(found)
