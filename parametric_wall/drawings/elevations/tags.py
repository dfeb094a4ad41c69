"""Marks of cut pieces: length and id, in the piece where they have room, else over the wall.

Pieces of one length that stand one over another share one leader up to their mark over
the wall, with a ring in every one of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from parametric_wall.drawings.dimension_lines import measured_text
from parametric_wall.drawings.elevations.front import Face
from parametric_wall.drawings.lettering import width
from parametric_wall.drawings.placing.boxes import text_box
from parametric_wall.drawings.placing.spread import spread
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Label, Stroke, ViewMark

Span = tuple[float, float]

HEIGHT = 2.5
"""Of the figures, mm of paper."""
LINE = 4.0
"""From one line of a mark to the next, mm of paper."""
INSIDE = 0.7
"""Least distance of a mark in a piece from the piece's edges, mm of paper."""
TAIL = 0.9
"""Of a letter that reaches below its base line, mm of paper."""
RING = 0.5
"""Radius of the ring in a piece, mm of paper."""
RISER, SLANT = 2.0, 6.0
"""Over the wall a leader goes up so far, and slants to its mark up to there, mm of paper."""
FOOT = 1.5
"""The end of a leader, straight under its mark, mm of paper."""
MOST = 4
"""Ids on one line of a mark."""


@dataclass(frozen=True, slots=True)
class Group:
    """Pieces, or places, that one mark tells of.

    Attributes:
        left: their left edge, mm.
        right: their right edge, mm.
        levels: of the middle of each, from the bottom up, mm.
        lines: what the mark says.
        inside: marks inside the pieces; none where they have no room.
    """

    left: float
    right: float
    levels: tuple[float, ...]
    lines: tuple[str, ...]
    inside: tuple[Label, ...] = ()


def cut_groups(
    faces: Iterable[Face], scale: float, sight: Span, bars: Sequence[float] = ()
) -> tuple[Group, ...]:
    """The cut pieces of a run in groups of those that stand one over another.

    Args:
        faces: what is seen of the run.
        scale: mm of the wall on 1 mm of paper.
        sight: between these edges nothing stands before the run, mm.
        bars: levels of lines across the wall, to which no text may come, mm.
    """

    def column(face: Face) -> tuple[float, float, float]:
        a, b = face.span
        return round(a, 3), round(b, 3), round(face.length, 3)

    cut = sorted((f for f in faces if f.cut and not f.end), key=lambda f: (column(f), f.rise))
    groups = (tuple(alike) for _, alike in groupby(cut, key=column))
    return tuple(_group(alike, scale, sight, bars) for alike in groups)


def _group(faces: tuple[Face, ...], scale: float, sight: Span, bars: Sequence[float]) -> Group:
    a, b = faces[0].span
    seen = max(a, sight[0]), min(b, sight[1])
    if seen[1] <= seen[0]:  # Wholly behind what comes forward.
        seen = a, b
    length = measured_text(faces[0].length)
    marks = [face.mark for face in faces]
    rows = [marks[i : i + MOST] for i in range(0, len(marks), MOST)]
    lines = tuple(", ".join(row) for row in rows)
    lines = (f"{length}: {lines[0]}", *lines[1:])
    inside = [_inside(face, scale, seen, _free(face, bars)) for face in faces]
    labels = tuple(label for found in inside for label in found) if all(inside) else ()
    levels = tuple(sum(face.rise) / 2 for face in faces)
    return Group(*seen, levels, lines, labels)


def _free(face: Face, bars: Sequence[float]) -> Span:
    """The highest stretch of a piece between the lines across it, its own arris one of them."""
    low, high = face.rise
    across = (*bars, *(face.at[1] + z for _, z in face.arris))
    levels = sorted({low, high, *(z for z in across if low < z < high)})
    return max(pairwise(levels), key=lambda pair: (pair[1] - pair[0], pair))


def _inside(face: Face, scale: float, seen: Span, rise: Span) -> tuple[Label, ...]:
    """A mark inside a piece: on two lines, on one, or on one from below; none without room."""
    (a, b), (c, d) = seen, rise
    wide, high = (b - a) / scale - 2 * INSIDE, (d - c) / scale - 2 * INSIDE
    length = measured_text(face.length)
    x, z = (a + b) / 2, (c + d) / 2
    both = f"{length}: {face.mark}"
    over = max(width(length, HEIGHT), width(face.mark, HEIGHT))
    if over <= wide and high >= LINE + HEIGHT + TAIL:
        up, down = (LINE + TAIL - HEIGHT) / 2 * scale, (LINE + HEIGHT - TAIL) / 2 * scale
        upper = Label("text", (x, z + up), length, HEIGHT, "middle")
        return upper, Label("text", (x, z - down), face.mark, HEIGHT, "middle")
    shift = (HEIGHT - TAIL) / 2 * scale
    if width(both, HEIGHT) <= wide and high >= HEIGHT + TAIL:
        return (Label("text", (x, z - shift), both, HEIGHT, "middle"),)
    if width(both, HEIGHT) <= high and wide >= HEIGHT + TAIL:
        return (Label("text", (x + shift, z), both, HEIGHT, "middle", 90.0),)
    return ()


