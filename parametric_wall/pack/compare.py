"""Several bonds of one job side by side, and lengths that would need fewer cuts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from itertools import product
from typing import Any

from parametric_wall.job.parts import Bond
from parametric_wall.job.resolve import JobSpec, resolve
from parametric_wall.pack.tables import table
from parametric_wall.setting_out.advice import Suits, better_lengths
from parametric_wall.setting_out.choose import task_of
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.counted import counted

WISHES = ("best", "half", "third", "quarter")


@dataclass(frozen=True, slots=True)
class Option:
    """One bond of the whole job.

    Attributes:
        bond: the wish.
        perps: as set in the job, or opened and closed within their range.
        possible: whether every run has a legal bond.
        blocks: bought.
        bound: no choice needs fewer.
        cuts: pieces that are not whole.
        waste_percent: of the blocks bought, what is not in the wall.
        smallest_lap_mm: of block on block; None without perps.
        courses_unlike_wish: courses that do not step as wished.
    """

    bond: str
    perps: str
    possible: bool
    blocks: int = 0
    bound: int = 0
    cuts: int = 0
    waste_percent: float = 0.0
    smallest_lap_mm: float | None = None
    courses_unlike_wish: int = 0


def options(spec: JobSpec) -> Iterator[Option]:
    """The job in every bond, with perps as they are set and adjusted."""
    for wish, adjust in product(WISHES, (False, True)):
        yield _option(_with_bond(spec, wish, adjust=adjust), wish, adjust=adjust)


def _with_bond(spec: JobSpec, wish: str, *, adjust: bool) -> JobSpec:
    def changed(bond: Bond) -> Bond:
        return bond.model_copy(update={"wish": wish, "adjust": adjust})

    job = spec.job
    walls = tuple(
        w if w.bond is None else w.model_copy(update={"bond": changed(w.bond)}) for w in job.walls
    )
    return resolve(job.model_copy(update={"bond": changed(job.bond), "walls": walls}), spec.name)


def _option(spec: JobSpec, wish: str, *, adjust: bool) -> Option:
    laid = set_out(spec)
    perps = "adjusted" if adjust else "as set"
    if any(wall.unbonded for wall in laid.walls):
        return Option(wish, perps, possible=False)
    bonds = [run.bond for wall in laid.walls for run in wall.bonded]
    volumes = {
        w.block.name_at(height): w.block.length_mm * w.block.width_mm * height
        for w in spec.walls
        for height in w.gauge.heights
    }
    bought = sum(c.blocks * volumes[name] for name, c in laid.certificates)
    built = sum(counted(wall)["block"] for wall in laid.walls)
    least = min(b.lap for b in bonds)
    return Option(
        wish,
        perps,
        possible=True,
        blocks=sum(c.blocks for _, c in laid.certificates),
        bound=sum(c.bound for _, c in laid.certificates),
        cuts=sum(len(b.cut) for b in bonds),
        waste_percent=round(100 * (1 - built / bought), 2),
        smallest_lap_mm=None if least == float("inf") else round(least, 1),
        courses_unlike_wish=sum(b.misses for b in bonds),
    )


def suits(spec: JobSpec) -> Iterator[tuple[str, Suits]]:
    """For every run, by wall, lengths near its own that need fewer cuts."""
    for wall, placed in zip(spec.walls, set_out(spec).walls, strict=True):
        for found in better_lengths(task_of(spec, wall), placed.bonded):
            yield wall.name, found


def compared_text(spec: JobSpec) -> str:
    """The table, and the lengths."""
    head = (
        "bond",
        "perps",
        "blocks",
        "at least",
        "cuts",
        "waste %",
        "smallest lap",
        "not as wished",
    )
    rows = [_row(option) for option in options(spec)]
    lines = [
        f"{wall}/{s.run.name}: {s.length:g} in place of {s.run.length:g} takes {s.cuts_then} cuts, "
        f"not {s.cuts}"
        for wall, s in suits(spec)
    ]
    return "\n\n".join([table(head, rows, 2), *(["\n".join(lines)] if lines else [])])


def _row(option: Option) -> tuple[str, ...]:
    if not option.possible:
        return (option.bond, option.perps, "none", "", "", "", "", "")
    lap = "" if option.smallest_lap_mm is None else f"{option.smallest_lap_mm:.0f}"
    numbers = (option.blocks, option.bound, option.cuts, f"{option.waste_percent:.1f}", lap)
    return (option.bond, option.perps, *map(str, numbers), str(option.courses_unlike_wish))


def compared_record(spec: JobSpec) -> dict[str, Any]:
    """The same as data."""
    return {
        "bonds": [asdict(option) for option in options(spec)],
        "lengths": [
            {
                "wall": wall,
                "run": s.run.number,
                "name": s.run.name,
                "length_mm": s.length,
                "cuts": s.cuts_then,
                "cuts_now": s.cuts,
            }
            for wall, s in suits(spec)
        ],
    }
