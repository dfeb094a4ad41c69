"""Chooses the bonds of a whole job: walls that share a block together, and so its offcuts."""

from __future__ import annotations

from dataclasses import dataclass

from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.bond import Unit
from parametric_wall.setting_out.buying import Wants, at_height
from parametric_wall.setting_out.corners import (
    Certificate,
    Choice,
    Task,
    Unbonded,
    bonds_in,
    certificate,
    fine_tries,
    first_choice,
    improve,
    unbonded,
)
from parametric_wall.setting_out.mirror import mirrored, mirrored_back, other_way
from parametric_wall.setting_out.panels import divided
from parametric_wall.setting_out.runs import runs_of
from parametric_wall.setting_out.stock import pack

STEPS = {"half": 1 / 2, "third": 1 / 3, "quarter": 1 / 4}


@dataclass(frozen=True, slots=True)
class Chosen:
    """The bonds of one wall, or the runs that have none."""

    bonded: Choice
    unbonded: tuple[Unbonded, ...]


def task_of(spec: JobSpec, wall: WallSpec) -> Task:
    """A wall as the search for its bond sees it, before its long runs are divided."""
    unit = Unit(
        wall.block.length_mm,
        wall.joints.perp_mm,
        wall.rules.min_lap,
        wall.rules.min_cut,
        wall.rules.min_closer,
    )
    cutting, wish = spec.job.cutting, wall.bond.wish
    wants = Wants(
        count=wall.gauge.courses,
        step=STEPS.get(wish),
        raking=wish == "third" and wall.bond.third == "raking",
        joints=(wall.joints.perp_min_mm, wall.joints.perp_max_mm) if wall.bond.adjust else None,
        reuse=cutting.reuse_offcuts,
        loss=cutting.loss,
        order=cutting.order,
        heights=wall.gauge.heights,
    )
    return Task(runs_of(wall), wall.path.closed, unit, wants)


def choose(spec: JobSpec) -> tuple[tuple[Chosen, ...], tuple[tuple[str, Certificate], ...]]:
    """The bonds of every wall, and for every size of block how good the choice is."""
    tasks = [divided(task_of(spec, wall), wall.movement) for wall in spec.walls]
    turned = [mirrored(task) if other_way(task) else task for task in tasks]
    choices: list[Choice | None] = [first_choice(task) for task in turned]
    found: list[tuple[str, Certificate]] = []
    for members in _sharing(spec, [i for i, choice in enumerate(choices) if choice is not None]):
        group = [(turned[i], choice) for i in members if (choice := choices[i]) is not None]
        group, best = _best(spec, group)
        for i, (_, choice) in zip(members, group, strict=True):
            choices[i] = choice
        block = spec.walls[members[0]].block
        found += [(block.name_at(height), one) for height, one in best.items()]
    chosen = []
    for task, way, choice in zip(tasks, turned, choices, strict=True):
        if choice is None:
            chosen.append(Chosen((), unbonded(task)))
        else:
            chosen.append(Chosen(choice if way is task else mirrored_back(task, choice), ()))
    return tuple(chosen), tuple(found)


def _sharing(spec: JobSpec, bonded: list[int]) -> list[list[int]]:
    """Walls that share a size of block with each other, one way or another."""
    groups: list[tuple[set[str], list[int]]] = []
    for i in bonded:
        wall = spec.walls[i]
        sizes, members = {wall.block.name_at(height) for height in wall.gauge.heights}, [i]
        apart = []
        for group in groups:
            if sizes.isdisjoint(group[0]):
                apart.append(group)
            else:
                sizes, members = sizes | group[0], group[1] + members
        groups = [*apart, (sizes, sorted(members))]
    return sorted(members for _, members in groups)


def _best(
    spec: JobSpec, group: list[tuple[Task, Choice]]
) -> tuple[list[tuple[Task, Choice]], dict[float, Certificate]]:
    """Improve a choice: first with the usual phases, then, short of the bound, with all."""
    best = _certificates(spec, group)
    for fine in (False, True):
        alone = sum(len(choice) for _, choice in group) == 1
        if all(one.proven for one in best.values()) and (fine or alone):
            break
        if fine and sum(fine_tries(task) for task, _ in group) > spec.job.cutting.tries:
            break
        group = improve(group, fine=fine)
        best = _certificates(spec, group)
    return group, best


def _certificates(spec: JobSpec, group: list[tuple[Task, Choice]]) -> dict[float, Certificate]:
    """For every height of block how many are bought, and how good that is."""
    heights = dict.fromkeys(height for task, _ in group for height in task.wants.heights)
    return {h: certificate(group, _blocks(spec, group, h), h) for h in heights}


def _blocks(spec: JobSpec, group: list[tuple[Task, Choice]], height: float) -> int:
    """Blocks of a height bought for a group of walls, packed as well as can be proved."""
    whole, cut = at_height(bonds_in(group), height)
    if not cut or not spec.job.cutting.reuse_offcuts:
        return whole + len(cut)
    lengths, ends = zip(*cut, strict=True)
    task, cutting = group[0][0], spec.job.cutting
    packed = pack(lengths, task.unit.length, cutting.loss, ends=ends, seconds=cutting.seconds)
    return whole + len(packed.units)
