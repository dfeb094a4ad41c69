"""Chooses the bonds of a whole job: walls that share a block together, and so its offcuts."""

from __future__ import annotations

from dataclasses import dataclass

from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.blend import blended, of_one_bound
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
from parametric_wall.setting_out.family import Family
from parametric_wall.setting_out.mirror import mirrored, mirrored_back, other_way
from parametric_wall.setting_out.packs import Mixture
from parametric_wall.setting_out.panels import divided
from parametric_wall.setting_out.runs import runs_of
from parametric_wall.setting_out.stock import pack

FEWEST_CUTS = ("wish", "cuts", "blocks", "side by side", "lap", "lengths", "symmetry", "joint")
"""Criteria for mixed lengths: a course of whole blocks sooner than one of fewer blocks."""
STEPS = {"half": 1 / 2, "third": 1 / 3, "quarter": 1 / 4}


@dataclass(frozen=True, slots=True)
class Chosen:
    """The bonds of one wall, or the runs that have none."""

    bonded: Choice
    unbonded: tuple[Unbonded, ...]


@dataclass(frozen=True, slots=True)
class Choices:
    """The bonds of a whole job.

    Attributes:
        walls: of every wall.
        certificates: for every size of block, how good the choice is.
        mixtures: what is taken of every family of mixed lengths.
    """

    walls: tuple[Chosen, ...]
    certificates: tuple[tuple[str, Certificate], ...]
    mixtures: tuple[Mixture, ...]


def task_of(spec: JobSpec, wall: WallSpec) -> Task:
    """A wall as the search for its bond sees it, before its long runs are divided."""
    unit = Unit(
        wall.block.longest,
        wall.joints.perp_mm,
        wall.rules.min_lap,
        wall.rules.min_cut,
        wall.rules.min_closer,
        _family(wall),
    )
    cutting, wish = spec.job.cutting, wall.bond.wish
    wants = Wants(
        count=wall.gauge.courses,
        step=STEPS.get(wish),
        raking=wish == "third" and wall.bond.third == "raking",
        joints=(wall.joints.perp_min_mm, wall.joints.perp_max_mm) if wall.bond.adjust else None,
        reuse=cutting.reuse_offcuts,
        loss=cutting.loss,
        order=cutting.order if unit.family is None else FEWEST_CUTS,
        heights=wall.gauge.heights,
    )
    return Task(runs_of(wall), wall.path.closed, unit, wants)


def _family(wall: WallSpec) -> Family | None:
    """The mixed lengths of a wall's block; None where it has but one."""
    block, bond = wall.block, wall.bond
    if block.lengths_mm is None:
        return None
    return Family(block.lengths_mm, block.mix or (), bond.most_alike, bond.seed)


def choose(spec: JobSpec) -> Choices:
    """The bonds of every wall, and for every size of block how good the choice is."""
    tasks = [divided(task_of(spec, wall), wall.movement) for wall in spec.walls]
    turned = [mirrored(task) if other_way(task) else task for task in tasks]
    choices: list[Choice | None] = [first_choice(task) for task in turned]
    found: list[tuple[str, Certificate]] = []
    mixtures: list[Mixture] = []
    for members in _sharing(spec, [i for i, choice in enumerate(choices) if choice is not None]):
        group = [(turned[i], choice) for i in members if (choice := choices[i]) is not None]
        block = spec.walls[members[0]].block
        if block.lengths_mm is None:
            group, best = _best(spec, group)
            found += [(block.name_at(height), one) for height, one in best.items()]
        else:
            walls = [spec.walls[i].name for i in members]
            group, mixed = blended(size_of(spec.walls[members[0]], block.tallest), walls, group)
            one = certificate(of_one_bound(group), sum(mixed.used), block.tallest)
            found.append((mixed.name, one))
            mixtures.append(mixed)
        for i, (_, choice) in zip(members, group, strict=True):
            choices[i] = choice
    chosen = []
    for task, way, choice in zip(tasks, turned, choices, strict=True):
        if choice is None:
            chosen.append(Chosen((), unbonded(task)))
        else:
            chosen.append(Chosen(choice if way is task else mirrored_back(task, choice), ()))
    return Choices(tuple(chosen), tuple(found), tuple(mixtures))


def size_of(wall: WallSpec, height: float) -> str:
    """A size of block by name; lengths that come in packs are told by their mix as well."""
    block = wall.block
    packed = f" mix {':'.join(map(str, block.mix))}" if block.mix else ""
    return block.name_at(height) + packed


def _sharing(spec: JobSpec, bonded: list[int]) -> list[list[int]]:
    """Walls that share a size of block with each other, one way or another."""
    groups: list[tuple[set[str], list[int]]] = []
    for i in bonded:
        wall = spec.walls[i]
        sizes, members = {size_of(wall, height) for height in wall.gauge.heights}, [i]
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
