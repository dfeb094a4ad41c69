"""From what the job file says to one plain description of every wall.

Defaults are filled in, the job's tables and the walls' own are brought together,
the plan becomes a path, the height a gauge. Faults that need more than one key
are found here, all of them at once.
"""

from __future__ import annotations

from dataclasses import dataclass

from parametric_wall.errors import Fault, JobError
from parametric_wall.geometry import TOLERANCE, Placement
from parametric_wall.job import gauge as gauging
from parametric_wall.job.coping import CopingLay, lay_coping
from parametric_wall.job.model import (
    Abutment,
    Base,
    Block,
    Bond,
    Dpc,
    Fill,
    Footing,
    Job,
    Joints,
    Movement,
    Soil,
    Wall,
    Weeps,
)
from parametric_wall.job.path import Path, path_of
from parametric_wall.job.plan_faults import plan_faults
from parametric_wall.job.site import Ground
from parametric_wall.job.soil_faults import soil_faults
from parametric_wall.reference import tables
from parametric_wall.reference.en1996 import overlap_min

MOST_BLOCKS = 20_000
"""More is not a garden wall, and the model would not fit a designer's computer."""


@dataclass(frozen=True, slots=True)
class BondRules:
    """What no bond may break, mm."""

    min_lap: float
    min_cut: float
    min_closer: float


@dataclass(frozen=True, slots=True)
class WallSpec:
    """One wall, with every question answered that the job file answers.

    Attributes:
        name: the wall's name.
        place: where its axes stand on the site.
        path: its outer face.
        block: the block.
        joints: bed and perp.
        bond: the wish.
        rules: what no bond may break.
        gauge: courses and levels.
        coping: how the coping lies; None without one.
        footing: the footing; None on an existing base.
        fill: what goes inside a planter.
        soil: what is known of the soil held back; None where nothing is given.
        ground: what is known of the ground under the footing.
        weeps: weep holes.
        dpc: damp-proof course.
        movement: joints that divide long runs; None without them.
    """

    name: str
    place: Placement
    path: Path
    block: Block
    joints: Joints
    bond: Bond
    rules: BondRules
    gauge: gauging.Gauge
    coping: CopingLay | None
    footing: Footing | None
    fill: Fill | None
    soil: Soil | None
    ground: Ground
    weeps: Weeps | None
    dpc: Dpc | None
    movement: Movement | None

    @property
    def thickness(self) -> float:
        """Of the wall, mm."""
        return self.block.width_mm

    @property
    def retained(self) -> float:
        """Height of soil held above the ground outside, mm; 0 where none is held."""
        return self.soil_top if self.holds_soil else 0.0

    @property
    def holds_soil(self) -> bool:
        """Whether it holds soil back: filled, or with soil behind it."""
        return self.fill is not None or (self.soil is not None and bool(self.soil.retained_mm))

    @property
    def underside(self) -> float:
        """Level of what the ground bears, mm: under the footing, or the top of a base."""
        return self.gauge.base - (self.footing.depth_mm if self.footing else 0.0)

    @property
    def soil_top(self) -> float:
        """Level of the soil in a planter or behind an open wall, mm."""
        if self.fill is None:
            assert self.soil is not None
            assert self.soil.retained_mm is not None
            return self.soil.retained_mm
        top = self.gauge.masonry_top
        if self.coping is not None:
            top += self.coping.underside(self.thickness, self.gauge.bed)
        return top - self.fill.below_coping_mm


@dataclass(frozen=True, slots=True)
class JobSpec:
    """A job with every wall resolved; `name` is the job file's own."""

    name: str
    job: Job
    walls: tuple[WallSpec, ...]


def resolve(job: Job, name: str = "job") -> JobSpec:
    """Bring a job's tables together.

    Raises:
        JobError: with every fault that needs more than one key to see.
    """
    faults: list[Fault] = []
    walls: list[WallSpec] = []
    for i, wall in enumerate(job.walls):
        spec = _wall(job, wall, f"walls.{i}", faults)
        if spec is not None:
            walls.append(spec)
    faults += _too_many(walls)
    if faults:
        raise JobError(faults)
    return JobSpec(name, job, tuple(walls))


def _wall(job: Job, wall: Wall, at: str, faults: list[Fault]) -> WallSpec | None:
    block = wall.block or job.block
    if block is None:
        hint = "give [block] for the whole job, or one for this wall"
        faults.append(Fault(f"{at}.block", "", "there is no block to build with", hint))
        return None
    joints, bond = wall.joints or job.joints, wall.bond or job.bond
    coping = _coping(job, wall, block, at, faults)
    footing, base = _support(job, wall, at, faults)
    rise = None if coping is None else coping.rise()
    level = base.level_mm if base else -(footing.below_ground_mm if footing else 0.0)
    faults += _height_faults(wall, level, rise or 0.0, at)
    order = _course_heights(bond, block, f"{at}.bond", faults)
    gauge = gauging.gauge_of(wall.height, joints, order, level, rise)
    spec = WallSpec(
        name=wall.name,
        place=Placement(wall.place.x_mm, wall.place.y_mm, 0.0, wall.place.heading_deg % 360),
        path=path_of(wall),
        block=block,
        joints=joints,
        bond=bond,
        rules=_rules(bond, block, f"{at}.bond", faults),
        gauge=gauge,
        coping=coping,
        footing=footing,
        fill=wall.fill,
        soil=wall.soil or job.soil,
        ground=job.ground,
        weeps=wall.weeps,
        dpc=wall.dpc,
        movement=wall.movement or job.movement,
    )
    faults += plan_faults(spec.path, block.width_mm, at)
    faults += _end_faults(wall, spec.path, at)
    soil_at = f"{at}.soil" if wall.soil else "soil"
    faults += [f for f in soil_faults(spec, at, soil_at) if f not in faults]
    faults += _dpc_faults(spec, at)
    faults += _level_faults(spec, at)
    return spec


