"""Which run goes through at which corner, and which bond each run has: chosen over the whole job.

The two hands of a corner alternate course by course; its phase says which run has
the odd courses. Bonds of two runs meet only through the phase of the corner between
them, and through the blocks that their offcuts come from. A first choice follows from
one pass along each wall; it is then improved run by run and corner by corner, as long
as that makes the whole better.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise, product

from parametric_wall.setting_out.bond import EPS, GRID, SHARES, Span, Unit
from parametric_wall.setting_out.buying import Wants, bought_for
from parametric_wall.setting_out.ranking import Bond, Rank, measures, rank
from parametric_wall.setting_out.run_bonds import exists, run_bound, shortlist
from parametric_wall.setting_out.runs import CORNERS, Run, meetings

ADVICE_STEP = 5.0
"""mm. Step in which lengths near an impossible one are tried."""
FINE_AT_ONCE = 30_000
"""Bonds of a wall up to which a missed wish is looked for on the fine grid as well."""
SWEEPS = 3
"""How often every run and corner is looked at again."""
TRIED = 12
"""Bonds of one run that are tried in the whole."""
FLIPPED = 2
"""Bonds of each of two runs that are tried together when their corner changes hands."""


@dataclass(frozen=True, slots=True)
class BondedRun:
    """A run with its bond, and the phases of its two corners."""

    run: Run
    bond: Bond
    before: int
    after: int


@dataclass(frozen=True, slots=True)
class Unbonded:
    """A run that no legal bond fills, with the nearest lengths that one does.

    Attributes:
        run: the run.
        shorter: nearest shorter length that works, mm; None where none was found.
        longer: nearest longer length, mm.
        frees: each rule that by itself keeps the run from bonding, and the value nearest
            to the job's with which it would bond, mm.
    """

    run: Run
    shorter: float | None
    longer: float | None
    frees: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Task:
    """One wall to be bonded."""

    runs: tuple[Run, ...]
    closed: bool
    unit: Unit
    wants: Wants


@dataclass(frozen=True, slots=True)
class Certificate:
    """How good a choice is.

    Attributes:
        blocks: bought for all walls of one size of block.
        bound: fewer than this cannot do.
    """

    blocks: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether nothing can be better."""
        return self.blocks <= self.bound


Choice = tuple[BondedRun, ...]


def spans(task: Task, run: Run, before: int, after: int) -> tuple[Span, Span]:
    """What the odd courses of a run have to fill, and the even ones."""
    odd, even = (meetings(run, course, before, after) for course in (1, 2))
    joint = task.unit.joint
    return Span(*run.span(*odd, joint), odd), Span(*run.span(*even, joint), even)


def bonds_of(
    task: Task, run: Run, before: int, after: int, *, fine: bool = False
) -> tuple[Bond, ...]:
    """The best bonds of a run: of the usual phases, or of all on the grid where they fail."""
    odd, even = spans(task, run, before, after)
    usual = shortlist(task.unit, odd, even, task.wants, fine=fine)
    mixed = task.unit.family is not None  # They keep to no grid.
    if fine or mixed or (usual and (usual[0].misses == 0 or fine_tries(task) > FINE_AT_ONCE)):
        return usual
    return shortlist(task.unit, odd, even, task.wants, fine=True) or usual


def fine_tries(task: Task) -> int:
    """About how many bonds there are to look at in a wall on the fine grid."""
    tried = task.unit.pitch / GRID + 4 * len(SHARES)
    hands = sum(1 << ((r.start in CORNERS) + (r.end in CORNERS)) for r in task.runs)
    return round(hands * tried**2)


def first_choice(task: Task) -> Choice | None:
    """Bonds along one wall by themselves: each run's best that the corners allow together."""
    best: tuple[Rank, Choice] | None = None
    for first in (0, 1) if task.closed else (0,):
        ways: dict[int, tuple[Rank, Choice]] = {first: ((), ())}
        for i, run in enumerate(task.runs):
            ways = _extend(task, ways, run, _outs(task, i, first))
        for way in ways.values():
            if best is None or way[0] < best[0]:
                best = way
    return None if best is None else best[1]


def _outs(task: Task, i: int, first: int) -> tuple[int, ...]:
    """Phases to try at the end of run i; a wall's end, or a joint between panels, has but one."""
    if i == len(task.runs) - 1:
        return (first,) if task.closed else (0,)
    return (0, 1) if task.runs[i].end in CORNERS else (0,)


def _extend(
    task: Task, ways: dict[int, tuple[Rank, Choice]], run: Run, outs: tuple[int, ...]
) -> dict[int, tuple[Rank, Choice]]:
    longer: dict[int, tuple[Rank, Choice]] = {}
    for (before, (_, laid)), after in product(ways.items(), outs):
        found = bonds_of(task, run, before, after)
        if not found:
            continue
        way = (*laid, BondedRun(run, found[0], before, after))
        cost = _rank([(task, way)])
        if after not in longer or cost < longer[after][0]:
            longer[after] = (cost, way)
    return longer


def _rank(chosen: list[tuple[Task, Choice]]) -> Rank:
    """A choice over several walls, by the criteria."""
    wants, length = chosen[0][0].wants, chosen[0][0].unit.length
    laid = bonds_in(chosen)
    return rank(measures([bond for bond, _ in laid], bought_for(laid, length)), wants.order)


def bonds_in(chosen: list[tuple[Task, Choice]]) -> list[tuple[Bond, Wants]]:
    """The bonds of a choice over several walls, each with what was asked of it."""
    return [(laid.bond, task.wants) for task, choice in chosen for laid in choice]


