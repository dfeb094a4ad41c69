"""What the commands for days, price and options print, as text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from textwrap import fill

from parametric_wall.drawings.plots.gantt import MONTHS
from parametric_wall.job.labour import WEEKDAYS
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.days import Day, Schedule
from parametric_wall.order.estimate import Estimate, EstimateLine, plain
from parametric_wall.order.line import plural
from parametric_wall.order.options import Option, figures
from parametric_wall.order.outputs import outputs
from parametric_wall.pack.tables import WIDTH, table


def days_text(spec: JobSpec, plan: Schedule) -> str:
    """The days, what passes between them, and what the hours rest on."""
    parts = (
        _days(plan),
        fill(summary(plan), WIDTH),
        _waits(plan),
        _outputs(spec, plan),
        *(fill(caution, WIDTH) for caution in plan.cautions),
    )
    return "\n\n".join(part for part in parts if part)


DAYS = ("day", "date", "task", "people", "hours")


def _days(plan: Schedule) -> str:
    return table(DAYS, [row for day in plan.days for row in day_rows(day)], 3)


def day_rows(day: Day) -> Iterator[tuple[str, ...]]:
    """The tasks of a day, under `DAYS`, and their sum where they are more than one."""
    for i, shift in enumerate(day.tasks):
        when = (str(day.number), _date(day)) if i == 0 else ("", "")
        row = (shift.task.what, str(shift.people), f"{shift.minutes / 60:.2f}")
        yield (*when, *row)
    if len(day.tasks) > 1:
        hours = sum(s.minutes for s in day.tasks) / 60
        yield ("", "", "", "", f"= {hours:.2f}")


def _date(day: Day) -> str:
    if day.date is None:
        return ""
    weekday, month = WEEKDAYS[day.date.weekday()][:3], MONTHS[day.date.month - 1]
    return f"{weekday} {day.date.day:2} {month} {day.date.year}"


def summary(plan: Schedule) -> str:
    """How many days, people and hours."""
    crew, last = plan.crew, plan.days[-1]
    people = f"{crew.people} people" if crew.people > 1 else "1 person"
    return (
        f"{_days_of(len(plan.days))} with work, the last is day {last.number}; {people}, up to "
        f"{crew.hours_a_day:g} h a day; {plan.hours:.1f} h of one person in all; mixing on "
        f"{_days_of(plan.mixer_days)}."
    )


def _days_of(number: int) -> str:
    return f"{number} day" if number == 1 else f"{number} days"


WAITS = ("not before", "have passed", "since")


def _waits(plan: Schedule) -> str:
    waits = wait_rows(plan)
    return table(WAITS, waits, 3) if waits else ""


def wait_rows(plan: Schedule) -> list[tuple[str, ...]]:
    """What has to wait for nights to pass, under `WAITS`."""
    what = {task.key: task.what for task in plan.tasks}
    return [
        (task.what, f"{need.nights} {'night' if need.nights == 1 else 'nights'}", what[need.task])
        for task in plan.tasks
        for need in task.needs
        if need.nights
    ]


OUTPUTS = ("output", "value", "standing", "source")
OUTPUTS_HEAD = "Hours of one person for a unit, and nights; [outputs] in the job file changes them:"


def _outputs(spec: JobSpec, plan: Schedule) -> str:
    return f"{OUTPUTS_HEAD}\n{table(OUTPUTS, output_rows(spec, plan), 4)}"


def output_rows(spec: JobSpec, plan: Schedule) -> list[tuple[str, ...]]:
    """The outputs that the job uses, and every wait, under `OUTPUTS`."""
    used = {work.output.key for task in plan.tasks for work in task.works}
    return [
        (o.key, f"{o.value:g}", o.standing, o.source)
        for o in outputs(spec.job.outputs).values()
        if o.key in used or not o.per
    ]


def price_text(found: Estimate) -> str:
    """The price: every thing, what comes on top, and what has no rate."""
    rows = price_rows(found)
    items = [table(price_head(found), rows, 2)] if rows else []
    parts = [*items, table(("", found.currency), sums(found))]
    if found.without:
        parts.append(f"{WITHOUT_HEAD}\n{table(WITHOUT, without_rows(found))}")
    return "\n\n".join([*parts, *(fill(text, WIDTH) for text in price_notes(found))])


def price_head(found: Estimate) -> tuple[str, ...]:
    """What stands over `price_rows`."""
    return ("", "item", "quantity", "unit", "rate", f"amount, {found.currency}")


def price_rows(found: Estimate) -> list[tuple[str, ...]]:
    """A row for every thing that has a rate."""
    rows = [
        (
            line.group,
            line.key,
            plain(line.quantity),
            _unit(line),
            f"{line.rate:f}",
            _money(line.amount),
        )
        for line in found.lines
        if line.rate is not None and line.amount is not None
    ]
    return list(_once(rows))


def _unit(line: EstimateLine) -> str:
    """A line's unit, with the packs of the price list that make its quantity."""
    if line.pack is None:
        return line.unit
    packs = line.quantity / line.pack
    return f"{line.unit}, {plain(packs)} {plural('pack', packs)} of {plain(line.pack)}"


