"""Long runs divided by movement joints into panels, each set out as a run of its own.

A run has as few panels as leave none longer than the spacing of its joints. Where
the joints stand is chosen among few divisions: even ones, and those whose panels
suit half blocks from the left or from the right; the best of them is then tried
with each joint a little to either side. Divisions are compared by the bonds of their
panels, with the criteria by which bonds are compared.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import product

from parametric_wall.geometry import TOLERANCE, Placement
from parametric_wall.job.model import Movement
from parametric_wall.job.resolve import WallSpec
from parametric_wall.reference.tables import limit
from parametric_wall.setting_out.buying import bought_for
from parametric_wall.setting_out.corners import Task, spans
from parametric_wall.setting_out.mirror import mirrored_run, other_way
from parametric_wall.setting_out.ranking import Bond, Rank, measures, rank
from parametric_wall.setting_out.run_bonds import shortlist
from parametric_wall.setting_out.runs import CORNERS, EndKind, Run

EVEN_DIGITS = 1
"""Decimals of a mm to which an even division is set out."""
LENGTH_DIGITS = 9
"""Decimals of a mm to which panels of one length are one."""
MOVES = (-2, -1, 1, 2)
"""How far a joint is moved, in half pitches."""
MOVED = 6
"""Joints of one run up to which each is moved by itself."""
SWEEPS = 1
"""How often every joint is moved."""
ROUNDINGS: tuple[Callable[[float], int], ...] = (math.floor, round, math.ceil)

Joints = tuple[float, ...]
"""Where the joints of a run begin, from its left end, mm."""


def tie_count(spec: WallSpec) -> int:
    """Slip ties in one movement joint: each goes across it, so one for each level."""
    if spec.movement is None or spec.movement.ties == "none":
        return 0
    height = spec.gauge.masonry
    return math.ceil(round(height / limit("movement_tie_spacing"), 9))


def divided(task: Task, movement: Movement | None) -> Task:
    """A wall with every run longer than the spacing of its joints in panels.

    A wall and its mirror image are divided as one of the two, so both come out alike.
    """
    if movement is None:
        return task
    turned = other_way(task)
    runs: list[Run] = []
    for run in task.runs:
        joints = _joints(task, mirrored_run(run) if turned else run, movement)
        if turned:
            joints = _reflected(joints, run.length, movement.width_mm)
        runs += panels(run, joints, movement.width_mm)
    return replace(task, runs=tuple(replace(run, index=i) for i, run in enumerate(runs)))


def _reflected(joints: Joints, length: float, width: float) -> Joints:
    return tuple(round(length - at - width, 6) for at in reversed(joints))


def panels(run: Run, joints: Joints, width: float) -> tuple[Run, ...]:
    """The panels of a run; the run itself without joints."""
    if not joints:
        return (run,)
    starts, ends = (0.0, *(at + width for at in joints)), (*joints, run.length)
    last = len(joints)
    found = []
    for k, (a, b) in enumerate(zip(starts, ends, strict=True)):
        x, y, _ = run.place.point(a, 0.0)
        length = round(b - a, LENGTH_DIGITS)
        panel = replace(
            run,
            length=length,
            place=Placement(x, y, run.place.z, run.place.heading_deg),
            start=run.start if k == 0 else "movement",
            end=run.end if k == last else "movement",
            core=(
                run.core[0] if k == 0 else 0.0,
                length - (run.length - run.core[1] if k == last else 0.0),
            ),
            panel=_letters(k),
            inner=(k > 0, k < last),
            joint=width if k < last else 0.0,
        )
        found.append(panel)
    return tuple(found)


def _letters(k: int) -> str:
    """Letters a to z, then aa, ab and so on."""
    more, letter = divmod(k, 26)
    return (_letters(more - 1) if more else "") + chr(ord("a") + letter)


@dataclass(frozen=True, slots=True)
class _Division:
    """The search for the joints of one run.

    Attributes:
        task: the wall.
        run: the run.
        even: where joints stand that divide it evenly.
        width: of a joint, mm.
        least: shortest panel, mm.
        most: longest panel, mm.
    """

    task: Task
    run: Run
    even: Joints
    width: float
    least: float
    most: float

    def allowed(self, joints: Joints) -> bool:
        """Whether no panel is too long or too short."""
        lengths = [panel.length for panel in panels(self.run, joints, self.width)]
        eps = TOLERANCE.coincident
        return max(lengths) <= self.most + eps and min(lengths) >= self.least - eps

    def cost(self, joints: Joints) -> tuple[int, Rank, float, Joints]:
        """Panels without a bond; the bonds' rank; how far it is from even; the joints."""
        bonds = [_bond(self.task, panel) for panel in panels(self.run, joints, self.width)]
        found = [bond for bond in bonds if bond is not None]
        off = sum(abs(a - b) for a, b in zip(joints, self.even, strict=True))
        return len(bonds) - len(found), _rank(self.task, found), round(off, 6), joints


