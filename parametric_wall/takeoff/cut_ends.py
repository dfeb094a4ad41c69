"""Which end of a cut piece shows, and so asks for a factory end; and which pieces have a front."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from parametric_wall.geometry import Bar
from parametric_wall.job.coping import CopingLay
from parametric_wall.setting_out.model import Piece, WallSetOut
from parametric_wall.setting_out.runs import CORNERS

Side = Literal["left", "right"]

STOP, SHOWN, HIDDEN = range(3)
"""A stop end or a movement joint; an end that shows at a corner; between two joints."""


@dataclass(frozen=True, slots=True)
class Wish:
    """Where a piece's factory end goes, if it has one, and how strong its claim to one is.

    At an end of a run where nothing shows it goes to the other side, so that the cut
    lies against the return or the existing wall; within a run to the left.

    Attributes:
        rank: STOP, SHOWN or HIDDEN, the strongest first.
        side: as it is seen from the front.
    """

    rank: int = HIDDEN
    side: Side = "left"

    @property
    def must(self) -> bool:
        """Whether no piece without a factory end will do."""
        return self.rank == STOP


def end_wishes(wall: WallSetOut) -> dict[str, Wish]:
    """For the first and the last piece of every row of a wall, by id."""
    found: dict[str, Wish] = {}
    ranks = {"free": STOP, "through": SHOWN}
    for laid in wall.bonded:
        for number, course in enumerate(laid.bond.courses, 1):
            row = f"{wall.name}/{laid.run.name}/c{number:02d}"
            left, right = (ranks.get(m, HIDDEN) for m in course.span.meets)
            found |= _at_ends(row, len(course.pieces), left, right)
    for coped in wall.coped:
        row, run = f"{wall.name}/{coped.run.name}/cop", coped.run
        left = STOP if run.start == "stop" else HIDDEN
        # Of run-through copings the one at the end of a run goes through.
        right = STOP if run.end == "stop" else SHOWN if run.end in CORNERS else HIDDEN
        found |= _at_ends(row, len(coped.lengths), left, right)
    return found


def _at_ends(row: str, last: int, left: int, right: int) -> dict[str, Wish]:
    """Of one row; a piece that is the whole of it has its factory end where it shows most."""
    first = Wish(left, "right" if left == HIDDEN else "left")
    final = Wish(right, "left" if right == HIDDEN else "right")
    if last == 1:
        return {f"{row}/01": min(first, final, key=lambda wish: wish.rank)}
    return {f"{row}/01": first, f"{row}/{last:02d}": final}


def one_way(lay: CopingLay) -> bool:
    """Whether a coping has a front, and cannot be turned round."""
    drip = lay.coping.drip
    return lay.weathering != 0 or (drip is not None and drip.sides != "both")


def mitres(piece: Piece) -> tuple[bool, bool]:
    """Whether the left end of a piece is mitred, and the right one."""
    shape = piece.shape
    if not isinstance(shape, Bar):
        return False, False
    return shape.start.per_u != 0, shape.end.per_u != 0


def mitred(piece: Piece) -> bool:
    """Whether an end of a piece is mitred."""
    return any(mitres(piece))
