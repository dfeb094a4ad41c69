"""The order, the mixing sheet, the price and the days in the pack."""

from __future__ import annotations

from collections.abc import Sequence

from parametric_wall.drawings.plots.gantt import gantt
from parametric_wall.export.document import (
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
from parametric_wall.export.svg import svg
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.days import Schedule
from parametric_wall.order.digging import Digging, digging
from parametric_wall.order.estimate import Estimate
from parametric_wall.order.line import OrderLine
from parametric_wall.order.mixing import Sheet
from parametric_wall.order.wet import makings
from parametric_wall.pack import order_screen as order
from parametric_wall.pack import pricing
from parametric_wall.setting_out.model import SettingOut


def columns(heads: Sequence[str], left: int = 1, *wide: int) -> tuple[Column, ...]:
    """Columns under heads: the first `left` ranged left, the others right.

    Those that are `wide`, else the first, share the room: their texts may be of any length.
    """
    return tuple(
        Column(head, 1.0 if i in (wide or (0,)) else 0.0, right=i >= left)
        for i, head in enumerate(heads)
    )


def ordered(
    spec: JobSpec, laid: SettingOut, lines: tuple[OrderLine, ...], sheet: Sheet | None
) -> Section:
    """What to buy, what was added to it, the mixes, and the earth."""
    groups = tuple(Group(rows, title) for title, rows in order.material_rows(lines))
    blocks: list[Block] = [
        Table(columns(order.MATERIALS, 2), groups),
        Words(order.brought(lines), strong=True),
        Heading("What was added, and by whose rule"),
        *(Entry(*order.added(line)) for line in lines),
        Heading("Mixes, by volume"),
        *(Entry(*order.mixed(making)) for making in makings(spec, laid)),
        *_mixing(sheet),
        *_digging(digging(spec, laid)),
    ]
    return Section("order", "Order and mixing", tuple(blocks))


def _mixing(sheet: Sheet | None) -> list[Block]:
    if sheet is None:
        return []
    return [
        Heading("Mixing sheet"),
        Words(order.GOES),
        *(Entry(*order.batched(batch)) for batch in sheet.batches),
        table(columns(order.STAGES, 3, 1), order.stage_rows(sheet)),
        Words(order.CAUTIONS),
    ]


def _digging(dug: Digging) -> list[Block]:
    rows = order.dug_rows(dug)
    if not rows:
        return [Heading("Digging"), Words(order.NOTHING_DUG)]
    return [Heading("Digging"), table(columns(order.DUG), rows), *map(Words, order.earth(dug))]


def price(found: Estimate) -> Section:
    """What the job costs by a price list, and what is in no sum."""
    blocks: list[Block] = []
    rows = pricing.price_rows(found)
    if rows:
        blocks.append(table(columns(pricing.price_head(found), 2, 1), rows))
    blocks.append(table(columns(("", found.currency)), pricing.sums(found)))
    if found.without:
        blocks.append(Words(pricing.WITHOUT_HEAD))
        blocks.append(table(columns(pricing.WITHOUT), pricing.without_rows(found)))
    return Section("price", "Price", (*blocks, *map(Words, pricing.price_notes(found))))


def days(spec: JobSpec, plan: Schedule) -> Section:
    """Which task on which day, what passes between them, and what the hours rest on."""
    bars = gantt(spec.name, spec.job.title, plan)
    file = f"{spec.name}-pack-days.svg"
    tasks = tuple(Group(tuple(pricing.day_rows(day))) for day in plan.days)
    blocks: list[Block] = [
        Words(pricing.summary(plan), strong=True),
        *map(Words, plan.cautions),
        Picture(file, svg(bars), bars.width, bars.height, bars.told),
        Table(columns(pricing.DAYS, 3, 2), tasks),
    ]
    waits = pricing.wait_rows(plan)
    if waits:
        blocks.append(Heading("What has to wait"))
        blocks.append(table(columns(pricing.WAITS, 3, 0, 2), waits))
    blocks += [
        Heading("What the hours rest on"),
        Words(pricing.OUTPUTS_HEAD),
        table(columns(pricing.OUTPUTS, 4, 3), pricing.output_rows(spec, plan)),
    ]
    return Section("days", "Days", tuple(blocks))
