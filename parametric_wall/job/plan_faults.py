"""Faults of a plan as a whole: it crosses itself, or does not close."""

from __future__ import annotations

from itertools import combinations

from parametric_wall.errors import Fault
from parametric_wall.geometry import TOLERANCE, Placement
from parametric_wall.job.path import LEFT, RIGHT, Path, closes

Rect = tuple[float, float, float, float]


def body_rect(path: Path, run: int, place: Placement, thickness: float) -> Rect:
    """x0, y0, x1, y1 of a run's body in the wall's axes, its corner squares included."""
    before, after = path.turn_before(run), path.turn_after(run)
    s0 = -thickness if before == RIGHT else 0.0
    s1 = path.lengths[run] + (thickness if after == RIGHT else 0.0)
    ax, ay, _ = place.point(s0, 0.0)
    bx, by, _ = place.point(s1, thickness)
    return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)


def plan_faults(path: Path, thickness: float, at: str) -> list[Fault]:
    """Every fault of a path as a whole; `at` is the wall's dotted path."""
    if path.closed and not closes(path):
        return [_open_fault(path, at)]
    places = path.placements()
    rects = [body_rect(path, i, p, thickness) for i, p in enumerate(places)]
    count = len(rects)
    for i, j in combinations(range(count), 2):
        beside = j - i == 1 or (path.closed and count > 2 and j - i == count - 1)
        if not beside and _touch(rects[i], rects[j]):
            a, b = sorted((path.numbers[i], path.numbers[j]))
            hint = (
                "keep the legs apart; where one meets another it is a junction, which comes later"
            )
            return [Fault(f"{at}.plan", "", f"legs {a} and {b} cross or touch each other", hint)]
    return []


def _open_fault(path: Path, at: str) -> Fault:
    x, y = path.last_point()
    dx, dy = x - path.origin.x, y - path.origin.y
    if sum(path.turns) != 4 * LEFT:
        problem = "a closed plan turns once round, with its body inside"
        hint = 'turn left with body = "left", or right with body = "right"'
    else:
        problem = f"the last leg ends {dx:g}, {dy:g} away from the first point"
        hint = "correct the lengths, or leave closed out"
    return Fault(f"{at}.plan.closed", "true", problem, hint)


def _touch(a: Rect, b: Rect) -> bool:
    eps = TOLERANCE.coincident
    return a[0] <= b[2] + eps and b[0] <= a[2] + eps and a[1] <= b[3] + eps and b[1] <= a[3] + eps
