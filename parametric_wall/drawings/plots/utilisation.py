"""How far the wind uses a wall up, along its length: the wall unrolled, as a sheet."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from parametric_wall.checks.calculation import shown_ratio
from parametric_wall.checks.wind_section import Reading, readings, section_of
from parametric_wall.drawings.sheet import Anchor, Area, Line, Mark, Point, Sheet, Text
from parametric_wall.job.model import Masonry, Wind
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.runs import CORNERS, EndKind, Run, runs_of

WIDTH, HEIGHT = 170.0, 84.0
LEFT, RIGHT = 15.0, 165.0
FLOOR, CEILING = 19.0, 54.0
"""Of the diagram of ratios, paper mm."""
STRIP = (70.0, 74.0)
"""The wall seen from above, stretched out."""
KEY = 6.9
"""The first line of the key, paper mm."""
STEPS = (1.0, 2.0, 5.0)
SMALL = 1.8
LABEL = 6.4
"""Paper mm that the letter and the coefficient of a zone take."""


@dataclass(frozen=True, slots=True)
class _Scale:
    """From mm along the wall and ratios to paper mm."""

    length: float
    most: float

    def x(self, along: float) -> float:
        return LEFT + along / self.length * (RIGHT - LEFT)

    def y(self, ratio: float) -> float:
        """The place of a ratio; the top of the diagram where nothing resists."""
        if math.isinf(ratio):
            return CEILING
        return FLOOR + ratio / self.most * (CEILING - FLOOR)


def utilisation_sheet(
    spec: WallSpec, wind: Wind, masonry: Masonry, beside: tuple[str, ...] = ()
) -> Sheet:
    """A diagram of overturning and bending along a free-standing wall, zone by zone.

    Args:
        spec: the wall.
        wind: on it.
        masonry: of its bed joints.
        beside: what a table says of the same wall, in words.
    """
    found, runs = readings(spec, wind, masonry), runs_of(spec)
    ratios = [ratio for r in found for ratio in (r.overturning, r.bending)]
    worst = max((ratio for ratio in ratios if math.isfinite(ratio)), default=1.0)
    step = _step(max(worst, 1.0) * 1.1, 5)
    top = step * (int(max(worst, 1.0) * 1.1 / step) + 1)
    scale = _Scale(sum(run.length for run in runs), top)
    marks = (
        *_axes(scale, runs, step),
        Text("text", ((LEFT + RIGHT) / 2, STRIP[1] + 5.5), f"wind on {spec.name}", SMALL, "middle"),
        *_strip(scale, runs, found),
        *_labels(scale, found),
        *_curve("curve", scale, found, lambda r: r.overturning),
        *_curve("second curve", scale, found, lambda r: r.bending),
        *_key(found, beside),
    )
    title = f"Wind along {spec.name}: how far it is used up"
    told = _told(spec, wind, masonry, found)
    return Sheet("wind", title, told, WIDTH, HEIGHT, marks)


def _step(span: float, most: int) -> float:
    """The least of 1, 2, 5, 10, ... and their tenths that divides a span into so many at most."""
    power = 10.0**-3
    while True:
        for digit in STEPS:
            if span / (digit * power) <= most:
                return digit * power
        power *= 10


def _axes(scale: _Scale, runs: Sequence[Run], step: float) -> Iterator[Mark]:
    n = round(scale.most / step)
    for i in range(n + 1):
        y = scale.y(i * step)
        yield Line("grid", ((LEFT, y), (RIGHT, y)))
        yield Text("text", (LEFT - 1.5, y - 0.9), f"{i * step:g}", SMALL, "end")
    middle = (FLOOR + CEILING) / 2
    yield Text("text", (4.5, middle), "effect / resistance", SMALL, "middle", 90.0)
    yield Line("axis", ((LEFT, CEILING), (LEFT, FLOOR), (RIGHT, FLOOR)))
    yield Line("limit", ((LEFT, scale.y(1)), (RIGHT, scale.y(1))))
    every = _step(scale.length / 1000, 10)
    for i in range(int(scale.length / 1000 / every + 1e-9) + 1):
        x = scale.x(i * every * 1000)
        yield Line("axis", ((x, FLOOR), (x, FLOOR - 1.2)))
        yield Text("text", (x, FLOOR - 4.0), f"{i * every:g}", SMALL, "middle")
    yield Text("text", ((LEFT + RIGHT) / 2, FLOOR - 8.0), "m along the wall", SMALL, "middle")
    before = 0.0
    for run in runs[:-1]:
        before += run.length
        yield Line("grid", ((scale.x(before), FLOOR), (scale.x(before), CEILING)))


def _strip(scale: _Scale, runs: Sequence[Run], found: Sequence[Reading]) -> Iterator[Mark]:
    """The wall unrolled, its zones and its runs' names."""
    low, high = STRIP
    a, b = scale.x(0), scale.x(scale.length)
    yield Area("masonry", ((a, low), (b, low), (b, high), (a, high)))
    for r in found:
        x = scale.x(r.zone.before + r.zone.start)
        yield Line("outline", ((x, low), (x, high)))
    yield Line("outline", ((a, low), (b, low), (b, high), (a, high)), closed=True)
    before = 0.0
    for run in runs:
        middle = scale.x(before + run.length / 2)
        wide = scale.x(before + run.length) - scale.x(before)
        for text in (f"{run.name}, {run.length / 1000:.2f} m", run.name):
            if len(text) * SMALL <= wide:
                yield Text("text", (middle, high + 1.5), text, SMALL, "middle")
                break
        before += run.length
    ends: tuple[tuple[float, EndKind, Anchor], ...] = (
        (a, runs[0].start, "start"),
        (b, runs[-1].end, "end"),
    )
    for x, kind, anchor in ends:
        name = "corner" if kind in CORNERS else "existing wall" if kind != "stop" else "free end"
        yield Text("text", (x, high + 5.5), name, SMALL, anchor)


