"""A metre of wall, as the wind meets it: what presses, what weighs, what resists."""

from __future__ import annotations

from dataclasses import dataclass, replace

from parametric_wall.checks.calculation import Use
from parametric_wall.checks.wind_zones import Pressed, pressed
from parametric_wall.geometry import centroid, signed_area
from parametric_wall.job.model import Masonry, Wind
from parametric_wall.job.resolve import WallSpec
from parametric_wall.reference import en1991_1_4 as en1991
from parametric_wall.reference import en1996_flexure as en1996
from parametric_wall.reference.en1997 import factors
from parametric_wall.reference.tables import limit
from parametric_wall.units import kilonewtons_a_metre, unit_weight

EN1991 = "BS EN 1991-1-4 7.4.1"
MEMORY = "zones and factors from memory, confirm"
RIGID = f"{EN1991}; rigid body on its edge, no tension ({MEMORY})"


def favourable() -> float:
    """Factor on weight that helps: a wall that turns over is a body that loses its balance."""
    return factors("EQU").gamma_G_fav


@dataclass(frozen=True, slots=True)
class Level:
    """A level at which the wall can give.

    Attributes:
        name: in words.
        z: of the level, mm above ground.
        bonded: whether its joint takes tension.
    """

    name: str
    z: float
    bonded: bool


@dataclass(frozen=True, slots=True)
class Section:
    """The section of a free-standing wall; lengths in mm.

    Attributes:
        thickness: of the wall.
        exposed: its height in the wind.
        finished: its top above ground.
        masonry_top: of the last course, above ground.
        density_kg_m3: of the masonry, holes taken off; joints as heavy as the blocks.
        coping_kn_m: weight of the coping and its bed.
        coping_off: how far their middle lies from the wall's.
        levels: at which it can give.
        footing: width and thickness of the footing, and the level of its underside.
        masonry: what the bed joints are made of.
    """

    thickness: float
    exposed: float
    finished: float
    masonry_top: float
    density_kg_m3: float
    coping_kn_m: float
    coping_off: float
    levels: tuple[Level, ...]
    footing: tuple[float, float, float] | None
    masonry: Masonry

    def weight(self, z: float) -> float:
        """Of what stands on a level, kN/m."""
        tall = (self.masonry_top - z) / 1000
        return unit_weight(self.density_kg_m3) * self.thickness / 1000 * tall + self.coping_kn_m

    def stabilising(self, z: float) -> float:
        """Design moment of the weight about the nearer edge, kNm/m: 0.9 N t/2."""
        lost = self.coping_kn_m * self.coping_off / 1000
        return favourable() * (self.weight(z) * self.thickness / 2000 - lost)

    def compression(self, z: float) -> float:
        """Design compression of a bed joint, N/mm2."""
        return favourable() * self.weight(z) / self.thickness

    def fxk1(self, level: Level) -> float:
        """Of the level's joint, N/mm2; 0 where it takes no tension."""
        m = self.masonry
        if not level.bonded:
            return 0.0
        return en1996.fxk1(m.unit, m.mortar, self.thickness, m.water_absorption_percent)

    def bending(self, level: Level) -> float:
        """Design moment of resistance of a bed joint, kNm/m."""
        strength = en1996.fd(
            self.fxk1(level), en1996.gamma_M(self.masonry.control), self.compression(level.z)
        )
        eccentric = favourable() * self.coping_kn_m * self.coping_off / 1000
        return en1996.MRd(strength, en1996.Z(self.thickness)) - eccentric

    def on_ground(self) -> float:
        """Design moment of the weight about the footing's edge, kNm/m."""
        assert self.footing is not None
        width, deep, under = self.footing
        concrete = limit("concrete_weight") * width * deep / 1e6
        lost = self.coping_kn_m * self.coping_off / 1000
        total = self.weight(under + deep) + concrete
        return favourable() * (total * width / 2000 - lost)

    def moment(self, z: float, pressure_kpa: float, cp: float) -> float:
        """Design moment of the wind about a level, kNm/m: the force at half the height exposed."""
        low = max(z, self.finished - self.exposed)
        tall = (self.finished - low) / 1000
        arm = (self.finished + low) / 2000 - z / 1000
        return factors("EQU").gamma_Q * pressure_kpa * cp * tall * arm


