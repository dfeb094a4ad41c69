"""What is dug, put back, used again and taken away; skips by volume or by mass, as governs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Literal

from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.order.line import OrderLine
from parametric_wall.order.lines import JOB_FILE, counted_line, loose_line
from parametric_wall.reference.tables import table
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.closed_form import closed_form, measure
from parametric_wall.takeoff.plan_area import (
    area_outside,
    inner_face,
    outline_area,
    strips,
    union_area,
)
from parametric_wall.takeoff.quantities import placed_volumes, up
from parametric_wall.units import cubic_metres

USUAL_SOIL = "common earth"
LEAST_M3 = 1e-6
"""Less is a float's last digits, not soil."""


@dataclass(frozen=True, slots=True)
class Ground:
    """The ground that is dug.

    Attributes:
        kind: as the table of soils has it.
        swell_percent: of the volume in the ground.
        density_kg_m3: in the ground.
        compacted: volume compacted over volume in the ground; 1 where tamped by hand.
        source: of the swell.
        standing: of the swell.
    """

    kind: str
    swell_percent: float
    density_kg_m3: float
    compacted: float
    source: str
    standing: str

    def loose(self, bank: float) -> float:
        """Volume once dug of a volume in the ground."""
        return bank * self.swell

    @property
    def swell(self) -> float:
        """Volume once dug over volume in the ground."""
        return 1 + self.swell_percent / 100

    @property
    def load_factor(self) -> float:
        """Volume in the ground over volume once dug."""
        return 1 / self.swell


@dataclass(frozen=True, slots=True)
class Skips:
    """Skips for what is taken away.

    Attributes:
        yards: size of each, cubic yards.
        holds_m3: level.
        payload_kg: what each may carry.
        by_volume: skips that the volume fills, with the last part.
        by_mass: skips that the mass loads, with the last part.
        source: of the payload.
        standing: of the payload.
    """

    yards: int
    holds_m3: float
    payload_kg: float
    by_volume: float
    by_mass: float
    source: str
    standing: str

    @property
    def governs(self) -> Literal["mass", "volume"]:
        """Which of the two is reached first."""
        return "mass" if self.by_mass > self.by_volume else "volume"

    @property
    def used(self) -> float:
        """Skips with the last part of one."""
        return max(self.by_volume, self.by_mass)


@dataclass(frozen=True, slots=True)
class Digging:
    """Earth of a whole job; volumes in the ground, m3, unless said otherwise.

    Attributes:
        ground: that is dug.
        trench: for footings.
        inside: for planters, beside their footings.
        backfill: what goes back beside walls.
        reused: what goes into planters.
        short: what of the backfill has to be brought.
        skips: for the rest; None where nothing is left over.
    """

    ground: Ground
    trench: float
    inside: float
    backfill: float
    reused: float
    short: float
    skips: Skips | None

    @property
    def away(self) -> float:
        """What is taken away."""
        return self.trench + self.inside - self.backfill - self.reused

    @property
    def away_loose(self) -> float:
        """The same once it is dug."""
        return self.ground.loose(self.away)

    @property
    def away_kg(self) -> float:
        """Its mass."""
        return self.away * self.ground.density_kg_m3

    @property
    def barrows(self) -> int:
        """Barrow loads of what is taken away."""
        return up(self.away_loose / float(table("bags")["barrow"]["value"]))


def digging(spec: JobSpec, laid: SettingOut) -> Digging:
    """What is dug for a job, and where it goes."""
    ground = ground_of(spec)
    trench = sum(cubic_metres(trench_of(w)) for w in spec.walls)
    inside = sum(cubic_metres(dug_inside(w)) for w in spec.walls)
    back = sum(cubic_metres(backfilled(w)) for w in spec.walls) / ground.compacted
    # What is dug anywhere on the job can go back anywhere on it; what is short is brought.
    backfill = min(back, trench + inside)
    left, reused = trench + inside - backfill, 0.0
    if spec.job.digging.reuse_as_fill:
        reused = min(left, placed_volumes(laid)["soil"])
    left -= reused
    skips = None
    if left > LEAST_M3:
        skips = skips_for(ground.loose(left), left * ground.density_kg_m3, spec)
    return Digging(ground, trench, inside, backfill, reused, back - backfill, skips)