def improve(chosen: list[tuple[Task, Choice]], *, fine: bool) -> list[tuple[Task, Choice]]:
    """Change one run, or the hands of one corner, as long as the whole gets better."""
    best, at = _rank(chosen), chosen
    for _ in range(SWEEPS):
        before = best
        for w, i, j in _places(chosen):
            for changed in _changes(at[w], i, j, fine=fine):
                tried = [*at[:w], changed, *at[w + 1 :]]
                cost = _rank(tried)
                if cost < best:
                    best, at = cost, tried
        if best == before:
            break
    return at


def _places(chosen: list[tuple[Task, Choice]]) -> Iterator[tuple[int, int, int | None]]:
    """Every run, and every corner: the wall, the run, and the run it meets there."""
    for w, (task, _) in enumerate(chosen):
        yield from ((w, i, None) for i in range(len(task.runs)))
        yield from ((w, i, j) for i, j in _corners(task))


def _changes(
    wall: tuple[Task, Choice], i: int, j: int | None, *, fine: bool
) -> Iterator[tuple[Task, Choice]]:
    """A wall with another bond in run i, or with the corner of runs i and j the other way."""
    task, choice = wall
    a = choice[i]
    if j is None:
        for bond in bonds_of(task, a.run, a.before, a.after, fine=fine)[:TRIED]:
            yield task, _with(choice, {i: replace(a, bond=bond)})
        return
    b = choice[j]
    a, b = replace(a, after=1 - a.after), replace(b, before=1 - b.before)
    firsts = bonds_of(task, a.run, a.before, a.after, fine=fine)[:FLIPPED]
    seconds = bonds_of(task, b.run, b.before, b.after, fine=fine)[:FLIPPED]
    for one, other in product(firsts, seconds):
        yield task, _with(choice, {i: replace(a, bond=one), j: replace(b, bond=other)})


def _with(choice: Choice, changed: dict[int, BondedRun]) -> Choice:
    return tuple(changed.get(i, laid) for i, laid in enumerate(choice))


def _corners(task: Task) -> Iterator[tuple[int, int]]:
    """The two runs that meet at each corner."""
    pairs = pairwise(range(len(task.runs)))
    yield from ((i, j) for i, j in pairs if task.runs[i].end in CORNERS)
    if task.closed:
        yield len(task.runs) - 1, 0


def certificate(chosen: list[tuple[Task, Choice]], blocks: int, height: float) -> Certificate:
    """What was bought of the blocks of one height, and what no choice can do with less of."""
    least = sum(wall_bound(task, height) for task, _ in chosen)
    return Certificate(blocks, math.ceil(least - EPS))


def wall_bound(task: Task, height: float) -> float:
    """Blocks of a height, and parts of one, that a wall takes at the least, whatever its corners.

    What one run gains at a corner the other loses, so the corners are gone along.
    """
    best = math.inf
    for first in (0, 1) if task.closed else (0,):
        least = {first: 0.0}
        for i, run in enumerate(task.runs):
            least = {
                after: min(
                    taken
                    + run_bound(task.unit, *spans(task, run, before, after), task.wants, height)
                    for before, taken in least.items()
                )
                for after in _outs(task, i, first)
            }
        best = min(best, *least.values())
    return best


def unbonded(task: Task) -> tuple[Unbonded, ...]:
    """The runs of a wall that no bond fills, with lengths that would do."""
    failed = tuple(r for r in task.runs if not _possible(task, r))
    # Each run may have a bond of its own and still not share its corners with the next.
    return tuple(_advise(task, r) for r in failed or task.runs)


def _possible(task: Task, run: Run) -> bool:
    return any(bonds_of(task, run, before, after) for before, after in product((0, 1), (0, 1)))


def _fits(task: Task, run: Run) -> bool:
    """Whether a run has one of the usual bonds, whatever its corners do."""
    return any(
        exists(task.unit, *spans(task, run, before, after), task.wants)
        for before, after in product((0, 1), (0, 1))
    )


def suiting(task: Task, run: Run, way: int) -> tuple[float, ...]:
    """How much shorter (way -1) or longer a run becomes one that halves of blocks suit, mm."""
    pitch, joint = task.unit.pitch, task.unit.joint
    ends = (0.0, -joint, joint, *(k * run.thickness + x for k in (1, 2) for x in (0, joint)))
    found = {(end - run.length) * way % (pitch / 2) for end in ends}
    return tuple(sorted(found | {step + pitch / 2 for step in found}))


def _advise(task: Task, run: Run) -> Unbonded:
    """The nearest lengths, both ways, within one block: in steps, and those of whole blocks."""
    steps = {k * ADVICE_STEP for k in range(1, int(task.unit.pitch / ADVICE_STEP) + 1)}

    def nearest(way: int) -> float | None:
        for step in sorted({*steps, *suiting(task, run, way)}):
            length = round(run.length + way * step, 6)
            if step > 0 and _fits(task, run.resized(length)):
                return length
        return None

    return Unbonded(run, nearest(-1), nearest(1), tuple(_frees(task, run)))


def _frees(task: Task, run: Run) -> Iterator[tuple[str, float]]:
    """Which rule binds: each is relaxed by itself until the run bonds."""
    for name, rule in (("lap", "min_lap"), ("cut", "min_cut"), ("closer", "min_closer")):
        asked = getattr(task.unit, rule)
        for step in range(1, int(asked / ADVICE_STEP)):
            value = asked - step * ADVICE_STEP
            relaxed = {rule: value}
            if rule == "min_cut":  # A closer is never longer than a cut.
                relaxed["min_closer"] = min(value, task.unit.min_closer)
            if _fits(replace(task, unit=replace(task.unit, **relaxed)), run):
                yield name, value
                break
