"""The days of a job as bars: a row a task, a column a day. Legible in black and white."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from parametric_wall.drawings.lettering import shortened
from parametric_wall.drawings.sheet import Area, Line, Mark, Sheet, Text
from parametric_wall.order.days import Day, Schedule
from parametric_wall.order.tasks import STAGES

WIDTH, HEIGHT = 170.0, 80.0
LEFT, RIGHT, TOP, BOTTOM = 52.0, 3.0, 14.0, 4.0
MOST_ROWS = 16
"""More would be too low to read: then a row is a stage, over all walls."""
MARGIN = 3.0
"""Beside the texts at the left, and beside the title."""
CAPITAL, LEAST_CAPITAL = 2.2, 1.6
LABEL_ROOM = 11.0
"""Between two dates, mm."""
LEAST_COLUMN = 1.0
"""Narrower days are ruled off by the week, mm."""
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True)
class _Bar:
    """What one row has on one day: from and to, as parts of the day."""

    day: int
    start: float
    end: float


def gantt(name: str, title: str, plan: Schedule) -> Sheet:
    """The bar chart of a job, about 170 x 80 mm.

    Args:
        name: of the job.
        title: of the job.
        plan: its days.
    """
    rows = _rows(plan)
    last = plan.days[-1]
    first = plan.days[0].date
    people = f"{plan.crew.people} {'person' if plan.crew.people == 1 else 'people'}"
    ends = f"{_date(first)} to {_date(last.date)}, " if first else ""
    worked = len(plan.days)
    when = f"{worked} {'day' if worked == 1 else 'days'} of work within {last.number}"
    told = f"{ends}{when}; {people}, {plan.crew.hours_a_day:g} hours a day"
    marks = (*_columns(plan, len(rows)), *_bars(rows, last.number), *_head(title, told))
    return Sheet(f"{name}-days", title, _in_words(rows, told), WIDTH, HEIGHT, marks)


def _rows(plan: Schedule) -> dict[str, list[_Bar]]:
    """The bars of each row, by what it says."""
    by_stage = len(plan.tasks) > MOST_ROWS
    rows: dict[str, list[_Bar]] = (
        {stage: [] for stage in STAGES} if by_stage else {task.what: [] for task in plan.tasks}
    )
    length = plan.crew.hours_a_day * 60
    for day in plan.days:
        for shift in day.tasks:
            end = shift.start_min + shift.minutes
            bar = _Bar(day.number, shift.start_min / length, end / length)
            rows[shift.task.stage if by_stage else shift.task.what].append(bar)
    return {what: bars for what, bars in rows.items() if bars}


def _day_width(days: int) -> float:
    return (WIDTH - LEFT - RIGHT) / days


def _row_height(rows: int) -> float:
    return min(8.0, (HEIGHT - TOP - BOTTOM) / rows)


def _head(title: str, told: str) -> Iterator[Mark]:
    short = shortened(" ".join(title.split()), 2.5, WIDTH - 2 * MARGIN)
    yield Text("text", (MARGIN, HEIGHT - 5.0), short, 2.5)
    yield Text("text", (MARGIN, HEIGHT - 9.0), told, 1.8)


def _columns(plan: Schedule, rows: int) -> Iterator[Mark]:
    """Days without work are shaded; days are numbered, and dated where the job is."""
    days, wide = plan.days[-1].number, _day_width(plan.days[-1].number)
    top, low = HEIGHT - TOP, HEIGHT - TOP - rows * _row_height(rows)
    worked = {day.number: day for day in plan.days}
    for number in range(1, days + 1):
        left = LEFT + (number - 1) * wide
        if number not in worked:
            right = left + wide
            yield Area("idle", ((left, low), (right, low), (right, top), (left, top)))
    every = -(-LABEL_ROOM // wide)
    shown = -every
    for number in range(1, days + 1):
        x = LEFT + (number - 1) * wide
        if wide >= LEAST_COLUMN or number % 7 == 1:
            yield Line("grid", ((x, low), (x, top)))
        middle = x + wide / 2
        fits = number - shown >= every and middle + LABEL_ROOM / 2 <= WIDTH
        if number in worked and fits:
            shown = number
            yield Text("text", (middle, top + 1.0), _label(worked[number]), 1.8, "middle")
    yield Line("grid", ((WIDTH - RIGHT, low), (WIDTH - RIGHT, top)))
    yield Line("axis", ((LEFT, top), (WIDTH - RIGHT, top)))


def _label(day: Day) -> str:
    if day.date is None:
        return str(day.number)
    return f"{day.date.day} {MONTHS[day.date.month - 1]}"


def _date(date: dt.date | None) -> str:
    return "" if date is None else date.isoformat()


def _bars(rows: dict[str, list[_Bar]], days: int) -> Iterator[Mark]:
    wide, tall = _day_width(days), _row_height(len(rows))
    capital = max(LEAST_CAPITAL, min(CAPITAL, tall * 0.5))
    for i, (what, bars) in enumerate(rows.items()):
        low = HEIGHT - TOP - (i + 1) * tall
        short = shortened(what, capital, LEFT - MARGIN - 1.0)
        yield Text("text", (MARGIN, low + (tall - capital) / 2), short, capital)
        yield Line("grid", ((LEFT, low), (WIDTH - RIGHT, low)))
        for bar in bars:
            x0, x1 = (LEFT + (bar.day - 1 + part) * wide for part in (bar.start, bar.end))
            y0, y1 = low + 0.2 * tall, low + 0.8 * tall
            outline = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
            yield Area("bar", outline)
            yield Line("axis", outline, closed=True)


def _in_words(rows: dict[str, list[_Bar]], told: str) -> str:
    """The same for who cannot see it."""
    parts = []
    for what, bars in rows.items():
        first, last = bars[0].day, bars[-1].day
        parts.append(f"{what}: day {first}" + (f" to {last}" if last > first else ""))
    return f"{told}. {'; '.join(parts)}."
