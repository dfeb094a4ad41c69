"""Several bonds of one job side by side, and lengths and heights that would suit its blocks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from itertools import product
from textwrap import fill
from typing import cast

from typing_extensions import TypedDict

from parametric_wall.job.parts import Bond
from parametric_wall.job.resolve import JobSpec, WallSpec, resolve
from parametric_wall.pack.nearby import (
    NearHeight,
    NearLength,
    Needs,
    near_heights,
    near_lengths,
)
from parametric_wall.pack.tables import WIDTH, table
from parametric_wall.setting_out.choose import size_of
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.counted import counted


class OptionRecord(TypedDict):
    """One bond of the whole job."""

    bond: str
    perps: str
    possible: bool
    blocks: int
    bound: int
    cuts: int
    waste_percent: float
    smallest_lap_mm: float | None
    courses_unlike_wish: int


class JobNeeds(TypedDict):
    """Blocks bought and pieces of block cut in the whole job, then and now."""

    blocks: int
    blocks_now: int
    cuts: int
    cuts_now: int


class LengthRecord(TypedDict):
    """A length near a run's own with fewer cuts in that run; what it means for the whole job."""

    wall: str
    run: int
    name: str
    length_mm: float
    length_now_mm: float
    with_run: int | None
    cuts: int
    cuts_now: int
    job: JobNeeds


class HeightRecord(TypedDict):
    """A finished height near a wall's own with nominal beds; what it means for the whole job."""

    wall: str
    finished_mm: float
    finished_now_mm: float | None
    courses: int
    courses_now: int
    bed_mm: float
    bed_now_mm: float
    job: JobNeeds


class BondsRecord(TypedDict):
    """What `bonds` says."""

    bonds: list[OptionRecord]
    lengths: list[LengthRecord]
    heights: list[HeightRecord]


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
    wishes = WISHES[:1] if all(w.block.lengths_mm for w in spec.walls) else WISHES
    for wish, adjust in product(wishes, (False, True)):
        yield _option(_with_bond(spec, wish, adjust=adjust), wish, adjust=adjust)


def _with_bond(spec: JobSpec, wish: str, *, adjust: bool) -> JobSpec:
    walls = tuple(
        wall.model_copy(update={"bond": _bond(one, wish, adjust=adjust)})
        for wall, one in zip(spec.job.walls, spec.walls, strict=True)
    )
    return resolve(spec.job.model_copy(update={"walls": walls}), spec.name)


def _bond(wall: WallSpec, wish: str, *, adjust: bool) -> Bond:
    """A wall's bond, asked for in another way; mixed lengths are wished for in no other."""
    wished = wall.bond.wish if wall.block.lengths_mm else wish
    return wall.bond.model_copy(update={"wish": wished, "adjust": adjust})


def _option(spec: JobSpec, wish: str, *, adjust: bool) -> Option:
    laid = set_out(spec)
    perps = "adjusted" if adjust else "as set"
    if any(wall.unbonded for wall in laid.walls):
        return Option(wish, perps, possible=False)
    bonds = [run.bond for wall in laid.walls for run in wall.bonded]
    sizes = {
        size_of(w, height): (w.block.longest, w.block.width_mm * height)
        for w in spec.walls
        for height in w.gauge.heights
    }
    lengths = {name: c.blocks * sizes[name][0] for name, c in laid.certificates}
    lengths |= {m.name: m.length for m in laid.mixtures}
    bought = sum(length * sizes[name][1] for name, length in lengths.items())
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


def compared_text(spec: JobSpec) -> str:
    """The table, the lengths and the heights."""
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
    parts = [
        table(head, rows, 2),
        "\n".join([*map(_length_line, near_lengths(spec)), *_no_lengths(spec)]),
        "\n".join(_height_line(near) for near in near_heights(spec)),
    ]
    return "\n\n".join(part for part in parts if part)


def _length_line(near: NearLength) -> str:
    s = near.suits
    also = "" if near.with_run is None else f" (and run {near.with_run} as much)"
    text = (
        f"{near.wall}/{s.run.name}: {s.length:g} in place of {s.run.length:g}{also} takes "
        f"{s.cuts_then} cuts, not {s.cuts}; {_whole_job(near.now, near.then)}"
    )
    return _wrapped(text)


def _no_lengths(spec: JobSpec) -> Iterator[str]:
    for wall in spec.walls:
        if wall.block.lengths_mm:
            yield f"{wall.name}: no other lengths are advised"


def _height_line(near: NearHeight) -> str:
    g, now = near.gauge, near.wall.gauge
    text = (
        f"{near.wall.name}: finished {g.finished:g} in place of {now.wanted:g} has {g.courses} "
        f"courses on beds of {g.bed:g}, not {now.courses} on {now.bed:.4g}; "
        f"{_whole_job(near.now, near.then)}"
    )
    return _wrapped(text)


def _whole_job(now: Needs, then: Needs) -> str:
    return (
        f"the whole job then takes {then.blocks} blocks, not {now.blocks}, and {then.cuts} cuts, "
        f"not {now.cuts}"
    )


def _wrapped(text: str) -> str:
    return fill(text, WIDTH, subsequent_indent="  ")


def _row(option: Option) -> tuple[str, ...]:
    if not option.possible:
        return (option.bond, option.perps, "none", "", "", "", "", "")
    lap = "" if option.smallest_lap_mm is None else f"{option.smallest_lap_mm:.0f}"
    numbers = (option.blocks, option.bound, option.cuts, f"{option.waste_percent:.1f}", lap)
    return (option.bond, option.perps, *map(str, numbers), str(option.courses_unlike_wish))


def compared_record(spec: JobSpec) -> BondsRecord:
    """The same as data."""
    return {
        "bonds": [cast("OptionRecord", asdict(option)) for option in options(spec)],
        "lengths": [
            {
                "wall": near.wall,
                "run": near.suits.run.number,
                "name": near.suits.run.name,
                "length_mm": near.suits.length,
                "length_now_mm": near.suits.run.length,
                "with_run": near.with_run,
                "cuts": near.suits.cuts_then,
                "cuts_now": near.suits.cuts,
                "job": _job(near.now, near.then),
            }
            for near in near_lengths(spec)
        ],
        "heights": [
            {
                "wall": near.wall.name,
                "finished_mm": round(near.gauge.finished, 6),
                "finished_now_mm": near.wall.gauge.wanted,
                "courses": near.gauge.courses,
                "courses_now": near.wall.gauge.courses,
                "bed_mm": near.gauge.bed,
                "bed_now_mm": round(near.wall.gauge.bed, 6),
                "job": _job(near.now, near.then),
            }
            for near in near_heights(spec)
        ],
    }


def _job(now: Needs, then: Needs) -> JobNeeds:
    return {
        "blocks": then.blocks,
        "blocks_now": now.blocks,
        "cuts": then.cuts,
        "cuts_now": now.cuts,
    }
