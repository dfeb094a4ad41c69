"""Which run goes through at which corner, so that every run of a wall bonds.

The two hands of a corner alternate course by course. Its phase says which run
has the odd courses. The bonds of two runs meet only through the phase of the
corner between them, so the best choice follows from one pass along the path.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.bond import Bond, Span, Unit, bond, exists
from parametric_wall.setting_out.runs import Run, meetings

STEPS = {"half": 1 / 2, "third": 1 / 3, "quarter": 1 / 4}
ADVICE_STEP = 5.0
"""mm. Step in which lengths near an impossible one are tried."""


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
    """

    run: Run
    shorter: float | None
    longer: float | None


def unit_of(spec: WallSpec) -> Unit:
    """The block of a wall as the bond sees it."""
    wish = spec.bond.wish
    return Unit(
        spec.block.length_mm,
        spec.joints.perp_mm,
        spec.rules.min_lap,
        spec.rules.min_cut,
        spec.rules.min_closer,
        STEPS[wish],
        raking=wish == "third" and spec.bond.third == "raking",
    )


def _spans(run: Run, before: int, after: int, joint: float) -> tuple[Span, Span]:
    """What the odd courses of a run have to fill, and the even ones."""
    odd, even = (meetings(run, course, before, after) for course in (1, 2))
    return (
        Span(*run.block_span(*odd, joint), odd),
        Span(*run.block_span(*even, joint), even),
    )


def run_bond(
    run: Run, unit: Unit, count: int, before: int, after: int, *, fine: bool
) -> Bond | None:
    """The bond of one run for given phases of its corners."""
    return bond(unit, *_spans(run, before, after, unit.joint), count, fine=fine)


def bond_runs(
    spec: WallSpec, runs: tuple[Run, ...]
) -> tuple[tuple[BondedRun, ...], tuple[Unbonded, ...]]:
    """Bond every run of a wall; the second part names the runs that cannot be."""
    unit, count = unit_of(spec), spec.gauge.courses
    for fine in (False, True):
        solve = partial(_along, spec.path.closed, runs, unit, count, fine=fine)
        found = solve()
        if found is not None:
            return found, ()
    failed = tuple(r for r in runs if not _possible(r, unit, count, fine=True))
    # Each run may have a bond of its own and still not share its corners with the next.
    return (), tuple(_advise(r, unit, count) for r in failed or runs)


def _along(
    closed: bool, runs: tuple[Run, ...], unit: Unit, count: int, *, fine: bool
) -> tuple[BondedRun, ...] | None:
    """The best phases along a path; for a closed one, for each phase of its last corner."""
    best: tuple[tuple[float, ...], tuple[BondedRun, ...]] | None = None
    for first in (0, 1) if closed else (0,):
        ways: dict[int, tuple[tuple[float, ...], tuple[BondedRun, ...]]] = {first: ((0, 0, 0), ())}
        for i, run in enumerate(runs):
            last = i == len(runs) - 1
            outs = ((first,) if closed else (0,)) if last else (0, 1)
            ways = _extend(ways, run, outs, unit, count, fine=fine)
        for way in ways.values():
            if best is None or way[0] < best[0]:
                best = way
    return None if best is None else best[1]


def _extend(
    ways: dict[int, tuple[tuple[float, ...], tuple[BondedRun, ...]]],
    run: Run,
    outs: tuple[int, ...],
    unit: Unit,
    count: int,
    *,
    fine: bool,
) -> dict[int, tuple[tuple[float, ...], tuple[BondedRun, ...]]]:
    longer: dict[int, tuple[tuple[float, ...], tuple[BondedRun, ...]]] = {}
    for before, (cost, laid) in ways.items():
        for after in outs:
            found = run_bond(run, unit, count, before, after, fine=fine)
            if found is None:
                continue
            total = tuple(round(a + b, 6) for a, b in zip(cost, found.rank, strict=True))
            if after not in longer or total < longer[after][0]:
                longer[after] = (total, (*laid, BondedRun(run, found, before, after)))
    return longer


def _possible(run: Run, unit: Unit, count: int, *, fine: bool) -> bool:
    return any(
        exists(unit, *_spans(run, before, after, unit.joint), count, fine=fine)
        for before in (0, 1)
        for after in (0, 1)
    )


def _advise(run: Run, unit: Unit, count: int) -> Unbonded:
    """The nearest lengths, both ways, within one block; every phase is tried on the way."""
    steps = range(1, int(unit.pitch / ADVICE_STEP) + 1)

    def nearest(way: int) -> float | None:
        lengths = (run.length + way * k * ADVICE_STEP for k in steps)
        return next((x for x in lengths if _fits(x)), None)

    def _fits(length: float) -> bool:
        return _possible(_resized(run, length), unit, count, fine=True)

    return Unbonded(run, nearest(-1), nearest(1))


def _resized(run: Run, length: float) -> Run:
    a, b = run.core
    return Run(
        run.index,
        run.number,
        length,
        run.place,
        run.start,
        run.end,
        (a, b + length - run.length),
        run.thickness,
    )