def section_of(spec: WallSpec, masonry: Masonry, solidity: float) -> Section:
    """The section of a wall as set out."""
    gauge, t = spec.gauge, spec.thickness
    weight, off = _coping(spec)
    levels = [Level("base bed joint", gauge.base, bonded=True)]
    if spec.dpc is not None:
        dpc = Level("damp-proof course", gauge.course_base(spec.dpc.under_course), bonded=False)
        levels = [dpc] if spec.dpc.under_course == 1 else [*levels, dpc]
    footing = None
    if spec.footing is not None:
        f = spec.footing
        footing = (t + 2 * f.spread_mm, f.depth_mm, gauge.base - f.depth_mm)
    return Section(
        thickness=t,
        exposed=gauge.finished - max(gauge.base, 0.0),
        finished=gauge.finished,
        masonry_top=gauge.masonry_top,
        density_kg_m3=spec.block.density_kg_m3 * solidity,
        coping_kn_m=weight,
        coping_off=off,
        levels=tuple(levels),
        footing=footing,
        masonry=masonry,
    )


def _coping(spec: WallSpec) -> tuple[float, float]:
    """Weight of the coping on its bed, kN/m, and how far off the wall's middle it lies, mm."""
    lay = spec.coping
    if lay is None:
        return 0.0, 0.0
    parts = (
        (lay.section(spec.gauge.bed), lay.coping.density_kg_m3),
        (lay.bed_section(spec.gauge.bed), spec.block.density_kg_m3),
    )
    weights = [kilonewtons_a_metre(signed_area(s), density) for s, density in parts]
    at = sum(w * centroid(s)[0] for w, (s, _) in zip(weights, parts, strict=True)) / sum(weights)
    return sum(weights), abs(at - spec.thickness / 2)


def pressure(section: Section, wind: Wind) -> float:
    """Peak velocity pressure at the top of the wall, kPa."""
    if wind.peak_pressure_Pa is not None:
        return wind.peak_pressure_Pa / 1000
    assert wind.basic_velocity_m_s is not None
    vb = wind.basic_velocity_m_s * en1991.calt(wind.altitude_m)
    return en1991.qp(section.finished / 1000, vb, *en1991.terrain(wind.terrain)) / 1000


def joint_uses(section: Section, level: Level, kpa: float, one: Pressed) -> tuple[Use, Use]:
    """How far a zone uses up a joint: held by weight alone, and by weight and bond."""
    effect = section.moment(level.z, kpa, one.cp)
    bond = "BS EN 1996-1-1 6.3.1" + ("" if level.bonded else ", no tension")
    bond += " (strengths and factors from memory, confirm)"
    turned, bent = section.stabilising(level.z), section.bending(level)
    return (
        Use(f"overturning on the {level.name}", effect, turned, "kNm/m", RIGID, one.where),
        Use(f"bending of the {level.name}", effect, bent, "kNm/m", bond, one.where),
    )


def ground_use(section: Section, kpa: float, one: Pressed) -> Use | None:
    """How far a zone uses up the weight on the ground; None without a footing."""
    if section.footing is None:
        return None
    effect = section.moment(section.footing[2], kpa, one.cp)
    name = "overturning on the underside of the footing"
    return Use(name, effect, section.on_ground(), "kNm/m", RIGID, one.where)


@dataclass(frozen=True, slots=True)
class Reading:
    """How far one zone of a wall is used up, over its levels.

    Attributes:
        zone: where.
        overturning: the greatest ratio of a rigid body on any level.
        bending: of the lowest bed joint.
        governing: the greatest ratio of any level, where a joint holds by whichever of
            its weight and its bond holds more.
        level: that it is found at.
    """

    zone: Pressed
    overturning: float
    bending: float
    governing: float
    level: str


def read(section: Section, kpa: float, one: Pressed) -> Reading:
    """The ratios of one zone."""
    joints = [joint_uses(section, level, kpa, one) for level in section.levels]
    held = [
        (min(turned.ratio, bent.ratio), level.name)
        for level, (turned, bent) in zip(section.levels, joints, strict=True)
    ]
    overturning = [turned.ratio for turned, _ in joints]
    ground = ground_use(section, kpa, one)
    if ground is not None:
        held.append((ground.ratio, "underside of the footing"))
        overturning.append(ground.ratio)
    governing, level = max(held)
    return Reading(one, max(overturning), joints[0][1].ratio, governing, level)


def readings(spec: WallSpec, wind: Wind, masonry: Masonry) -> tuple[Reading, ...]:
    """The ratios of every zone along a wall, from its start."""
    section = section_of(spec, masonry, wind.solidity)
    kpa = pressure(section, wind)
    zones = pressed(spec, section.exposed, wind.solidity)
    return tuple(read(section, kpa, one) for one in zones)


def thicker(section: Section, thickness: float) -> Section:
    """The same wall of another thickness, mm; its footing keeps its spread."""
    footing = section.footing
    if footing is not None:
        footing = (footing[0] + thickness - section.thickness, *footing[1:])
    return replace(section, thickness=thickness, footing=footing)