def _labels(scale: _Scale, found: Sequence[Reading]) -> Iterator[Mark]:
    """Letter and coefficient of every zone, moved apart; the least pressed are left out first."""
    room = int((RIGHT - LEFT) / LABEL)
    kept = sorted(sorted(found, key=lambda r: -r.zone.cp)[:room], key=_middle)
    wanted = [scale.x(_middle(r)) for r in kept]
    for r, x, at in zip(kept, wanted, _apart(wanted), strict=True):
        yield Line("grid", ((x, STRIP[0]), (at, STRIP[0] - 3.5)))
        yield Text("text", (at, STRIP[0] - 6.0), r.zone.zone, SMALL, "middle")
        yield Text("text", (at, STRIP[0] - 9.0), f"{r.zone.cp:.2f}", SMALL, "middle")
    yield Text("text", (LEFT - 1.5, STRIP[0] - 6.0), "zone", SMALL, "end")
    yield Text("text", (LEFT - 1.5, STRIP[0] - 9.0), "cp,net", SMALL, "end")


def _middle(r: Reading) -> float:
    return r.zone.before + (r.zone.start + r.zone.end) / 2


def _apart(wanted: list[float]) -> list[float]:
    """Places as near to those wanted as a label's room allows, within the diagram."""
    placed: list[float] = []
    for x in wanted:
        placed.append(max(x, placed[-1] + LABEL if placed else LEFT + LABEL / 2))
    last = RIGHT - LABEL / 2
    for i in range(len(placed) - 1, -1, -1):
        placed[i] = min(placed[i], last)
        last = placed[i] - LABEL
    return placed


def _curve(
    layer: str, scale: _Scale, found: Sequence[Reading], ratio: Callable[[Reading], float]
) -> Iterator[Mark]:
    """The ratio as steps."""
    points: list[Point] = []
    for r in found:
        y = scale.y(ratio(r))
        points += [
            (scale.x(r.zone.before + r.zone.start), y),
            (scale.x(r.zone.before + r.zone.end), y),
        ]
    corners = [a for a, b in pairwise(points) if a != b]
    yield Line(layer, (*corners, points[-1]))


def _key(found: Sequence[Reading], beside: Sequence[str]) -> Iterator[Mark]:
    """What the lines mean, and how far each reaches."""
    turned, bent = max(r.overturning for r in found), max(r.bending for r in found)
    rows = (
        (
            "curve",
            LEFT,
            KEY,
            f"overturning, weight alone, worst level: {_most(turned)}",
        ),
        ("second curve", LEFT, KEY - 3.0, f"bending, lowest bed joint: {_most(bent)}"),
        ("limit", RIGHT - 20.0, KEY, "limit"),
    )
    for layer, x, y, words in rows:
        yield Line(layer, ((x, y + 0.9), (x + 9, y + 0.9)))
        yield Text("text", (x + 10.5, y), words, SMALL)
    for words in beside:
        yield Text("text", (LEFT, KEY - 6.0), words, SMALL)


def _most(ratio: float) -> str:
    return f"up to {ratio:.2f}" if math.isfinite(ratio) else shown_ratio(ratio)


def _told(spec: WallSpec, wind: Wind, masonry: Masonry, found: Sequence[Reading]) -> str:
    section = section_of(spec, masonry, wind.solidity)
    head = (
        f"The wall is {section.exposed / 1000:.2f} m high and {section.thickness:g} mm thick. "
        "Along it, effect of the wind over resistance: "
    )
    rows = (
        f"{r.zone.where}: cp,net {r.zone.cp:.2f}, overturning {shown_ratio(r.overturning)}, "
        f"bending {shown_ratio(r.bending)}"
        for r in found
    )
    return head + "; ".join(rows) + ". This does not say that the wall is safe."
