"""Lays the runs of walls of mixed lengths together, so that the lengths keep to their mix."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from parametric_wall.setting_out.balance import balanced
from parametric_wall.setting_out.corners import Choice, Task, bonds_in, wall_bound
from parametric_wall.setting_out.family import Tally
from parametric_wall.setting_out.mixed import laid
from parametric_wall.setting_out.packs import Mixture, mixture, packs_bound, widest_perp
from parametric_wall.setting_out.rows import dice_of, family_of

LAID = 800
"""Blocks laid in search of the fewest packs: so often are all walls laid, the best way taken."""
TRIES = 2, 8
"""Ways of laying all walls, at the least and at the most."""

Group = list[tuple[Task, Choice]]


def blended(name: str, walls: Sequence[str], group: Group) -> tuple[Group, Mixture]:
    """The walls of one family laid without a pattern, and what they take.

    Args:
        name: of the family, by its work sizes.
        walls: names of the walls.
        group: the walls, each with a bond of two courses in turn for every run.
    """
    task = group[0][0]
    family, wants = family_of(task.unit), task.wants
    bounds = [one for one, _ in of_one_bound(group)]
    longest = sum(wall_bound(one, wants.heights[0]) for one in bounds)
    least = packs_bound(bounds[0].unit, bounds[0].wants, longest)
    found: list[tuple[int, float, int, Group, Mixture]] = []
    few, many = TRIES if family.mix else (1, 1)
    turns = min(many, max(few, math.floor(LAID / max(1.0, longest))))
    for turn in range(turns):
        tried, tally = _laid(walls, group, turn)
        bonds = [bond for bond, _ in bonds_in(tried)]
        mixed = mixture(name, family, bonds, wants, least)
        found.append((mixed.packs, tally.off(family), turn, tried, mixed))
        if mixed.packs <= least or not any(mixed.left_over):
            break
    *_, best, mixed = min(found, key=lambda item: item[:3])
    return best, mixed


def of_one_bound(group: Group) -> Group:
    """The walls with the widest perp and the shortest pieces that any of them may have.

    A block may be cut for two walls: what it gives at the most holds for both.
    """
    widest = max(widest_perp(task.unit, task.wants) for task, _ in group)
    least = min(min(task.unit.min_cut, task.unit.min_closer) for task, _ in group)
    return [
        (
            replace(
                task,
                unit=replace(task.unit, min_cut=least, min_closer=least),
                wants=replace(task.wants, joints=(widest, widest)),
            ),
            choice,
        )
        for task, choice in group
    ]


def _laid(walls: Sequence[str], group: Group, turn: int) -> tuple[Group, Tally]:
    tally = Tally((0,) * len(family_of(group[0][0].unit).lengths))
    found: Group = []
    for name, (task, choice) in zip(walls, group, strict=True):
        runs = []
        for i, run in enumerate(choice):
            place = f"{name}/{i}/{turn}"
            bond = laid(task.unit, run.bond, task.wants, tally, place)
            tally = tally.with_rows([c.pieces for c in bond.courses], family_of(task.unit))
            runs.append(replace(run, bond=bond))
        found.append((task, tuple(runs)))
    return _balanced(walls, found, turn, tally)


def _balanced(walls: Sequence[str], group: Group, turn: int, tally: Tally) -> tuple[Group, Tally]:
    """The same walls, their lengths nearer to the mix where one was asked for."""
    found: Group = []
    for name, (task, choice) in zip(walls, group, strict=True):
        runs = []
        for i, run in enumerate(choice):
            bond = run.bond
            if not bond.misses:
                dice = dice_of(family_of(task.unit).seed, name, i, turn, "balance")
                bond, tally = balanced(task.unit, bond, tally, dice)
            runs.append(replace(run, bond=bond))
        found.append((task, tuple(runs)))
    return found, tally
