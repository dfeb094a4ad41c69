"""What the commands for days, price and options print, as text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from textwrap import fill

from parametric_wall.drawings.gantt import MONTHS
from parametric_wall.job.labour import WEEKDAYS
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.days import Day, Schedule
from parametric_wall.order.estimate import Estimate, plain
from parametric_wall.order.options import Option, figures
from parametric_wall.order.outputs import outputs
from parametric_wall.pack.tables import WIDTH, table


def days_text(spec: JobSpec, plan: Schedule) -> str:
    """The days, what passes between them, and what the hours rest on."""
    parts = (
        _days(plan),
        _summary(plan),
        _waits(plan),
        _outputs(spec, plan),
        *(fill(caution, WIDTH) for caution in plan.cautions),
    )
    return "\n\n".join(part for part in parts if part)


def _days(plan: Schedule) -> str:
    rows = []
    for day in plan.days:
        for i, shift in enumerate(day.tasks):
            when = (str(day.number), _date(day)) if i == 0 else ("", "")
            row = (shift.task.what, str(shift.people), f"{shift.minutes / 60:.2f}")
            rows.append((*when, *row))
        if len(day.tasks) > 1:
            hours = sum(s.minutes for s in day.tasks) / 60
            rows.append(("", "", "", "", f"= {hours:.2f}"))
    return table(("day", "date", "task", "people", "hours"), rows, 3)


def _date(day: Day) -> str:
    if day.date is None:
        return ""
    weekday, month = WEEKDAYS[day.date.weekday()][:3], MONTHS[day.date.month - 1]
    return f"{weekday} {day.date.day:2} {month} {day.date.year}"


def _summary(plan: Schedule) -> str:
    crew, last = plan.crew, plan.days[-1]
    people = f"{crew.people} people" if crew.people > 1 else "1 person"
    text = (
        f"{_days_of(len(plan.days))} with work, the last is day {last.number}; {people}, up to "
        f"{crew.hours_a_day:g} h a day; {plan.hours:.1f} h of one person in all; mixing on "
        f"{_days_of(plan.mixer_days)}."
    )
    return fill(text, WIDTH)


def _days_of(number: int) -> str:
    return f"{number} day" if number == 1 else f"{number} days"


def _waits(plan: Schedule) -> str:
    """What has to wait for nights to pass."""
    what = {task.key: task.what for task in plan.tasks}
    waits = [
        (task.what, f"{need.nights} {'night' if need.nights == 1 else 'nights'}", what[need.task])
        for task in plan.tasks
        for need in task.needs
        if need.nights
    ]
    return table(("not before", "have passed", "since"), waits, 3) if waits else ""


def _outputs(spec: JobSpec, plan: Schedule) -> str:
    """The outputs that the job uses, and every wait."""
    used = {work.output.key for task in plan.tasks for work in task.works}
    rows = [
        (o.key, f"{o.value:g}", o.standing, o.source)
        for o in outputs(spec.job.outputs).values()
        if o.key in used or not o.per
    ]
    head = "Hours of one person for a unit, and nights; [outputs] in the job file changes them:"
    return f"{head}\n{table(('output', 'value', 'standing', 'source'), rows, 4)}"


def price_text(found: Estimate) -> str:
    """The price: every thing, what comes on top, and what has no rate."""
    rows = [
        (
            line.group,
            line.key,
            plain(line.quantity),
            line.unit,
            f"{line.rate:f}",
            _money(line.amount),
        )
        for line in found.lines
        if line.rate is not None and line.amount is not None
    ]
    head = ("", "item", "quantity", "unit", "rate", f"amount, {found.currency}")
    items = [table(head, [*_once(rows)], 2)] if rows else []
    parts = [*items, table(("", found.currency), _sums(found)), *_apart(found)]
    return "\n\n".join(parts)


def _once(rows: Iterable[tuple[str, ...]]) -> Iterator[tuple[str, ...]]:
    """A group is named at its first row alone."""
    before = ""
    for group, *rest in rows:
        yield ("" if group == before else group, *rest)
        before = group


def _sums(found: Estimate) -> list[tuple[str, str]]:
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


def _apart(found: Estimate) -> Iterator[str]:
    if found.without:
        rows = [(line.key, plain(line.quantity), line.unit) for line in found.without]
        yield "Without a rate, and in no sum:\n" + table(("item", "quantity", "unit"), rows)
    if found.unknown:
        much = ", ".join(found.unknown)
        yield fill(f"In no sum, since the job does not say how much: {much}.", WIDTH)
    if found.unused:
        yield fill(
            f"Rates of the list that this price does not need: {', '.join(found.unused)}.", WIDTH
        )
    yield "The rates are the list's own; nothing here says whether they are right."


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
        rows.append(("total with VAT", priced[0].currency, *(_total(o.price) for o in options)))
    if any(o.stops for o in options):
        row = (", ".join(o.stops) for o in options)
        rows.append(("not to be built as it stands", "", *row))
    return table(head, rows, 2)


def _total(price: Estimate | None) -> str:
    return "" if price is None else f"{_money(price.total)}{_without(price)}"


def _amount(value: float) -> str:
    return plain(Decimal(str(round(value, 6))))


def _hours(found: Option) -> str:
    return "" if found.plan is None else f"{found.plan.hours:.1f}"


def _money(value: Decimal | None) -> str:
    return "" if value is None else f"{value:,.2f}"
