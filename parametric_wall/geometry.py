"""The two shapes every piece of a wall is made of, and where they stand.

All lengths in mm. A piece has its own axes: s along the run, u across it from
the front face towards the back, z up (s, u, z is right-handed).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

Point = tuple[float, float]
Point3 = tuple[float, float, float]

FULL_TURN_DEG = 360.0


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Every tolerance of the project, each with its reason."""

    coincident: float = 1e-6
    """mm. Points nearer than this are one point: far above float noise at
    10 km, far below anything built."""
    cut: float = 1.0
    """mm. What a builder can measure and cut."""
    kernel: float = 1e-9
    """Relative. Kernel volumes of plane-faced solids agree better than this."""
    overlap_mm3: float = 1.0
    """mm3. A block moved by 0.5 mm overlaps by some 10 000 mm3, while the
    mesh kernel's own noise on a 20 m wall is below 0.1 mm3."""


TOLERANCE = Tolerance()


def direction(heading_deg: float) -> Point:
    """Unit vector of a heading, exact at quarter turns.

    Args:
        heading_deg: degrees anticlockwise from x.
    """
    quarter, rest = divmod(heading_deg % FULL_TURN_DEG, 90.0)
    c, s = (1.0, 0.0) if rest == 0 else (math.cos(math.radians(rest)), math.sin(math.radians(rest)))
    for _ in range(int(quarter)):
        c, s = -s, c
    return c, s


@dataclass(frozen=True, slots=True)
class Placement:
    """Where a shape's own axes stand: turned about z, then moved."""

    x: float = 0.0
    y: float = 0.0
    z: float = 0.0
    heading_deg: float = 0.0

    def point(self, s: float, u: float, z: float = 0.0) -> Point3:
        """A point of the shape's own axes, in the axes outside."""
        c, d = direction(self.heading_deg)
        return (self.x + c * s - d * u, self.y + d * s + c * u, self.z + z)

    def then(self, outer: Placement) -> Placement:
        """This placement, seen from outside `outer`."""
        x, y, z = outer.point(self.x, self.y, self.z)
        return Placement(x, y, z, (self.heading_deg + outer.heading_deg) % FULL_TURN_DEG)


def signed_area(points: tuple[Point, ...]) -> float:
    """Area of a closed polygon in mm2, positive when anticlockwise."""
    # Taken about the first point: far from the origin the plain sum loses digits.
    x0, y0 = points[0]
    rel = [(x - x0, y - y0) for x, y in points[1:]]
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(rel)) / 2


def centroid(points: tuple[Point, ...]) -> Point:
    """Centroid of a closed polygon, in mm."""
    x0, y0 = points[0]
    rel = [(x - x0, y - y0) for x, y in points[1:]]
    area = cx = cy = 0.0
    for a, b in pairwise(rel):
        w = (a[0] * b[1] - b[0] * a[1]) / 2
        area += w
        cx += w * (a[0] + b[0]) / 3
        cy += w * (a[1] + b[1]) / 3
    return x0 + cx / area, y0 + cy / area


@dataclass(frozen=True, slots=True)
class End:
    """An upright plane across a run: s = at + per_u * u (a mitre has per_u = 1 or -1)."""

    at: float
    per_u: float = 0.0


@dataclass(frozen=True, slots=True)
class Bar:
    """A section in (u, z), anticlockwise, swept along s between two upright planes."""

    section: tuple[Point, ...]
    start: End
    end: End

    @property
    def volume(self) -> float:
        """mm3: the section's area times the length at its centroid, which is exact."""
        u, _ = centroid(self.section)
        length = (self.end.at - self.start.at) + (self.end.per_u - self.start.per_u) * u
        return signed_area(self.section) * length

    @property
    def height(self) -> float:
        """Over all, mm."""
        return max(z for _, z in self.section) - min(z for _, z in self.section)

    def corners(self) -> tuple[tuple[Point3, ...], tuple[Point3, ...]]:
        """The section's points on the start plane and on the end plane, in (s, u, z)."""
        return (
            tuple((self.start.at + self.start.per_u * u, u, z) for u, z in self.section),
            tuple((self.end.at + self.end.per_u * u, u, z) for u, z in self.section),
        )

    def plan(self) -> tuple[Point, ...]:
        """The outline seen from above, anticlockwise, in (s, u)."""
        lo, hi = min(u for u, _ in self.section), max(u for u, _ in self.section)
        a, b = self.start, self.end
        return (
            (a.at + a.per_u * lo, lo),
            (b.at + b.per_u * lo, lo),
            (b.at + b.per_u * hi, hi),
            (a.at + a.per_u * hi, hi),
        )

    @property
    def base(self) -> float:
        """The lowest z, in the shape's own axes."""
        return min(z for _, z in self.section)


@dataclass(frozen=True, slots=True)
class Slab:
    """A level plan outline, anticlockwise, with holes, of one thickness."""

    outline: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...]
    thickness: float

    @property
    def area(self) -> float:
        """mm2, net of the holes."""
        return signed_area(self.outline) - sum(abs(signed_area(h)) for h in self.holes)

    @property
    def volume(self) -> float:
        """mm3."""
        return self.area * self.thickness

    @property
    def height(self) -> float:
        """In mm."""
        return self.thickness

    def plan(self) -> tuple[Point, ...]:
        """The outline seen from above."""
        return self.outline

    @property
    def base(self) -> float:
        """The lowest z, in the shape's own axes."""
        return 0.0


Shape = Bar | Slab


def rectangle(width: float, height: float, u: float = 0.0, z: float = 0.0) -> tuple[Point, ...]:
    """A rectangular section, anticlockwise, its lower front corner at (u, z)."""
    return ((u, z), (u + width, z), (u + width, z + height), (u, z + height))


def block(length: float, width: float, height: float) -> Bar:
    """A plain rectangular bar with its lower front corner at the origin."""
    return Bar(rectangle(width, height), End(0.0), End(length))
