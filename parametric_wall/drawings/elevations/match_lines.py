"""Match lines: where an elevation goes on, on another sheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from parametric_wall.drawings.dimension_lines import measured_text
from parametric_wall.drawings.elevations.elevation_ground import Frame, Window
from parametric_wall.drawings.elevations.front import Face, faces, whole_run
from parametric_wall.drawings.elevations.tags import RISER, Tags
from parametric_wall.drawings.sheet import Anchor
from parametric_wall.drawings.view import Label, Stroke, ViewMark
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import WallSetOut

OVER = 4.0
"""A match line reaches so far over everything, mm of paper."""
BESIDE = 4.0
"""Where a mark over the wall stands nearer, the line is broken, mm of paper."""


def match_lines(frame: Frame, tags: Tags) -> Iterator[ViewMark]:
    """The match lines of a part, each with its distance from the left end of the run."""
    if frame.window is None:
        return
    finished, scale = frame.spec.gauge.finished, frame.scale
    high = max(tags.top, finished) + OVER * scale
    ends: tuple[Anchor, Anchor] = ("start", "end")
    for x, anchor in zip(frame.window, ends, strict=True):
        if not 0.0 < x < frame.run.length:
            continue
        labels = (mark for mark in tags.marks if isinstance(mark, Label) and mark.turn_deg)
        crowded = any(abs(label.at[0] - x) < BESIDE * scale for label in labels)
        breaks = [finished + RISER * scale, high - scale] if crowded else []
        for a, b in zip((frame.bottom, *breaks[1:]), (*breaks[:1], high), strict=True):
            yield Stroke("match line", ((x, a), (x, b)))
        text = f"match line at {measured_text(x)}"
        yield Label("text", (x, high + scale), text, 2.5, anchor)


def windows(spec: WallSpec, wall: WallSetOut, number: int, count: int) -> tuple[Window, ...]:
    """A run in so many stretches of about one length, between match lines.

    A match line goes through as few cut pieces as it can, and as far from perps.
    """
    run = whole_run(spec, number)
    seen = [f for f in faces(spec, wall, run) if f.kind in ("block", "coping") and not f.end]
    past = run.thickness + (spec.footing.spread_mm if spec.footing else 0.0) + spec.block.longest
    inner = (run.length * k / count for k in range(1, count))
    places = (_match_place(seen, target, spec.block.longest) for target in inner)
    return tuple(pairwise((-past, *places, run.length + past)))


def _match_place(seen: Iterable[Face], target: float, block: float) -> float:
    near = [f for f in seen if abs(sum(f.span) / 2 - target) < 3 * block]
    tried = [round(target + block * k / 20) for k in range(-20, 21)]

    def worth(x: float) -> tuple[int, float, float]:
        cuts = sum(f.cut and f.span[0] < x < f.span[1] for f in near)
        off = min((abs(x - s) for f in near for s in f.span), default=0.0)
        return -cuts, min(off, block / 8), -abs(x - target)

    return float(max(tried, key=worth))
