"""What an elevation stands in: its frame, the ground, the footing, and what its run meets. mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from parametric_wall.drawings.elevations.front import beside
from parametric_wall.drawings.view import Region, Stroke, ViewMark
from parametric_wall.geometry import rectangle
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.runs import CORNERS, EndKind, Run

Window = tuple[float, float]
"""The stretch of a run that one of several sheets shows, mm along the run."""

PAST_END = 6.0
"""Ground and an existing wall are drawn so far past what stands there, mm of paper."""
STRIP = 2.5
"""Depth of the strip of earth under the ground line, mm of paper."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What an elevation is drawn from, and between which edges.

    Attributes:
        spec: the wall.
        run: the run.
        scale: mm of the wall on 1 mm of paper.
        window: the stretch that is shown; None for all of it.
        left: of all that is built.
        right: of the same.
        bottom: lowest level drawn.
    """

    spec: WallSpec
    run: Run
    scale: float
    window: Window | None
    left: float
    right: float
    bottom: float

    def shown(self, a: float, b: float) -> bool:
        """Whether some of a stretch is on this sheet."""
        return self.window is None or (b > self.window[0] and a < self.window[1])

    def cut_off(self, a: float, b: float) -> tuple[float, float]:
        """As much of a stretch as is on this sheet."""
        low, high = self.window or (a, b)
        return max(a, low), min(b, high)


def frame_of(spec: WallSpec, run: Run, scale: float, window: Window | None) -> Frame:
    """The frame of a run's elevation."""
    spread = spec.footing.spread_mm if spec.footing else 0.0
    over = max(spec.coping.front, spec.coping.coping.overhang_end_mm) if spec.coping else 0.0
    past = {
        "stop": max(spread, over),
        "convex": max(spread, over),
        "re-entrant": run.thickness + max(spread, over),
    }
    left = -past.get(run.start, PAST_END * scale)
    right = run.length + past.get(run.end, PAST_END * scale)
    if window is not None:
        left, right = max(left, window[0]), min(right, window[1])
    deep = spec.footing.depth_mm if spec.footing else 0.0
    bottom = min(spec.gauge.base - deep, -STRIP * scale)
    return Frame(spec, run, scale, window, left, right, bottom)


def below(frame: Frame) -> Iterator[ViewMark]:
    """Ground, earth beside the wall, and the footing below it."""
    spec, run, scale = frame.spec, frame.run, frame.scale
    ends = frame.left - PAST_END * scale, frame.right + PAST_END * scale
    if frame.window is not None:
        ends = max(ends[0], frame.window[0]), min(ends[1], frame.window[1])
    yield Stroke("ground", ((ends[0], 0.0), (ends[1], 0.0)))
    wall_a, wall_b = _body(run)
    for a, b in ((ends[0], min(wall_a, ends[1])), (max(wall_b, ends[0]), ends[1])):
        if b > a:
            yield Region("hatch", rectangle(b - a, STRIP * scale, a, -STRIP * scale), "earth")
    if spec.footing is None:
        base = spec.gauge.base
        yield Stroke("existing", ((frame.left, base), (frame.right, base)))
        return
    spread, deep = spec.footing.spread_mm, spec.footing.depth_mm
    a, b = -past_end(run, run.start, spread), run.length + past_end(run, run.end, spread)
    top, under = spec.gauge.base, spec.gauge.base - deep
    low, high = frame.cut_off(a, b)
    yield Stroke("hidden lines", ((low, top), (high, top)))
    yield Stroke("hidden lines", ((low, under), (high, under)))
    for x in (a, b):
        if frame.shown(x - 1.0, x + 1.0):
            yield Stroke("hidden lines", ((x, under), (x, top)))


def past_end(run: Run, kind: EndKind, spread: float) -> float:
    """How far a footing is seen past an end of its run."""
    inner = run.thickness + spread
    return {"stop": spread, "convex": spread, "re-entrant": inner}.get(kind, 0.0)


def _body(run: Run) -> tuple[float, float]:
    """Where masonry stands, that of a run that comes forward at a re-entrant corner included."""
    t = run.thickness
    a, b = -t if run.start == "re-entrant" else 0.0, t if run.end == "re-entrant" else 0.0
    return a, run.length + b


def corners(frame: Frame) -> Iterator[ViewMark]:
    """Runs that come forward at a re-entrant corner, cut through, and existing walls."""
    run, scale, gauge = frame.run, frame.scale, frame.spec.gauge
    top, wide = gauge.finished, PAST_END * scale
    for kind, at, step in ((run.start, 0.0, -1), (run.end, run.length, 1)):
        if not frame.shown(at - 1.0, at + 1.0):
            continue
        if kind == "re-entrant":
            yield from _cut_through(frame, at, step)
        elif kind not in CORNERS and kind != "stop":
            a = at - wide if step < 0 else at
            yield Region("hatch", rectangle(wide, top - frame.bottom, a, frame.bottom), "cut")
            yield Stroke("existing", ((at, frame.bottom), (at, top)))


def _cut_through(frame: Frame, at: float, step: int) -> Iterator[ViewMark]:
    spec, run = frame.spec, frame.run
    gauge, t = spec.gauge, run.thickness
    assert beside(spec, run, step) is not None
    left = at - t if step < 0 else at
    yield Region("blocks", rectangle(t, gauge.masonry, left, gauge.base), "cut")
    if spec.coping is not None:
        section = spec.coping.section(gauge.bed)
        points = tuple((at + step * u, gauge.masonry_top + z) for u, z in section)
        yield Region("copings", points, "cut")
