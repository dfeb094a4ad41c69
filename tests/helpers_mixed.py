"""What is wrong with a wall of mixed lengths, told from its placed pieces alone."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import groupby, pairwise

from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import Piece, WallSetOut
from parametric_wall.setting_out.runs import Run

NEAR = 1e-5


@dataclass
class Row:
    """Blocks and perps of one course of one run, each as where it begins and where it ends."""

    blocks: list[tuple[float, float]] = field(default_factory=list)
    perps: list[tuple[float, float]] = field(default_factory=list)

    @property
    def lengths(self) -> list[float]:
        return [round(b - a, 5) for a, b in self.blocks]


def rows_of(wall: WallSetOut) -> dict[str, list[Row]]:
    """By the name of the run its courses from the bottom."""
    runs = {laid.run.name: laid.run for laid in wall.bonded}
    found: dict[tuple[str, int], Row] = defaultdict(Row)
    for piece in wall.pieces:
        if piece.kind in ("block", "perp", "weep"):
            name = piece.id.split("/")[1]
            row = found[name, piece.course]
            (row.blocks if piece.kind == "block" else row.perps).append(_along(runs[name], piece))
    for row in found.values():
        row.blocks.sort()
        row.perps.sort()
    return {
        name: [found[name, n] for n in sorted(c for run, c in found if run == name)]
        for name in runs
    }


def _along(run: Run, piece: Piece) -> tuple[float, float]:
    x, y, _ = run.place.point(0.0, 0.0)
    heading = math.radians(run.place.heading_deg)
    spots = [piece.at.point(*p) for end in piece.shape.corners() for p in end]
    along = [(a - x) * math.cos(heading) + (b - y) * math.sin(heading) for a, b, _ in spots]
    return min(along), max(along)


def faults(spec: WallSpec, wall: WallSetOut) -> Iterator[str]:
    """Every rule of the bond that the wall breaks."""
    excused = {laid.run.name for laid in wall.bonded if laid.bond.misses}
    runs = {laid.run.name: laid.run for laid in wall.bonded}
    for name, rows in rows_of(wall).items():
        run = runs[name]
        for number, row in enumerate(rows, 1):
            where = f"{name} course {number}"
            yield from (f"{where}: {said}" for said in _course_faults(spec, run, row))
            if name not in excused and alike(spec, row) > spec.bond.most_alike:
                yield f"{where}: {alike(spec, row)} alike"
        for number, (low, high) in enumerate(pairwise(rows), 1):
            if (lap := _lap(run, low, high)) < spec.rules.min_lap - NEAR:
                yield f"{name} courses {number} and {number + 1}: a lap of {lap}"
            if low.blocks == high.blocks and len(low.blocks) > 1:
                yield f"{name} courses {number} and {number + 1} are one"


def alike(spec: WallSpec, row: Row) -> int:
    """The most whole blocks of one length that stand side by side."""
    whole = spec.block.lengths
    return max(
        len(list(g)) if any(abs(x - w) < NEAR for w in whole) else 0
        for x, g in groupby(row.lengths)
    )


def _course_faults(spec: WallSpec, run: Run, row: Row) -> Iterator[str]:
    rules, joints = spec.rules, spec.joints
    widths = [b - a for a, b in row.perps]
    low, high = (joints.perp_min_mm, joints.perp_max_mm)
    if not spec.bond.adjust:
        low = high = joints.perp_mm
    if widths and (
        max(widths) - min(widths) > NEAR or min(widths) < low - NEAR or max(widths) > high + NEAR
    ):
        yield f"perps {widths}"
    edges = sorted([*row.blocks, *row.perps])
    yield from (f"a gap before {b}" for (_, a), (b, _) in pairwise(edges) if abs(a - b) > NEAR)
    corners = [run.start in ("convex", "re-entrant"), run.end in ("convex", "re-entrant")]
    for i, length in enumerate(row.lengths):
        if any(abs(length - x) < NEAR for x in spec.block.lengths):
            continue
        first, last = i == 0, i == len(row.lengths) - 1
        butts = (first and corners[0] and row.perps and row.perps[0] < row.blocks[0]) or (
            last and corners[1] and row.perps and row.perps[-1] > row.blocks[-1]
        )
        if not (rules.min_closer if butts else rules.min_cut) - NEAR <= length:
            yield f"a piece of {length}"
        if length > spec.block.longest:
            yield f"a piece of {length}"


def _lap(run: Run, low: Row, high: Row) -> float:
    """Least distance between the perps of two courses; the joint to an existing wall runs on."""
    return min(
        (max(c - b, a - d) for a, b in _own(run, low) for c, d in _own(run, high)),
        default=math.inf,
    )


def _own(run: Run, row: Row) -> list[tuple[float, float]]:
    perps = list(row.perps)
    if run.start == "abutment":
        perps = [p for p in perps if p > row.blocks[0]]
    if run.end == "abutment":
        perps = [p for p in perps if p < row.blocks[-1]]
    return perps
