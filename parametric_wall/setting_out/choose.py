"""Chooses the bonds of a whole job: walls of one block together, since they share its offcuts."""

from __future__ import annotations

from dataclasses import dataclass

from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.bond import Unit
from parametric_wall.setting_out.corners import (
    Certificate,
    Choice,
    Task,
    Unbonded,
    certificate,
    fine_tries,
    first_choice,
    improve,
    unbonded,
)
from parametric_wall.setting_out.mirror import mirrored, mirrored_back, other_way
from parametric_wall.setting_out.pairs import Wants
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
    )
    return Task(runs_of(wall), wall.path.closed, unit, wants)


def choose(spec: JobSpec) -> tuple[tuple[Chosen, ...], tuple[tuple[str, Certificate], ...]]:
    """The bonds of every wall, and for every size of block how good the choice is."""
    tasks = [divided(task_of(spec, wall), wall.movement) for wall in spec.walls]
    turned = [mirrored(task) if other_way(task) else task for task in tasks]
    choices: list[Choice | None] = [first_choice(task) for task in turned]
    sizes: dict[str, list[int]] = {}
    for i, wall in enumerate(spec.walls):
        if choices[i] is not None:
            sizes.setdefault(wall.block.name, []).append(i)
    found: list[tuple[str, Certificate]] = []
    for name, members in sizes.items():
        group = [(turned[i], choice) for i in members if (choice := choices[i]) is not None]
        group, best = _best(spec, group)
        for i, (_, choice) in zip(members, group, strict=True):
            choices[i] = choice
        found.append((name, best))
    chosen = []
    for task, way, choice in zip(tasks, turned, choices, strict=True):
        if choice is None:
            chosen.append(Chosen((), unbonded(task)))
        else:
            chosen.append(Chosen(choice if way is task else mirrored_back(task, choice), ()))
    return tuple(chosen), tuple(found)


def _best(
    spec: JobSpec, group: list[tuple[Task, Choice]]
) -> tuple[list[tuple[Task, Choice]], Certificate]:
    """Improve a choice: first with the usual phases, then, short of the bound, with all."""
    best = certificate(group, _blocks(spec, group))
    for fine in (False, True):
        alone = sum(len(choice) for _, choice in group) == 1
        if best.proven and (fine or alone):
            break
        if fine and sum(fine_tries(task) for task, _ in group) > spec.job.cutting.tries:
            break
        group = improve(group, fine=fine)
        best = certificate(group, _blocks(spec, group))
    return group, best


def _blocks(spec: JobSpec, group: list[tuple[Task, Choice]]) -> int:
    """Blocks bought for a group of walls, the cut ones packed as well as can be proved."""
    bonds = [laid.bond for _, choice in group for laid in choice]
    cut = [c for b in bonds for c in b.cut]
    whole = sum(b.whole for b in bonds)
    if not cut or not spec.job.cutting.reuse_offcuts:
        return whole + len(cut)
    lengths, ends = zip(*cut, strict=True)
    task, cutting = group[0][0], spec.job.cutting
    packed = pack(lengths, task.unit.length, cutting.loss, ends=ends, seconds=cutting.seconds)
    return whole + len(packed.units)
