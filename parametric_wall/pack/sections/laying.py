"""The cut list and the setting-out sheet of the pack. All sizes in mm."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import groupby

from parametric_wall.drawings.dimension_lines import measured_text
from parametric_wall.drawings.elevations.elevation_notes import signed
from parametric_wall.drawings.levels import levels
from parametric_wall.drawings.plans.lines_plan import CLEAR_OF_TRENCH, diagonals, squares
from parametric_wall.drawings.plans.wall_plan import Leg, Numbered, legs, numbered, on_site
from parametric_wall.export.cut_list import source
from parametric_wall.export.document import (
    BOX,
    Block,
    Column,
    Group,
    Heading,
    Section,
    Table,
    Words,
    table,
)
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.pack.tables import CUTS, cut_rows
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.cut_lists import LaidCut, by_length, in_laying_order
from parametric_wall.takeoff.cutting import CutUnit

AS_LAID = (
    Column(""),
    Column("piece", 2.0),
    Column("length", right=True),
    Column("cut from", 3.0),
    Column("left end"),
    Column("right end"),
)
OFFCUTS = (
    Column("cut from", 1.0),
    Column("unit", right=True),
    Column("pieces", right=True),
    Column("lost in cuts", right=True),
    Column("left over", right=True),
)
NO_CUTS = "Every piece is whole: nothing is cut."
ENDS = (
    "Left and right are as you stand at the front. A factory end goes where the list says so. "
    "Write the unit's number on what is left of it: later pieces come from it."
)


def cut_list(spec: JobSpec, laid: SettingOut, cuts: Sequence[CutUnit]) -> Section:
    """Every cut piece in laying order, so many of each length, and what is left over."""
    as_laid = in_laying_order(laid, cuts)
    if not as_laid:
        return Section("cut-list", "Cut list", (Words(NO_CUTS),))
    courses = {wall.name: wall.gauge.courses for wall in spec.walls}

    def place(cut: LaidCut) -> str:
        piece = cut.piece
        coping = piece.course > courses[piece.wall]
        return f"{piece.wall}, {'copings' if coping else f'course {piece.course}'}"

    groups = tuple(
        Group(tuple(_cut(cut) for cut in same), title) for title, same in groupby(as_laid, place)
    )
    first, *rest = CUTS
    lengths = (Column(first, 1.0), *(Column(head, right=head != "mitred end") for head in rest))
    blocks = (
        Words(f"All sizes in mm. {ENDS}"),
        Heading("In laying order"),
        Table(AS_LAID, groups),
        Heading("So many of each length"),
        table(lengths, cut_rows(by_length(as_laid))),
        Heading("Offcuts"),
        table(OFFCUTS, [_unit(unit) for unit in cuts]),
    )
    return Section("cut-list", "Cut list in laying order", blocks)


def _cut(cut: LaidCut) -> tuple[str, ...]:
    made_of = f"{cut.unit}, {source(cut)}"
    return BOX, cut.piece.id, f"{cut.piece.length:.1f}", made_of, cut.left, cut.right


def _unit(cut: CutUnit) -> tuple[str, ...]:
    sizes = (f"{cut.lost:.1f}", f"{cut.offcut:.1f}")
    return cut.unit, str(cut.number), str(len(cut.pieces)), *sizes


POINTS = (
    Column(""),
    Column("point"),
    Column("", 1.0),
    Column("x from base point", right=True),
    Column("y from base point", right=True),
)
STRINGS = (
    Column(""),
    Column("string", 1.0),
    Column("from point", right=True),
    Column("to point", right=True),
    Column("length of the outer face", right=True),
)
DIAGONALS = (Column(""), Column("across", 1.0), Column("length", right=True))
SQUARES = (
    Column(""),
    Column("square at point", 1.0),
    Column("along one leg", right=True),
    Column("along the other", right=True),
    Column("across", right=True),
    Column(""),
)
BASE = "Points are on the outer face. x goes to the right and y up, as on the drawings."
PROFILES = (
    f"Strings run along the outer face to profiles {CLEAR_OF_TRENCH:g} clear of the trench "
    "(common practice)."
)


def setting_out(spec: JobSpec) -> Section:
    """Points, strings, diagonals, corners and levels of every wall."""
    points = numbered(spec)
    blocks: list[Block] = [Words(f"All sizes in mm. {BASE} {PROFILES}")]
    for wall in spec.walls:
        blocks += _wall(wall, points[wall.name])
    return Section("setting-out", "Setting-out sheet", tuple(blocks), apart=True)


def _wall(spec: WallSpec, points: tuple[Numbered, ...]) -> Iterator[Block]:
    walked = legs(spec, points)
    yield Heading(f"{spec.name}: points and strings")
    yield table(POINTS, [_point(spec, point) for point in points])
    yield table(STRINGS, list(_strings(spec, walked)))
    across = [
        (BOX, f"from point {a} to point {b}", measured_text(math.dist(p, q)))
        for a, b, p, q in diagonals(walked)
    ]
    if across:
        yield Heading(f"{spec.name}: diagonals and corners")
        yield table(DIAGONALS, across)
    made = [
        (BOX, str(one.number), *(f"{side:g}" for side in one.sides), "3-4-5")
        for one in squares(walked)
    ]
    if made:
        yield table(SQUARES, made)
    yield Heading(f"{spec.name}: levels of the string, course by course")
    yield _levels(spec)


def _point(spec: WallSpec, point: Numbered) -> tuple[str, ...]:
    x, y = on_site(spec.place, point.at)
    return BOX, str(point.number), point.what, signed(x), signed(y)


def _strings(spec: WallSpec, walked: Sequence[Leg]) -> Iterator[tuple[str, ...]]:
    for number, leg in zip(spec.path.numbers, walked, strict=True):
        ends = (str(leg.start), str(leg.end))
        yield BOX, f"r{number}", *ends, measured_text(leg.length)


def _levels(spec: WallSpec) -> Table:
    over = f"over {'footing' if spec.footing else 'base'}"
    columns = (
        Column(""),
        Column("line at", 1.0),
        *(Column(head, right=True) for head in (over, "over ground", "from the one below")),
    )
    rows: list[tuple[str, ...]] = [
        (
            BOX,
            level.name,
            measured_text(level.over_base),
            signed(level.over_ground),
            measured_text(level.rise) if level.rise else "",
        )
        for level in levels(spec)
    ]
    return table(columns, rows)
