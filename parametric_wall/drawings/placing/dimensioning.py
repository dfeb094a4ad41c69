"""Chains of dimensions beside an outline: details nearest, overall sizes furthest off.

As is the custom of ISO 129-1. A text that does not fit between its extension lines is
moved off to a free place beside its row, with a leader, so that no text stands over a
line or over another text. What the rows need is told, so that nothing else is put there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, pairwise, product

from parametric_wall.drawings.dimension_lines import (
    ABOVE,
    CLEAR,
    PAST,
    leader_end,
    measured_text,
    upright,
)
from parametric_wall.drawings.lettering import width
from parametric_wall.drawings.placing.boxes import Box, Segment
from parametric_wall.drawings.sheet import Point, Text
from parametric_wall.drawings.view import Dimension
from parametric_wall.geometry import TOLERANCE, direction

Span = tuple[float, float]
"""From where to where along an outline, mm."""

FIRST = 8.0
"""From the outline to the first row, at the least."""
APART = 2.0
"""From what one row reaches to the next."""
BESIDE = 1.2
"""Between a text and the lines and texts beside it."""
LANE = 4.0
"""From one line of moved texts to the next, for a capital of 2.5."""
LANES = 12
"""Lines of moved texts beside a row that are tried."""
SHIFT = 48
"""How far along a text is moved at the most."""

PLACES = sorted(
    product(range(LANES), (s * d for d in range(SHIFT + 1) for s in (1, -1))),
    key=lambda place: (place[0] * LANE + abs(place[1]), place),
)
"""Lane and shift along of the places tried, the nearest first."""


@dataclass(frozen=True, slots=True)
class Along:
    """The outline along which dimensions are taken.

    Attributes:
        origin: where its distances are measured from, mm.
        turn_deg: direction measured in, anticlockwise from x.
        side: 1 where the rows stand to the left of that direction, -1 to the right.
        scale: mm of the wall on 1 mm of paper.
        first: from the outline to the first row, mm of paper.
        height: of the figures, mm of paper.
        layer: of the dimensions.
    """

    origin: Point
    turn_deg: float
    side: int
    scale: float
    first: float = FIRST
    height: float = 2.5
    layer: str = "dimensions"

    def point(self, at: float, off: float) -> Point:
        """A point so far along, mm, and so far off the outline, mm of paper."""
        (c, s), away = direction(self.turn_deg), self.side * off * self.scale
        return self.origin[0] + c * at - s * away, self.origin[1] + s * at + c * away

    @property
    def outward(self) -> bool:
        """Whether a text that stands over its line stands on the far side of it."""
        c, s = direction(self.turn_deg)
        up_c, up_s = direction(upright(self.turn_deg))
        return (c * up_c + s * up_s) * self.side > 0


@dataclass(frozen=True, slots=True)
class Chains:
    """Rows of dimensions.

    Attributes:
        dimensions: of the first row from the start, then of the next.
        reach: how far they stand off the outline, mm of paper.
    """

    dimensions: tuple[Dimension, ...]
    reach: float


def chains(along: Along, rows: Sequence[Sequence[float]]) -> Chains:
    """Rows of dimensions from place to place along an outline.

    Args:
        along: the outline.
        rows: places along it, mm, in order; the first row stands nearest. A row with
            fewer than two places is left out.
    """
    return spans(along, [tuple(pairwise(_apart(row))) for row in rows])


def spans(along: Along, rows: Sequence[Sequence[Span]]) -> Chains:
    """Rows of dimensions that need not follow one on another.

    Args:
        along: the outline.
        rows: from where to where along it, mm, in order, none over another of its row;
            the first row stands nearest. An empty row is left out.
    """
    found: list[Dimension] = []
    kept = [row for row in rows if row]
    reach = 0.0
    for i, row in enumerate(kept):
        off = reach + (APART if along.outward else APART + ABOVE + along.height)
        off = max(off, along.first) if i == 0 else off
        beyond = {at for later in kept[i + 1 :] for span in later for at in span}
        laid = _Row(along, off, row, beyond)
        found += laid.dimensions(row)
        reach = laid.reach
    return Chains(tuple(found), reach)


def _apart(row: Sequence[float]) -> list[float]:
    """Places in order, each once."""
    kept: list[float] = []
    for at in row:
        if not kept or at - kept[-1] > TOLERANCE.coincident:
            kept.append(at)
    return kept


class _Row:
    """One row on paper: distances along the outline and off it, mm of paper."""

    def __init__(self, along: Along, off: float, row: Sequence[Span], beyond: set[float]) -> None:
        self.along, self.off = along, off
        self.reach = off + max(PAST, ABOVE + along.height if along.outward else 0.0)
        self.texts: list[Box] = []
        past = [(at / along.scale, off + PAST) for span in row for at in span]
        far = [(at / along.scale, off + LANE * LANES) for at in sorted(beyond)]
        self.beyond: list[Segment] = [((t, 0.0), (t, end)) for t, end in far]
        self.lines = [((t, 0.0), (t, end)) for t, end in past] + self.beyond

    def dimensions(self, row: Sequence[Span]) -> Iterator[Dimension]:
        """The dimensions of the row; texts that fit are placed before those that do not."""
        stays = [self._stays(a, b) for a, b in row]
        for (a, b), stay in zip(row, stays, strict=True):
            yield self._dimension(a, b, None if stay else self._moved(a, b))

    def _stays(self, a: float, b: float) -> bool:
        """Whether a text fits between extension lines; then it takes its place."""
        wide = width(measured_text(b - a), self.along.height)
        if wide > (b - a) / self.along.scale - 2 * BESIDE:
            return False
        low = self.off + (ABOVE if self.along.outward else -ABOVE - self.along.height)
        box = self._box((a + b) / 2 / self.along.scale, low, wide)
        if any(box.crossed(line) for line in self.beyond):
            return False
        self.texts.append(box)
        return True

    def _box(self, middle: float, low: float, wide: float) -> Box:
        a, b = middle - wide / 2 - BESIDE, middle + wide / 2 + BESIDE
        high = low + self.along.height
        return Box("", ((a, low), (b, low), (b, high), (a, high)))

    def _moved(self, a: float, b: float) -> Point:
        """A free place for a text beside the row, as along the outline and off it."""
        text, middle = measured_text(b - a), (a + b) / 2 / self.along.scale
        wide = width(text, self.along.height)
        begun = self.off + (ABOVE + self.along.height if self.along.outward else PAST) + CLEAR + 0.5

        def at(place: float, low: float) -> tuple[float, Box, Segment]:
            written = Text("text", (place, low), text, self.along.height, "middle")
            leader = (middle, self.off), leader_end(written, (middle, self.off))
            return place, self._box(place, low, wide), leader

        steps = (at(middle + shift, begun + lane * LANE) for lane, shift in PLACES)
        places = product(range(LANES), self._gaps(middle))
        gaps = (at(place, begun + lane * LANE) for lane, place in places)
        # Where even the furthest place is taken: off everything that stands.
        last = at(middle, max([begun, *(t.corners[2][1] + LANE for t in self.texts)]))
        tried = (x for x in chain(steps, gaps) if self._free(x[1], x[2]))
        place, box, leader = next(tried, last)
        self.texts.append(box)
        self.lines.append(leader)
        top = box.corners[2][1]
        self.reach = max(self.reach, top + CLEAR)
        return place, box.corners[0][1] if self.along.outward else top

    def _free(self, box: Box, leader: Segment) -> bool:
        """Whether a text may stand in a box, and its leader come to it."""
        texts = any(box.meets(text) or text.crossed(leader) for text in self.texts)
        return not texts and not any(box.crossed(line) for line in self.lines)

    def _gaps(self, middle: float) -> list[float]:
        """The middles between lines of rows further off, the nearest first."""
        lines = sorted({line[0][0] for line in self.beyond})
        return sorted(((a + b) / 2 for a, b in pairwise(lines)), key=lambda t: abs(t - middle))

    def _dimension(self, a: float, b: float, moved: Point | None) -> Dimension:
        along = self.along
        text_at = None if moved is None else along.point(moved[0] * along.scale, moved[1])
        start, end, through = along.point(a, 0.0), along.point(b, 0.0), along.point(a, self.off)
        return Dimension(along.layer, start, end, through, along.turn_deg, text_at, along.height)
