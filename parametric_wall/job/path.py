"""The plan of a wall as one path along its outer face, with the body always on its left.

A wall whose body lies on the right of the way it was given is the same wall
walked the other way: it is turned round once, here, and nowhere else.
"""

from __future__ import annotations

from dataclasses import dataclass

from parametric_wall.geometry import TOLERANCE, Placement, Point
from parametric_wall.job.model import Abutment, Legs, Rectangle, StopEnd, Straight, Wall

LEFT, RIGHT = 1, -1


@dataclass(frozen=True, slots=True)
class Path:
    """The outer face, walked with the body on the left.

    Attributes:
        origin: the first point and the way of the first run, in the wall's axes.
        lengths: of each run along the outer face, mm.
        turns: after each run, LEFT (a convex corner) or RIGHT (a re-entrant
            one); one fewer than runs when open, as many when closed.
        closed: whether the last run leads back to the first point.
        numbers: each run's number as the job file counts its legs.
        start: what stands at the first point of an open path.
        end: what stands at its last point.
        turned: whether it is walked the other way than the job file has it, so that
            `start` here is what the file calls its end.
    """

    origin: Placement
    lengths: tuple[float, ...]
    turns: tuple[int, ...]
    closed: bool
    numbers: tuple[int, ...]
    start: StopEnd | Abutment
    end: StopEnd | Abutment
    turned: bool = False

    def placements(self) -> tuple[Placement, ...]:
        """Where each run's axes stand, in the wall's axes."""
        places = [self.origin]
        for length, turn in zip(self.lengths, self.turns, strict=False):
            here = places[-1]
            x, y, _ = here.point(length, 0.0)
            places.append(Placement(x, y, 0.0, (here.heading_deg + 90 * turn) % 360))
        return tuple(places[: len(self.lengths)])

    def last_point(self) -> Point:
        """Where the last run ends, in the wall's axes."""
        x, y, _ = self.placements()[-1].point(self.lengths[-1], 0.0)
        return x, y

    def turn_before(self, run: int) -> int | None:
        """The turn that leads into a run; None at an open start."""
        if run > 0:
            return self.turns[run - 1]
        return self.turns[-1] if self.closed else None

    def turn_after(self, run: int) -> int | None:
        """The turn that leads out of a run; None at an open end."""
        return self.turns[run] if run < len(self.turns) else None


def _given(wall: Wall) -> tuple[tuple[float, ...], tuple[int, ...], bool]:
    """Lengths, turns and closure as the job file has them."""
    plan = wall.plan
    if isinstance(plan, Straight):
        return (plan.length_mm,), (), False
    if isinstance(plan, Rectangle):
        turn = LEFT if wall.body == "left" else RIGHT
        sides = (plan.length_mm, plan.width_mm)
        return sides * 2, (turn,) * 4, True
    assert isinstance(plan, Legs)
    turns = tuple(LEFT if leg.turn == "left" else RIGHT for leg in plan.legs if leg.turn)
    return tuple(leg.length_mm for leg in plan.legs), turns, plan.closed


def path_of(wall: Wall) -> Path:
    """The path of a wall, turned round where its body lies on the right."""
    lengths, turns, closed = _given(wall)
    numbers = tuple(range(1, len(lengths) + 1))
    forward = Path(Placement(), lengths, turns, closed, numbers, wall.start, wall.end)
    if wall.body == "left":
        return forward
    last = forward.placements()[-1]
    x, y = forward.last_point() if not closed else (0.0, 0.0)
    # Walked backwards, a right turn is a left one.
    inner = turns[:-1] if closed else turns
    back = tuple(-t for t in reversed(inner))
    return Path(
        Placement(x, y, 0.0, (last.heading_deg + 180) % 360),
        tuple(reversed(lengths)),
        (*back, -turns[-1]) if closed else back,
        closed,
        tuple(reversed(numbers)),
        wall.end,
        wall.start,
        turned=True,
    )


def closes(path: Path) -> bool:
    """Whether a closed path really leads back to its first point, turning once round."""
    x, y = path.last_point()
    apart = max(abs(x - path.origin.x), abs(y - path.origin.y))
    return apart <= TOLERANCE.coincident and sum(path.turns) == 4