def ground_of(spec: JobSpec) -> Ground:
    """The ground of a job: the table's row, with what the job gives in its place."""
    job = spec.job.digging
    kind = job.soil or USUAL_SOIL
    row: dict[str, Any] = table("soils_bulking")[kind]
    given = job.swell_percent is not None
    source, standing = (JOB_FILE, JOB_FILE) if given else (row["source"], row["standing"])
    return Ground(
        kind,
        float(row["swell_percent"] if job.swell_percent is None else job.swell_percent),
        float(job.density_kg_m3 or row["density_kg_m3"]),
        float(row["compacted"]) if job.compacted else 1.0,
        source,
        standing,
    )


def skips_for(loose_m3: float, mass_kg: float, spec: JobSpec) -> Skips:
    """The skips for a volume once dug and its mass.

    Without a size in the job file, the fewest of 2, 4 and 6 yards, and then the smallest:
    not every firm takes soil in 8.
    """
    job = spec.job.digging
    sizes = (2, 4, 6) if job.skip_yd is None else (job.skip_yd,)
    tried = [_skips(size, loose_m3, mass_kg, job.skip_payload_kg) for size in sizes]
    return min(tried, key=lambda s: up(s.used))


def _skips(yards: int, loose_m3: float, mass_kg: float, payload: float | None) -> Skips:
    row = table("skips")["skip"][str(yards)]
    holds = yards * float(table("skips")["yard"]["value"])
    given = payload is not None
    carries = float(row["payload_kg"]) if payload is None else payload
    source, standing = (JOB_FILE, JOB_FILE) if given else (row["source"], row["standing"])
    return Skips(yards, holds, carries, loose_m3 / holds, mass_kg / carries, source, standing)


def earth_lines(spec: JobSpec, dug: Digging) -> Iterator[OrderLine]:
    """Backfill that has to be brought, and the skips."""
    ground = dug.ground
    if dug.short > LEAST_M3:
        kg, where = ground.density_kg_m3, f"{dug.short:.3f} m3 short of what goes back"
        yield loose_line(spec, "fill", "sundries", dug.short * kg, [], kg / ground.swell, where)
    if dug.skips is not None:
        where = f"{dug.away_loose:.2f} m3 loose; the {dug.skips.governs} governs"
        key = f"skip {dug.skips.yards} yd"
        line = counted_line(key, "away", "skip", dug.skips.used)
        yield replace(line, mass_kg=dug.away_kg, where=where)


def _narrow(spec: WallSpec) -> tuple[float, float]:
    """Plan area inside a planter: all of it, and what its footing leaves, mm2."""
    inner = inner_face(spec.path, spec.thickness)
    clear = outline_area(inner)
    if spec.footing is None:
        return clear, clear
    return clear, area_outside(inner, strips(spec.path, spec.thickness, spec.footing.spread_mm))


def trench_of(spec: WallSpec) -> float:
    """What is dug for a footing, in the ground, mm3."""
    return closed_form(spec).get("trench", 0.0)


def dug_inside(spec: WallSpec) -> float:
    """What is dug for a planter's fill beside the trench of its footing, mm3."""
    if spec.fill is None or spec.fill.base_level_mm >= 0:
        return 0.0
    return _narrow(spec)[1] * -spec.fill.base_level_mm


def backfilled(spec: WallSpec) -> float:
    """Trench over the footing that neither the wall nor a planter's fill takes up, mm3."""
    footing = spec.footing
    if footing is None:
        return 0.0
    trench = union_area(strips(spec.path, spec.thickness, footing.spread_mm))
    wall = measure(spec).girth(spec.thickness / 2) * spec.thickness
    beside = (trench - wall) * footing.below_ground_mm
    if spec.fill is not None:
        clear, narrow = _narrow(spec)
        deep = min(max(0.0, -spec.fill.base_level_mm), footing.below_ground_mm)
        beside -= (clear - narrow) * deep
    return beside
