"""The days of a job as JSON. Hours are of one person unless the key says otherwise."""

from __future__ import annotations

from typing_extensions import TypedDict

from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.days import Schedule
from parametric_wall.order.outputs import outputs
from parametric_wall.order.tasks import Task


class NeedRecord(TypedDict):
    """Another task that has to be done before, and the nights that then have to pass."""

    task: str
    nights: int


class WorkRecord(TypedDict):
    """So much of one thing, at the output of that key."""

    output: str
    quantity: float
    hours: float


class TaskRecord(TypedDict):
    """One task."""

    key: str
    stage: str
    wall: str
    what: str
    hours: float
    people: int
    works: list[WorkRecord]
    needs: list[NeedRecord]


class ShiftRecord(TypedDict):
    """A task on one day, from so many hours after the day's beginning, for so many."""

    task: str
    from_h: float
    for_h: float
    people: int


class DayRecord(TypedDict):
    """One day with work, counted from the first."""

    number: int
    date: str | None
    tasks: list[ShiftRecord]


class OutputRecord(TypedDict):
    """Hours of one person for one unit, or nights to wait."""

    key: str
    value: float
    unit: str
    per: str
    source: str
    standing: str


class DaysRecord(TypedDict):
    """The file days.json."""

    job: str
    title: str
    people: int
    hours_a_day: float
    hours: float
    mixer_days: int
    tasks: list[TaskRecord]
    days: list[DayRecord]
    outputs: list[OutputRecord]
    cautions: list[str]


def days_record(spec: JobSpec, plan: Schedule) -> DaysRecord:
    """The days of a job."""
    return {
        "job": spec.name,
        "title": spec.job.title,
        "people": plan.crew.people,
        "hours_a_day": plan.crew.hours_a_day,
        "hours": round(plan.hours, 3),
        "mixer_days": plan.mixer_days,
        "tasks": [_task(task) for task in plan.tasks],
        "days": [
            {
                "number": day.number,
                "date": None if day.date is None else day.date.isoformat(),
                "tasks": [
                    {
                        "task": shift.task.key,
                        "from_h": round(shift.start_min / 60, 3),
                        "for_h": round(shift.minutes / 60, 3),
                        "people": shift.people,
                    }
                    for shift in day.tasks
                ],
            }
            for day in plan.days
        ],
        "outputs": [
            {
                "key": o.key,
                "value": o.value,
                "unit": o.unit,
                "per": o.per,
                "source": o.source,
                "standing": o.standing,
            }
            for o in outputs(spec.job.outputs).values()
        ],
        "cautions": list(plan.cautions),
    }


def _task(task: Task) -> TaskRecord:
    return {
        "key": task.key,
        "stage": task.stage,
        "wall": task.wall,
        "what": task.what,
        "hours": round(task.hours, 3),
        "people": task.people,
        "works": [
            {
                "output": work.output.key,
                "quantity": round(work.quantity, 6),
                "hours": round(work.hours, 3),
            }
            for work in task.works
        ],
        "needs": [{"task": need.task, "nights": need.nights} for need in task.needs],
    }
