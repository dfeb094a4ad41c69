"""A wall's bonds seen in a mirror: left and right change places, nothing else does."""

from __future__ import annotations

from dataclasses import replace

from parametric_wall.setting_out.bond import Course, Span
from parametric_wall.setting_out.corners import BondedRun, Choice, Task
from parametric_wall.setting_out.runs import Run


def mirrored(task: Task) -> Task:
    """The wall walked from its other end, its body on the other side."""
    return replace(task, runs=tuple(mirrored_run(r) for r in reversed(task.runs)))


def other_way(task: Task) -> bool:
    """Whether a wall is bonded as its mirror image, so that both come out alike."""

    def key(one: Task) -> list[tuple[float, str, str]]:
        return [(r.length, r.start, r.end) for r in one.runs]

    return key(mirrored(task)) < key(task)


def mirrored_back(task: Task, choice: Choice) -> Choice:
    """The choice made for a wall's mirror image, as a choice for the wall."""
    return tuple(
        BondedRun(
            run,
            replace(laid.bond, courses=tuple(_course(c, run.length) for c in laid.bond.courses)),
            # The run that leads into a corner is the one that leads out of it, mirrored.
            1 - laid.after,
            1 - laid.before,
        )
        for run, laid in zip(task.runs, reversed(choice), strict=True)
    )


def mirrored_run(run: Run) -> Run:
    """A run seen in a mirror; whose the joint between two panels is does not matter here."""
    a, b = run.core
    core = (run.length - b, run.length - a)
    return replace(run, start=run.end, end=run.start, core=core, inner=run.inner[::-1])


def _course(course: Course, length: float) -> Course:
    span = course.span
    turned = Span(length - span.end, length - span.start, (span.meets[1], span.meets[0]))
    return replace(course, span=turned, pieces=tuple(reversed(course.pieces)))