def _coping(job: Job, wall: Wall, block: Block, at: str, faults: list[Fault]) -> CopingLay | None:
    coping = wall.coping or job.coping
    if coping is None:
        return None
    lay, found = lay_coping(coping, block.width_mm, f"{at}.coping" if wall.coping else "coping")
    faults += [f for f in found if f not in faults]
    return lay


def _support(
    job: Job, wall: Wall, at: str, faults: list[Fault]
) -> tuple[Footing | None, Base | None]:
    """The footing or the base: the wall's own, else the job's, else the usual footing."""
    for path, table in ((at, wall), ("", job)):
        if table.footing is not None and table.base is not None:
            key = f"{path}.base".lstrip(".")
            hint = "leave out footing to build on the existing base"
            fault = Fault(key, "", "a wall stands on a footing or on a base, not on both", hint)
            if fault not in faults:
                faults.append(fault)
        if table.base is not None or table.footing is not None:
            return (table.footing, table.base)
    return Footing(), None


def _height_faults(wall: Wall, level: float, rise: float, at: str) -> list[Fault]:
    finished = wall.height.finished_mm
    if finished is None or finished > level + rise:
        return []
    problem = f"must be more than {level + rise:.0f}: what lies under and over the blocks"
    return [Fault(f"{at}.height.finished_mm", f"{finished:g}", problem)]


def _course_heights(bond: Bond, block: Block, at: str, faults: list[Fault]) -> tuple[float, ...]:
    """Heights of the courses from the bottom, as stated, else the block's own in turn."""
    order = bond.course_heights_mm or block.heights
    known = ", ".join(f"{height:g}" for height in block.heights)
    faults += [
        Fault(f"{at}.course_heights_mm.{i}", f"{height:g}", f"is no height of the block: {known}")
        for i, height in enumerate(order)
        if height not in block.heights
    ]
    return order


def _rules(bond: Bond, block: Block, at: str, faults: list[Fault]) -> BondRules:
    usual = max(tables.limit("min_cut"), block.length_mm / 4)
    cut = bond.min_cut_mm or min(usual, block.length_mm / 2)
    closer = bond.min_closer_mm or min(tables.limit("min_closer"), cut)
    lap = bond.min_lap_mm or overlap_min(block.tallest)
    faults += [
        Fault(f"{at}.{key}", f"{value:g}", f"must not be more than {most:g}, {what}")
        for key, value, most, what in (
            ("min_cut_mm", cut, block.length_mm, "a whole block"),
            ("min_closer_mm", closer, cut, "the minimum cut"),
            ("min_lap_mm", lap, block.length_mm / 2, "half a block: no bond could have it"),
        )
        if value > most
    ]
    return BondRules(lap, cut, closer)


def _dpc_faults(spec: WallSpec, at: str) -> list[Fault]:
    if spec.dpc is None or spec.dpc.under_course <= spec.gauge.courses:
        return []
    problem = f"the wall has {spec.gauge.courses} courses"
    return [Fault(f"{at}.dpc.under_course", str(spec.dpc.under_course), problem)]


def _end_faults(wall: Wall, path: Path, at: str) -> list[Fault]:
    if not path.closed:
        return []
    hint = "leave it out; only an open plan meets existing walls"
    return [
        Fault(f"{at}.{key}", '"abutment"', "a closed plan has no ends", hint)
        for key, end in (("start", wall.start), ("end", wall.end))
        if isinstance(end, Abutment)
    ]


def _level_faults(spec: WallSpec, at: str) -> list[Fault]:
    """What lies too low for the ground, or for the footing."""
    faults = []
    gauge = spec.gauge
    if gauge.wanted is None and gauge.finished <= TOLERANCE.coincident:
        problem = f"the wall ends {abs(gauge.finished):.0f} below ground"
        hint = "give more courses, or start the first one higher"
        faults.append(Fault(f"{at}.height.courses", str(gauge.courses), problem, hint))
    if spec.fill is not None and spec.footing is not None:
        under = spec.underside
        if spec.fill.base_level_mm < under - TOLERANCE.coincident:
            problem = f"must not be less than {under:g}, the underside of the footing"
            hint = "deeper digging would undermine it: raise the fill, or found the wall deeper"
            given = f"{spec.fill.base_level_mm:g}"
            faults.append(Fault(f"{at}.fill.base_level_mm", given, problem, hint))
    return faults


def _too_many(walls: list[WallSpec]) -> list[Fault]:
    count = sum(
        sum(w.path.lengths) / (w.block.length_mm + w.joints.perp_mm) * w.gauge.courses
        for w in walls
    )
    if count <= MOST_BLOCKS:
        return []
    problem = f"at most {MOST_BLOCKS} in one job; this one wants about {count:.0f}"
    return [Fault("walls", f"{count:.0f} blocks", problem, "split the job")]
