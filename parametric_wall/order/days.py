"""The days of a job: which task on which day, for how long, by how many.

The crew is one gang and takes the tasks one after another in their order, as soon as
what a task needs is done and the nights after it have passed. In such a row nothing
can begin later because something before it was done sooner: more people never make a
job longer. Time is counted in whole minutes, so that no day is overrun by a rounding; a
day is cut down to whole minutes.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator
from dataclasses import dataclass

from parametric_wall.errors import Fault, JobError
from parametric_wall.job.labour import WEEKDAYS, Crew
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.tasks import Task, tasks
from parametric_wall.reference.tables import limit
from parametric_wall.setting_out.model import SettingOut

MOST_DAYS = 3660
"""Ten years: no garden wall takes so long."""
STEP_MIN = 5
"""A task's time is rounded up to whole steps, in minutes: nobody works by the minute."""


@dataclass(frozen=True, slots=True)
class Shift:
    """A task on one day: from so many minutes after the day's beginning, for so many."""

    task: Task
    start_min: int
    minutes: int
    people: int

    @property
    def hours(self) -> float:
        """Of one person."""
        return self.minutes * self.people / 60


@dataclass(frozen=True, slots=True)
class Day:
    """One day with work.

    Attributes:
        number: days since the first day of work, which is 1; days without work count.
        date: None where the job has none.
        tasks: what is done, in order.
    """

    number: int
    date: dt.date | None
    tasks: tuple[Shift, ...]


@dataclass(frozen=True, slots=True)
class Schedule:
    """The days of a job.

    Attributes:
        crew: who builds, and when.
        tasks: in order.
        days: those with work, in order.
        cautions: what the list itself cannot know.
    """

    crew: Crew
    tasks: tuple[Task, ...]
    days: tuple[Day, ...]
    cautions: tuple[str, ...] = ()

    @property
    def hours(self) -> float:
        """Of one person, over the whole job."""
        return sum(task.hours for task in self.tasks)

    @property
    def mixer_days(self) -> int:
        """Days on which mortar or concrete is mixed."""
        return sum(any(s.task.mixer for s in day.tasks) for day in self.days)


def schedule(spec: JobSpec, laid: SettingOut) -> Schedule:
    """The days of a job.

    Raises:
        JobError: it would take more than ten years.
    """
    crew, found = spec.job.crew, tasks(spec, laid)
    starts = crew.starts or spec.job.date
    return Schedule(crew, found, days(found, crew, starts), tuple(_cautions(starts)))


def days(found: tuple[Task, ...], crew: Crew, starts: dt.date | None) -> tuple[Day, ...]:
    """Put tasks, each after those it needs, on days.

    Args:
        found: the tasks in their order.
        crew: who works, and when.
        starts: the first day; None counts days alone and knows no days off.

    Raises:
        JobError: they would take more than ten years.
    """
    before = _Calendar(crew, starts)
    calendar = _Calendar(crew, before.date(before.workday(1)))
    done: dict[str, int] = {}
    shifts: dict[int, list[Shift]] = {}
    now = (calendar.workday(1), 0)
    for task in found:
        first = max((done[n.task] + n.nights for n in task.needs), default=1)
        now = max(now, (calendar.workday(first), 0))
        people = min(crew.people, task.people)
        minutes = STEP_MIN * math.ceil(round(task.hours * 60 / people / STEP_MIN, 6))
        for number, shift in calendar.shifts(task, now, minutes, people):
            shifts.setdefault(number, []).append(shift)
            now = (number, shift.start_min + shift.minutes)
        done[task.key] = now[0]
    return tuple(Day(n, calendar.date(n), tuple(s)) for n, s in sorted(shifts.items()))


@dataclass(frozen=True, slots=True)
class _Calendar:
    """Which days are worked on, and for how long."""

    crew: Crew
    starts: dt.date | None

    @property
    def length(self) -> int:
        """Of a day, minutes."""
        return math.floor(self.crew.hours_a_day * 60)

    def date(self, number: int) -> dt.date | None:
        return None if self.starts is None else self.starts + dt.timedelta(days=number - 1)

    def workday(self, number: int) -> int:
        """The first day from this one on that is worked on."""
        while number <= MOST_DAYS:
            try:
                date = self.date(number)
            except OverflowError:
                break
            if date is None or self._open(date):
                return number
            number += 1
        problem = "the job would take more than ten years, or never begin"
        raise JobError([Fault("crew", "", problem, "look at crew, outputs and the walls")])

    def _open(self, date: dt.date) -> bool:
        weekday = WEEKDAYS[date.weekday()]
        return weekday not in self.crew.days_off and date not in self.crew.closed

    def shifts(
        self, task: Task, now: tuple[int, int], minutes: int, people: int
    ) -> Iterator[tuple[int, Shift]]:
        """A task from a moment on, over as many days as it takes.

        One that is to be done whole waits for the next day where this one cannot hold it.
        """
        number, at = now
        if at >= self.length or (task.whole and at > 0 and at + minutes > self.length):
            number, at = self.workday(number + 1), 0
        while True:
            here = min(minutes, self.length - at)
            yield number, Shift(task, at, here, people)
            minutes -= here
            if minutes == 0:
                return
            number, at = self.workday(number + 1), 0


def _cautions(starts: dt.date | None) -> Iterator[str]:
    yield (
        f"Lay nothing and pour nothing in air below {limit('cold'):g} degrees and falling, nor on "
        "frozen ground or with frozen material; keep new work from frost, rain and quick drying."
    )
    yield "Nights to wait are the usual ones for mild weather; cold makes them more."
    if starts is None:
        yield "The job has no date: days are counted on end, without days off."