def _joints(task: Task, run: Run, movement: Movement) -> Joints:
    """Where the joints of a run stand; none where it is no longer than their spacing."""
    count, width = 0, movement.width_mm
    while run.length > (count + 1) * movement.spacing_mm + TOLERANCE.coincident:
        count += 1
    if count == 0:
        return ()
    clear = (run.length - count * width) / (count + 1)
    even = tuple(round(k * (clear + width) - width, EVEN_DIGITS) for k in range(1, count + 1))
    least = min(clear - 1, max(clear / 2, run.thickness + task.unit.pitch))
    search = _Division(task, run, even, width, least, movement.spacing_mm)
    first = {even, *(j for j in _suiting(search) if search.allowed(j))}
    best = min(search.cost(joints) for joints in first)
    for _ in range(SWEEPS if count <= MOVED else 0):
        tried = [search.cost(j) for j in _moved(search, best[-1]) if search.allowed(j)]
        best = min([best, *tried])
    return best[-1]


def _suiting(search: _Division) -> Iterator[Joints]:
    """Joints with half blocks between them, from the left or from the right, near the even ones."""
    run, width = search.run, search.width
    for rounding, shift in product(ROUNDINGS, _shifts(search.task, run, run.start)):
        yield _on_grid(search, search.even, rounding, shift)
    back = _reflected(search.even, run.length, width)
    for rounding, shift in product(ROUNDINGS, _shifts(search.task, run, run.end)):
        yield _reflected(_on_grid(search, back, rounding, shift), run.length, width)


def _on_grid(
    search: _Division, even: Joints, rounding: Callable[[float], int], shift: float
) -> Joints:
    unit = search.task.unit
    half = unit.pitch / 2
    offsets = [shift - unit.joint + k * (search.width - unit.joint) for k in range(len(even))]
    return tuple(
        round(rounding(round((at - offset) / half, 6)) * half + offset, 6)
        for at, offset in zip(even, offsets, strict=True)
    )


def _shifts(task: Task, run: Run, kind: EndKind) -> tuple[float, ...]:
    """Where whole blocks begin at an end of a run, in one course or the other, mm."""
    t, joint = run.thickness, task.unit.joint
    corners = {"convex": (0.0, t + joint), "re-entrant": (-t, joint), "stop": (0.0,)}
    return corners.get(kind, (joint,))


def _moved(search: _Division, joints: Joints) -> Iterator[Joints]:
    """The same joints, one of them moved."""
    half = search.task.unit.pitch / 2
    for k, steps in product(range(len(joints)), MOVES):
        yield (*joints[:k], round(joints[k] + steps * half, 6), *joints[k + 1 :])


def _bond(task: Task, panel: Run) -> Bond | None:
    """The best bond of a panel by itself, whichever run goes through at its corner."""
    hands = [(0, 1) if kind in CORNERS else (0,) for kind in (panel.start, panel.end)]
    pairs = [spans(task, panel, before, after) for before, after in product(*hands)]
    for fine in (False, True):
        found = [shortlist(task.unit, *pair, task.wants, fine=fine)[:1] for pair in pairs]
        bonds = [bond for one in found for bond in one]
        if bonds:
            return min(bonds, key=lambda bond: _rank(task, [bond]))
    return None


def _rank(task: Task, bonds: list[Bond]) -> Rank:
    wants = task.wants
    blocks = bought_for(((bond, wants) for bond in bonds), task.unit.length) if bonds else 0
    return rank(measures(bonds, blocks), wants.order)
