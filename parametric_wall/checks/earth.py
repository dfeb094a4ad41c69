"""A wall that holds soil back, a metre of it, as a plain gravity wall: what pushes, what resists.

Nothing here knows of a job. Lengths in m from the toe and from the base, forces in kN/m.
No passive pressure, no cohesion, no strength of bond and no return helps.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from parametric_wall.reference import rankine
from parametric_wall.reference.en1997 import Factors, phi_d
from parametric_wall.reference.tables import Limit

PLAIN = Factors("no partial factors", 1.0, 1.0, 1.0, 1.0, "", "")


@dataclass(frozen=True, slots=True)
class Weight:
    """A weight on the base: `force` in kN/m at `arm` from the toe, m."""

    name: str
    force: float
    arm: float


@dataclass(frozen=True, slots=True)
class Thrust:
    """A push on the upright plane at the heel.

    Attributes:
        name: of what pushes.
        force: level part, kN/m.
        arm: above the base, m.
        variable: whether it comes and goes.
    """

    name: str
    force: float
    arm: float
    variable: bool = False


@dataclass(frozen=True)
class Section:
    """One level at which the wall is looked at.

    Attributes:
        name: of the level.
        base_m: width of the base there.
        weights: what lies on it.
        height_m: of the soil on the upright plane at the heel.
        weight_kN_m3: unit weight of the soil.
        friction_deg: its angle of shearing resistance.
        slope_deg: of its top.
        surcharge_kPa: on its top.
        water_m: depth of standing water above the base.
        bed_friction: of the bed under the wall; None where the base is cast on the soil.
        ground: what the ground under the base is presumed to bear; None on a bed.
    """

    name: str
    base_m: float
    weights: tuple[Weight, ...]
    height_m: float
    weight_kN_m3: float  # noqa: N815 (the unit's own)
    friction_deg: float
    slope_deg: float = 0.0
    surcharge_kPa: float = 0.0  # noqa: N815
    water_m: float = 0.0
    bed_friction: float | None = None
    ground: Limit | None = None

    def __post_init__(self) -> None:
        if not self.base_m > 0:
            msg = f"base_m must be more than 0, not {self.base_m}"
            raise ValueError(msg)

    @cached_property
    def vertical(self) -> float:
        """N: all weights, kN/m."""
        return sum(w.force for w in self.weights)

    @cached_property
    def restoring(self) -> float:
        """MR: moment of the weights about the toe, kNm/m."""
        return sum(w.force * w.arm for w in self.weights)

    @property
    def uplift(self) -> float:
        """U: of the water under the base, a triangle from the heel, kN/m."""
        return rankine.WATER_WEIGHT * self.water_m * self.base_m / 2

    def coefficient(self, by: Factors = PLAIN) -> float:
        """Ka, with the design friction of a set of factors."""
        return rankine.active(phi_d(self.friction_deg, by.gamma_phi), self.slope_deg)

    def thrusts(self, by: Factors = PLAIN) -> tuple[Thrust, ...]:
        """What pushes, by the design friction of a set of factors; the actions without theirs.

        The soil's own push is parallel to its top: its upright part is left out.
        """
        ka = self.coefficient(by)
        level = math.cos(math.radians(self.slope_deg))
        parts = rankine.soil_thrusts(ka, self.weight_kN_m3, self.height_m, self.water_m)
        names = ("soil", "soil above, on the soil in water", "soil in water")
        if self.water_m > 0:
            names = ("soil above the water", *names[1:])
        soil = (Thrust(n, f * level, a) for n, (f, a) in zip(names, parts, strict=True))
        loaded = rankine.surcharge_thrust(ka, self.surcharge_kPa, self.height_m)
        surcharge = Thrust("surcharge", loaded * level, self.height_m / 2, variable=True)
        water = Thrust("water", rankine.water_thrust(self.water_m), self.water_m / 3)
        return tuple(t for t in (*soil, surcharge, water) if t.force > 0)

    @property
    def soil_pressures(self) -> tuple[tuple[float, float], ...]:
        """Level pressure of the soil from its top down: height above the base, m, and kPa."""
        pressure = self.coefficient() * math.cos(math.radians(self.slope_deg))
        dry = self.height_m - self.water_m
        at_water = pressure * self.weight_kN_m3 * dry
        points = ((self.height_m, 0.0), (self.water_m, at_water))
        if self.water_m == 0:
            return points
        below = pressure * rankine.submerged(self.weight_kN_m3) * self.water_m
        return (*points, (0.0, at_water + below))

    @property
    def surcharge_pressure(self) -> float:
        """Level pressure of the surcharge, kPa, the same all the way down."""
        level = math.cos(math.radians(self.slope_deg))
        return self.coefficient() * self.surcharge_kPa * level

    def push(self, by: Factors = PLAIN) -> float:
        """H: everything that pushes the wall along, with its factors, kN/m."""
        return sum(t.force * _factor(t, by) for t in self.thrusts(by))

    def overturning(self, by: Factors = PLAIN) -> float:
        """Mo: everything that turns the wall over its toe, uplift too, with factors, kNm/m."""
        turned = sum(t.force * t.arm * _factor(t, by) for t in self.thrusts(by))
        return turned + by.gamma_G * self.uplift * self.base_m * 2 / 3

    def grip(self, by: Factors = PLAIN) -> float:
        """R: friction of the base, with factors, kN/m; negative where water lifts the wall."""
        return self.base_friction(by) * (by.gamma_G_fav * self.vertical - by.gamma_G * self.uplift)

    def base_friction(self, by: Factors = PLAIN) -> float:
        """Friction of the base, a bare number.

        A base cast on soil has two thirds of its angle in lumped practice, the whole of the
        design angle by BS EN 1997-1 6.5.3(10) (from memory, confirm).
        """
        if self.bed_friction is not None:
            return self.bed_friction / by.gamma_phi
        part = 2 / 3 if by is PLAIN else 1.0
        return math.tan(math.radians(part * phi_d(self.friction_deg, by.gamma_phi)))

    @property
    def meets(self) -> float:
        """Where the resultant meets the base, from the toe, m; uplift, which helps here, is out."""
        turned = sum(t.force * t.arm for t in self.thrusts())
        return (self.restoring - turned) / self.vertical

    @property
    def eccentricity(self) -> float:
        """How far the resultant is from the middle, m, positive towards the toe."""
        return self.base_m / 2 - self.meets


def _factor(thrust: Thrust, by: Factors) -> float:
    return by.gamma_Q if thrust.variable else by.gamma_G
