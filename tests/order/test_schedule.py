"""What holds of every list of days."""

from __future__ import annotations

import datetime as dt
import math

import pytest
from helpers_order import straight
from hypothesis import given
from hypothesis import strategies as st

from parametric_wall.errors import JobError
from parametric_wall.job.labour import WEEKDAYS, Crew
from parametric_wall.order.days import Day, days, schedule
from parametric_wall.order.outputs import Output
from parametric_wall.order.tasks import Need, Task, Work
from parametric_wall.setting_out.set_out import set_out

START = dt.date(2026, 4, 20)
"""A Monday."""


def task(number: int, hours: float, people: int, needs: tuple[Need, ...], *, whole: bool) -> Task:
    output = Output("x", hours, "h", "nr", people, "drawn", "drawn")
    return Task(f"t{number}", "lay", "w", f"t{number}", (Work(output, 1.0),), needs, whole)


@st.composite
def rows_of_tasks(draw: st.DrawFn) -> tuple[Task, ...]:
    found: list[Task] = []
    for number in range(draw(st.integers(1, 9))):
        before = draw(st.sets(st.integers(0, max(0, number - 1)), max_size=3)) if number else set()
        needs = tuple(Need(f"t{i}", draw(st.integers(0, 4))) for i in sorted(before))
        hours = draw(st.floats(0.01, 40, allow_nan=False))
        whole = draw(st.booleans())
        found.append(task(number, hours, draw(st.integers(1, 5)), needs, whole=whole))
    return tuple(found)


@st.composite
def crews(draw: st.DrawFn) -> Crew:
    return Crew(
        people=draw(st.integers(1, 6)),
        hours_a_day=draw(st.sampled_from((1.0, 4.5, 7.77, 8.0))),
        days_off=tuple(sorted(draw(st.sets(st.sampled_from(WEEKDAYS), max_size=6)))),
        closed=tuple(START + dt.timedelta(days=d) for d in draw(st.sets(st.integers(0, 20)))),
    )


STARTS = st.sampled_from((None, START))


def when(found: tuple[Day, ...]) -> dict[str, tuple[tuple[int, int], tuple[int, int]]]:
    """Beginning and end of each task: day, and minute in it."""
    spans: dict[str, tuple[tuple[int, int], tuple[int, int]]] = {}
    for day in found:
        for s in day.tasks:
            begin = spans.get(s.task.key, ((day.number, s.start_min), None))[0]
            spans[s.task.key] = (begin, (day.number, s.start_min + s.minutes))
    return spans


@given(rows_of_tasks(), crews(), STARTS)
def test_every_need_is_met(row: tuple[Task, ...], crew: Crew, starts: dt.date | None) -> None:
    spans = when(days(row, crew, starts))
    assert set(spans) == {t.key for t in row}
    for t in row:
        for need in t.needs:
            begin, end = spans[t.key][0], spans[need.task][1]
            assert begin >= end
            assert begin[0] >= end[0] + need.nights


@given(rows_of_tasks(), crews(), STARTS)
def test_no_day_is_overrun_and_all_work_is_done(
    row: tuple[Task, ...], crew: Crew, starts: dt.date | None
) -> None:
    found = days(row, crew, starts)
    for day in found:
        clock = 0
        for s in day.tasks:
            assert s.start_min >= clock
            assert 0 < s.people <= min(crew.people, s.task.people)
            clock = s.start_min + s.minutes
        assert clock <= crew.hours_a_day * 60
        if day.date is not None:
            assert day.date == found[0].date + dt.timedelta(days=day.number - 1)
            assert WEEKDAYS[day.date.weekday()] not in crew.days_off
            assert day.date not in crew.closed
    for t in row:
        done = sum(s.hours for day in found for s in day.tasks if s.task is t)
        assert t.hours - 1e-6 <= done < t.hours + 5 / 60 * crew.people + 1e-6


@given(rows_of_tasks(), crews(), STARTS)
def test_more_people_never_end_later(
    row: tuple[Task, ...], crew: Crew, starts: dt.date | None
) -> None:
    more = crew.model_copy(update={"people": crew.people + 1})
    few, many = when(days(row, crew, starts)), when(days(row, more, starts))
    assert all(many[t.key][1] <= few[t.key][1] for t in row)


@given(rows_of_tasks(), crews())
def test_what_is_poured_whole_is_done_in_a_day_if_a_day_can_hold_it(
    row: tuple[Task, ...], crew: Crew
) -> None:
    found = days(row, crew, None)
    for t in row:
        minutes = sum(s.minutes for day in found for s in day.tasks if s.task is t)
        if t.whole and minutes <= math.floor(crew.hours_a_day * 60):
            begin, end = when(found)[t.key]
            assert begin[0] == end[0]


def test_weekends_and_days_off_count_as_nights() -> None:
    """Poured on a Friday, built on the Monday after; the Monday closed, on the Tuesday."""
    pour = task(0, 4, 2, (), whole=True)
    lay = task(1, 4, 2, (Need("t0", 1),), whole=False)
    friday = dt.date(2026, 4, 24)
    found = days((pour, lay), Crew(), friday)
    assert [(d.number, d.date) for d in found] == [(1, friday), (4, dt.date(2026, 4, 27))]
    closed = Crew(closed=(dt.date(2026, 4, 27),))
    assert days((pour, lay), closed, friday)[-1].date == dt.date(2026, 4, 28)


def test_a_job_that_starts_on_a_day_off_starts_on_the_next() -> None:
    found = days((task(0, 1, 1, (), whole=False),), Crew(), dt.date(2026, 4, 25))
    assert (found[0].number, found[0].date) == (1, dt.date(2026, 4, 27))


def test_lifts_go_round_the_walls() -> None:
    """While one sets, the next is built: two walls of two lifts take no more lifting days."""
    from parametric_wall.job.read import loads

    wall = '[[walls]]\nname = "{}"\nplan = {{ shape = "straight", length_mm = 665 }}\n'
    wall += "height = {{ courses = 7 }}\n"
    block = 'block = { size = "215x102.5x65" }\n'
    spec = loads(f'title = "two"\n{block}{wall.format("a")}{wall.format("b")}')
    found = schedule(spec, set_out(spec))
    laid = [d.number for d in found.days if any(s.task.stage == "lay" for s in d.tasks)]
    assert laid == [2, 3]


@pytest.mark.parametrize(
    ("more", "problem"),
    [
        ("[crew]\npeople = 0\n", "crew.people"),
        ("[crew]\nhours_a_day = 25\n", "crew.hours_a_day"),
        ('[crew]\ndays_off = ["Caturday"]\n', "crew.days_off.0"),
        (f"[crew]\ndays_off = {list(WEEKDAYS)}\n", "no day of the week"),
        ("[outputs]\nblocks_h_per_nr = 0\n", "outputs.blocks_h_per_nr"),
        ("[outputs]\nlift_nights = 1.5\n", "outputs.lift_nights"),
        ("[outputs]\nblocks_h = 1\n", "outputs.blocks_h"),
    ],
)
def test_what_makes_no_sense_is_refused(more: str, problem: str) -> None:
    with pytest.raises(JobError, match=problem):
        straight(more=more)


@pytest.mark.parametrize("crew", ["starts = 9999-12-31", "people = 1\nhours_a_day = 1"])
def test_a_job_past_ten_years_is_refused(crew: str) -> None:
    slow = "[outputs]\nblocks_h_per_nr = 100\n"
    spec = straight(length=100_000, more=f"[crew]\n{crew}\n{slow}")
    with pytest.raises(JobError, match="ten years"):
        schedule(spec, set_out(spec))
