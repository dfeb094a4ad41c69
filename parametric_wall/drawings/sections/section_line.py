"""Where a wall's section is taken: in the middle of its longest panel, off the movement joints."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from parametric_wall.drawings.placing.boxes import Box, Segment
from parametric_wall.drawings.placing.clear import Spot, clear_label, label_box
from parametric_wall.drawings.plans.wall_plan import ring
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Label, Stroke
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import WallSetOut

NEAR, FAR = 1.0, 5.0
"""From the footing to the two ends of the line, mm of paper."""
ARROW = 3.0
"""How far its arrows reach the way the section looks, mm of paper."""
LETTER = 3.5
"""Height of its letters, mm of paper."""
ROOM = 10.0
"""What it takes beside the footing, mm of paper."""


@dataclass(frozen=True, slots=True)
class SectionLine:
    """A section's line in a plan.

    Attributes:
        strokes: beside either side of the footing, with the way the section looks.
        room: points that hold it, mm.
        at: middles of its two letters, mm.
    """

    strokes: tuple[Stroke, ...]
    room: tuple[Point, ...]
    at: tuple[Point, ...]

    def letters(
        self, letter: str, scale: float, lines: Sequence[Segment], taken: list[Box]
    ) -> Iterator[Label]:
        """Its letter at either end, clear of the rest; boxes are added to those taken."""
        for (x, y), stroke in zip(self.at, self.strokes[::3], strict=True):
            at = Spot((x, y - LETTER / 2 * scale))
            spots = (at, *ring((x, y), stroke.points[1], scale))
            label = clear_label(
                letter, spots, scale, lines, taken, height=LETTER, layer="section line"
            )
            if label is not None:
                taken.append(label_box(label, scale))
                yield label


def section_line(spec: WallSpec, wall: WallSetOut, scale: float) -> SectionLine:
    """Of a wall that is set out; the section looks back along the run, the front on its left."""
    run = max((laid.run for laid in wall.bonded), key=lambda run: run.length)
    beside = spec.footing.spread_mm if spec.footing else 0.0
    s, t, m = run.length / 2, spec.thickness, scale

    def point(along: float, across: float) -> Point:
        x, y, _ = run.place.point(along, across)
        return x, y

    strokes, room, letters = [], [], []
    for edge, hand in ((-beside, -1.0), (t + beside, 1.0)):
        near, far = edge + hand * NEAR * m, edge + hand * FAR * m
        tip = point(s - ARROW * m, far)
        strokes.append(Stroke("section line", (point(s, near), point(s, far), tip)))
        barbs = (point(s - (ARROW - 1.0) * m, far + b * m) for b in (0.6, -0.6))
        strokes += [Stroke("section line", (tip, barb)) for barb in barbs]
        room.append(point(s, edge + hand * ROOM * m))
        letters.append(point(s + LETTER * m, edge + hand * FAR * m))
    return SectionLine(tuple(strokes), tuple(room), tuple(letters))