def _once(rows: Iterable[tuple[str, ...]]) -> Iterator[tuple[str, ...]]:
    """A group is named at its first row alone."""
    before = ""
    for group, *rest in rows:
        yield ("" if group == before else group, *rest)
        before = group


def sums(found: Estimate) -> list[tuple[str, ...]]:
    """From the costs to the total."""
    p = found.prices
    on = "each line" if p.vat_on == "lines" else "the net total"
    return [
        ("costs", _money(found.costs)),
        (f"overheads, {p.overheads_percent:f} %", _money(found.overheads)),
        (f"profit, {p.profit_percent:f} % of costs and overheads", _money(found.profit)),
        ("net", _money(found.net)),
        (f"VAT, {p.vat_percent:f} % on {on}, {p.rounding}", _money(found.vat)),
        (f"TOTAL{_without(found)}", _money(found.total)),
    ]


def _without(found: Estimate) -> str:
    count = len(found.without) + len(found.unknown)
    return f", without {count} {'item' if count == 1 else 'items'}" if count else ""


WITHOUT_HEAD = "Without a rate, and in no sum:"
WITHOUT = ("item", "quantity", "unit")


def without_rows(found: Estimate) -> list[tuple[str, ...]]:
    """What has no rate, under `WITHOUT`."""
    return [(line.key, plain(line.quantity), line.unit) for line in found.without]


def price_notes(found: Estimate) -> Iterator[str]:
    """What the price does not tell."""
    if found.unknown:
        much = ", ".join(found.unknown)
        yield f"In no sum, since the job does not say how much: {much}."
    for line in found.lines:
        if line.pack is not None and line.quantity != line.ordered:
            yield (
                f"{line.key}: the job orders {plain(line.ordered)}; the price list sells packs of "
                f"{plain(line.pack)}, so that {plain(line.quantity)} are paid for. If no packs of "
                f"{plain(line.pack)} are meant, mend the column pack; a decimal comma in a file "
                "that commas part lands there."
            )
    if found.unused:
        names = ", ".join(_unused(found, item) for item in found.unused)
        yield f"Rates of the list that this price does not need: {names}."
    yield "The rates are the list's own; nothing here says whether they are right."


def _unused(found: Estimate, item: str) -> str:
    meant = found.meant(item)
    return f"{item} (perhaps {meant})" if meant else item


def options_text(options: tuple[Option, ...]) -> str:
    """Options side by side."""
    head = ("", "unit", *(found.name for found in options))
    rows = [(item, unit, *cells) for item, unit, cells in figures(options, _amount)]
    rows += [
        ("work", "h", *(_hours(o) for o in options)),
        ("days with work", "nr", *(str(len(o.plan.days)) if o.plan else "" for o in options)),
        ("last day", "nr", *(str(o.plan.days[-1].number) if o.plan else "" for o in options)),
    ]
    priced = [o.price for o in options if o.price is not None]
    if priced:
        rows += _totals(options, priced[0].currency)
    if any(o.stops for o in options):
        row = (", ".join(o.stops) for o in options)
        rows.append(("not to be built as it stands", "", *row))
    lines = [table(head, rows, 2)]
    if any(o.price is not None and not o.price.complete for o in options):
        lines.append(fill(NOT_COMPARABLE, WIDTH))
    return "\n\n".join(lines)


NOT_COMPARABLE = (
    "Not comparable: a total that leaves out what has no rate says nothing of which option is "
    "cheaper. Give every rate first; see: parametric-wall price."
)


def _totals(options: tuple[Option, ...], currency: str) -> Iterator[tuple[str, ...]]:
    """The totals; one without all its rates stands apart, and is not called a total."""
    prices = [o.price for o in options]
    whole = [
        "" if p is None else _money(p.total) if p.complete else "not comparable" for p in prices
    ]
    yield ("total with VAT", currency, *whole)
    if "not comparable" in whole:
        part = ["" if p is None or p.complete else _money(p.total) for p in prices]
        yield ("only what has a rate, with VAT", currency, *part)
        yield (
            "items without a rate",
            "nr",
            *("" if p is None else str(len(p.without)) for p in prices),
        )


def _amount(value: float) -> str:
    return plain(Decimal(str(round(value, 6))))


def _hours(found: Option) -> str:
    return "" if found.plan is None else f"{found.plan.hours:.1f}"


def _money(value: Decimal | None) -> str:
    return "" if value is None else f"{value:,.2f}"
