"""From what the job file says to one plain description of every wall.

Defaults are filled in, the job's tables and the walls' own are brought together,
the plan becomes a path, the height a gauge. Faults that need more than one key
are found here, all of them at once.
"""

from __future__ import annotations

from dataclasses import dataclass

from parametric_wall.errors import Fault, JobError
from parametric_wall.geometry import Placement
from parametric_wall.job import gauge as gauging
from parametric_wall.job.coping import CopingLay, lay_coping
from parametric_wall.job.model import (
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
from parametric_wall.job.order_faults import order_faults
from parametric_wall.job.path import Path, path_of
from parametric_wall.job.plan_faults import plan_faults
from parametric_wall.job.site import Ground
from parametric_wall.job.soil_faults import soil_faults
from parametric_wall.job.wall_faults import dpc_faults, end_faults, level_faults, too_many
from parametric_wall.reference import tables
from parametric_wall.reference.en1996 import overlap_min


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
    faults += too_many(walls)
    faults += order_faults(job)
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
    faults += _wish_faults(bond, block, f"{at}.bond")
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
    faults += end_faults(wall, spec.path, at)
    soil_at = f"{at}.soil" if wall.soil else "soil"
    faults += [f for f in soil_faults(spec, at, soil_at) if f not in faults]
    faults += dpc_faults(spec, at)
    faults += level_faults(spec, at)
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


def _wish_faults(bond: Bond, block: Block, at: str) -> list[Fault]:
    """Mixed lengths step from course to course as they fall."""
    if block.lengths_mm is None or bond.wish == "best":
        return []
    problem = "blocks of mixed lengths keep to no such bond"
    hint = 'leave it out, or give this wall a bond of its own with wish = "best"'
    return [Fault(f"{at}.wish", f'"{bond.wish}"', problem, hint)]


def _rules(bond: Bond, block: Block, at: str, faults: list[Fault]) -> BondRules:
    usual = max(tables.limit("min_cut"), block.longest / 4)
    # A whole block is no sliver, be it the shortest of its family.
    cut = bond.min_cut_mm or min(usual, block.longest / 2, block.shortest)
    closer = bond.min_closer_mm or min(tables.limit("min_closer"), cut)
    lap = bond.min_lap_mm or overlap_min(block.tallest)
    faults += [
        Fault(f"{at}.{key}", f"{value:g}", f"must not be more than {most:g}, {what}")
        for key, value, most, what in (
            ("min_cut_mm", cut, block.shortest, "a whole block"),
            ("min_closer_mm", closer, cut, "the minimum cut"),
            ("min_lap_mm", lap, block.longest / 2, "half a block: no bond could have it"),
        )
        if value > most
    ]
    return BondRules(lap, cut, closer)