@dataclass(frozen=True, slots=True)
class Tags:
    """The marks of an elevation.

    Attributes:
        marks: leaders, rings and texts.
        top: how far they reach up, mm.
    """

    marks: tuple[ViewMark, ...]
    top: float


def tags(groups: Sequence[Group], perps: Sequence[float], top: float, scale: float) -> Tags:
    """Marks inside their pieces, and those that have no room there in a row over the wall.

    Args:
        groups: what is marked.
        perps: where upright joints stand: a leader keeps away from them; mm.
        top: of the wall, mm.
        scale: mm of the wall on 1 mm of paper.
    """
    places: dict[int, float] = {}
    todo = [i for i, group in enumerate(groups) if not group.inside]
    while todo:
        for i in todo:
            places[i] = _leader_at(groups[i], perps, list(places.values()), scale)
        kept = [(i, g) for i, g in enumerate(groups) if i not in places]
        todo = [i for i, g in kept if _crossed(g, groups, places, scale)]
    over = sorted(places, key=lambda i: (places[i], groups[i].left))
    inside = [m for i, group in enumerate(groups) if i not in places for m in group.inside]
    sizes = [len(groups[i].lines) * LINE * scale for i in over]
    texts = spread([places[i] for i in over], sizes)
    up = [
        m
        for i, x in zip(over, texts, strict=True)
        for m in _over(groups[i], places[i], x, top, scale)
    ]
    long = max((width(t, HEIGHT) for i in over for t in groups[i].lines), default=0.0)
    reach = top + (SLANT + long) * scale if over else top
    return Tags((*inside, *up), reach)


def _leader_at(group: Group, perps: Sequence[float], taken: Sequence[float], scale: float) -> float:
    """Where in its pieces a leader stands: off the middle where a perp or a leader is near."""
    middle, wide = (group.left + group.right) / 2, group.right - group.left
    tried = [middle + wide * k / 20 for k in (0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6, 7, -7)]

    def clear(x: float) -> float:
        off = min((abs(x - perp) for perp in perps), default=scale)
        beside = min((abs(x - other) for other in taken), default=2 * scale)
        return min(off, beside / 2, scale)

    return max(tried, key=lambda x: (round(clear(x), 3), -abs(x - middle)))


def _crossed(group: Group, groups: Sequence[Group], places: dict[int, float], scale: float) -> bool:
    """Whether a leader would go up through a mark inside a piece."""
    for label in group.inside:
        at = label.at[0] / scale, label.at[1] / scale
        box = text_box(label.text, at, label.height, label.anchor, label.turn_deg)
        left, _, right, high = box.bounds()
        for i, x in places.items():
            begun = groups[i].levels[0] / scale
            if left - INSIDE < x / scale < right + INSIDE and begun < high:
                return True
    return False


def _over(group: Group, x: float, text_x: float, top: float, scale: float) -> Iterator[ViewMark]:
    """One mark over the wall: its texts turned, its leader, its rings."""
    base = top + SLANT * scale
    first = text_x - (len(group.lines) * LINE / 2 - LINE / 2 - HEIGHT / 2) * scale
    foot = first - HEIGHT / 2 * scale, base - FOOT * scale
    points = (x, group.levels[0]), (x, top + RISER * scale), foot
    for k, line in enumerate(group.lines):
        label = Label("text", (first + k * LINE * scale, base), line, HEIGHT, "start", 90.0)
        yield replace(label, leader=points) if k == 0 else label
    for level in group.levels[1:]:
        yield Stroke("text", _ring((x, level), RING * scale), closed=True)


def _ring(at: Point, radius: float) -> tuple[Point, ...]:
    x, y = at
    steps = ((1, 0), (0.7, 0.7), (0, 1), (-0.7, 0.7), (-1, 0), (-0.7, -0.7), (0, -1), (0.7, -0.7))
    return tuple((x + dx * radius, y + dy * radius) for dx, dy in steps)
