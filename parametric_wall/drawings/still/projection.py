"""Axonometric projections, by the names and the axes of ISO 5456-3 (from memory).

The drawing's axes: x to the right along the face that is shown most, y away from who
looks, z up. On paper x points to the right and y up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from parametric_wall.geometry import Point, Point3


@dataclass(frozen=True, slots=True)
class Projection:
    """Where one mm along each of the drawing's axes goes on paper, at full size.

    Attributes:
        name: the standard's term.
        x: of the axis along the face.
        y: of the axis that leads away.
        z: of the upright one.
    """

    name: str
    x: Point
    y: Point
    z: Point = (0.0, 1.0)

    def paper(self, point: Point3) -> Point:
        """Where a point goes."""
        x, y, z = point
        return (
            x * self.x[0] + y * self.y[0] + z * self.z[0],
            x * self.x[1] + y * self.y[1] + z * self.z[1],
        )

    @property
    def towards(self) -> Point3:
        """Unit vector towards who looks: all points along it fall on one point of the paper."""
        (a, d), (b, e), (c, f) = self.x, self.y, self.z
        v = (b * f - c * e, c * d - a * f, a * e - b * d)
        size = math.copysign(math.hypot(*v), v[2])
        return (v[0] / size, v[1] / size, v[2] / size)

    def mirrored(self) -> Projection:
        """The same seen from the front left instead of the front right."""
        return Projection(self.name, (self.x[0], -self.x[1]), (-self.y[0], self.y[1]), self.z)


def _axis(angle_deg: float, scale: float) -> Point:
    turn = math.radians(angle_deg)
    return scale * math.cos(turn), scale * math.sin(turn)


DIMETRIC = Projection("dimetric", _axis(-7.0, 1.0), _axis(42.0, 0.5))
"""Axes at 7 and 42 degrees to the horizontal, scales 1 : 1/2 : 1."""
ISOMETRIC = Projection("isometric", _axis(-30.0, 1.0), _axis(30.0, 1.0))
"""Axes at 30 degrees to the horizontal, one scale."""
