"""Cautions, findings and calculations in the pack, and the sheet to check the walls by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from parametric_wall.checks.calculation import Calculation
from parametric_wall.checks.check import CAUTIONS, looked_at
from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.checks.on_site import SiteCheck
from parametric_wall.drawings.plots.plots import sheets
from parametric_wall.export.document import (
    BOX,
    Block,
    Column,
    Entry,
    Group,
    Heading,
    Picture,
    Section,
    Table,
    Words,
    table,
)
from parametric_wall.export.finding_records import NOTE
from parametric_wall.export.svg import svg
from parametric_wall.job.resolve import JobSpec
from parametric_wall.pack import order_screen
from parametric_wall.pack.screen import verdict
from parametric_wall.pack.tables import (
    USES,
    calculated,
    finding_words,
    limit_words,
    rests_on,
    use_rows,
)
from parametric_wall.reference.tables import cited

SIGNED_ROWS = 3


def cautions(found: Sequence[Finding]) -> Section:
    """What stands on every job, and whom to ask."""
    entries = [_entry(f) for f in found if f.code in CAUTIONS]
    blocks: tuple[Block, ...] = (Words(NOTE, strong=True), *entries, Words(order_screen.CAUTIONS))
    return Section("cautions", "Cautions, and whom to ask", blocks)


def findings(spec: JobSpec, found: tuple[Finding, ...]) -> Section:
    """What was found, the gravest first, with what it rests on; and what was looked at."""
    blocks: list[Block] = [Words(verdict(spec, found), strong=True)]
    own = [f for f in found if f.code not in CAUTIONS]
    for grade in reversed(Grade):
        entries = [_entry(f) for f in own if f.grade is grade]
        if entries:
            blocks += [Heading(grade.value.capitalize()), *entries]
    blocks += [
        Heading("What was looked at"),
        table((Column("check"), Column("covers", 1.0)), list(looked_at())),
    ]
    return Section("findings", "Findings", tuple(blocks))


def _entry(f: Finding) -> Entry:
    where = f"{f.where}: " if f.where else ""
    return Entry(f.code, (f"{where}{f.message}{limit_words(f)}.", *finding_words(f)))


def calculations(spec: JobSpec, found: Sequence[Calculation]) -> Section:
    """What was worked out, where it is worst, with its plots; and what it rests on."""
    name, *rest = USES
    columns = (Column(name, 1.0), *(Column(head, right=bool(head)) for head in rest))
    blocks: list[Block] = []
    for one in found:
        blocks.append(Heading(calculated(one)))
        blocks.append(table(columns, use_rows(one)))
        blocks += _plots(spec, one)
    blocks += [Heading("What this rests on"), *map(Words, rests_on(found))]
    return Section("calculations", "Calculations", tuple(blocks))


def _plots(spec: JobSpec, found: Calculation) -> Iterator[Picture]:
    for sheet in sheets(spec, found):
        file = f"{spec.name}-pack-{sheet.name}.svg"
        yield Picture(file, svg(sheet), sheet.width, sheet.height, sheet.told)


CHECKS = (
    Column(""),
    Column("check, and how", 5.0),
    Column("to be", 2.2),
    Column("may be, or be out by", 4.2),
    Column("measured", 2.2, write=True),
)
SIGNED = (
    Column("checked by", 2.0),
    Column("date", 1.0, write=True),
    Column("signed", 2.0, write=True),
)


def check_sheet(rows: Sequence[SiteCheck]) -> Section:
    """The sheet to tick off on site."""
    groups = tuple(
        Group(tuple(_check(row) for row in same), where)
        for where, same in groupby(rows, key=lambda row: row.where)
    )
    empty = [("\n", "", "")] * SIGNED_ROWS
    blocks = (Words("All sizes in mm."), Table(CHECKS, groups), table(SIGNED, empty))
    return Section("check-sheet", "Check sheet", blocks, apart=True)


def _check(row: SiteCheck) -> tuple[str, ...]:
    what = f"{row.what}\n{row.how[0].upper()}{row.how[1:]}."
    allowed = f"{row.allowed}\nSource: {cited(row.source, row.standing)}."
    return BOX, what, row.value, allowed, ""
