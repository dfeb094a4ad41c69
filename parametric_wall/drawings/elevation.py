"""The elevation of one run: as it is seen from in front of its outer face. All in mm.

x is along the run from its left end, y the level over ground.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from parametric_wall.drawings.dimension_lines import measured_text
from parametric_wall.drawings.dimensioning import Along, chains
from parametric_wall.drawings.elevation_notes import level_table, notes
from parametric_wall.drawings.front import Face, beside, faces, whole_run
from parametric_wall.drawings.tags import Group, cut_groups, tags
from parametric_wall.drawings.view import Label, Region, Stroke, Symbol, Use, View, ViewMark
from parametric_wall.geometry import rectangle
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import Kind, WallSetOut
from parametric_wall.setting_out.runs import CORNERS, EndKind, Run

Window = tuple[float, float]
"""The stretch of a run that one of several sheets shows, mm along the run."""

LAYER: dict[Kind, str] = {"block": "blocks", "coping": "copings"}
PAST_END = 6.0
"""Ground and an existing wall are drawn so far past what stands there, mm of paper."""
STRIP = 2.5
"""Depth of the strip of earth under the ground line, mm of paper."""


@dataclass(frozen=True, slots=True)
class _Frame:
    """What an elevation is drawn from, and between which edges."""

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


def elevation(
    spec: WallSpec, wall: WallSetOut, number: int, scale: float, window: Window | None = None
) -> View:
    """The elevation of a run.

    Args:
        spec: the wall.
        wall: the same, set out.
        number: of the run, as the job file counts its legs.
        scale: mm of the wall on 1 mm of paper.
        window: the stretch to show; all of it without one. Pieces that its edges go
            through are shown whole.
    """
    run = whole_run(spec, number)
    frame = _frame(spec, run, scale, window)
    seen = [face for face in faces(spec, wall, run) if frame.shown(*face.span)]
    symbols, uses = _pieces(seen)
    groups = (*cut_groups(seen, scale, _in_sight(spec, run), _bars(spec)), *_joints(seen))
    marked = tags(groups, _perps(seen), spec.gauge.finished, scale)
    edges = [edge for face in seen for edge in face.span]
    left, right = min(frame.left, *edges), max(frame.right, *edges)
    body = (*_below(frame), *_corners(frame), *uses, *_joint_marks(seen), *_dpc(frame))
    rows, foot = _rows(frame, seen)
    beside_it = (
        *_heights(frame, left),
        *level_table(spec, right, scale),
        *_match_lines(frame, marked.top),
        *notes(spec, wall, run, left, foot, scale),
    )
    part = "" if window is None else f"-from-{max(window[0], 0.0):.0f}"
    return View(
        f"elevation-{spec.name}-r{number}{part}",
        f"{spec.name}, run {number}: elevation",
        _told(frame, seen),
        scale,
        symbols,
        (*body, *marked.marks, *rows, *beside_it),
    )


def _frame(spec: WallSpec, run: Run, scale: float, window: Window | None) -> _Frame:
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
    return _Frame(spec, run, scale, window, left, right, bottom)


def _in_sight(spec: WallSpec, run: Run) -> Window:
    """Between what edges nothing stands before the run: at an inner corner a coping may."""
    over = max(spec.coping.front, 0.0) if spec.coping else 0.0
    return (
        over if run.start == "re-entrant" else -math.inf,
        run.length - over if run.end == "re-entrant" else math.inf,
    )


def _pieces(seen: Iterable[Face]) -> tuple[tuple[Symbol, ...], tuple[Use, ...]]:
    """Blocks and copings, each a symbol of its size in its place."""
    symbols: dict[str, Symbol] = {}
    uses = []
    for face in seen:
        if face.kind not in LAYER:
            continue
        layer = "cut pieces" if face.cut and not face.end else LAYER[face.kind]
        marks = [Stroke(layer, face.outline, closed=True)]
        if face.arris:
            marks.append(Stroke("hatch", face.arris))
        name = _name(face, layer)
        symbol = symbols.setdefault(name, Symbol(name, tuple(marks)))
        if symbol.marks != tuple(marks):  # Ends of one size that are cut to another slope.
            name = f"{name}-{sum(s.startswith(name) for s in symbols) + 1}"
            symbols[name] = Symbol(name, tuple(marks))
        uses.append(Use(layer, name, face.at))
    return tuple(symbols.values()), tuple(uses)


def _name(face: Face, layer: str) -> str:
    a, b = face.span
    c, d = face.rise
    size = f"{measured_text(b - a)}x{measured_text(d - c)}".replace(".", "_")
    what = "cut-" if layer == "cut pieces" else "end-" if face.end else ""
    return f"{what}{face.kind}-{size}"


def _perps(seen: Iterable[Face]) -> tuple[float, ...]:
    return tuple(sorted({edge for f in seen if f.kind in LAYER for edge in f.span}))


def _joint_marks(seen: Iterable[Face]) -> Iterator[ViewMark]:
    """Weep holes and fillers."""
    for face in seen:
        (a, b), (c, d) = face.span, face.rise
        if face.kind == "weep":
            yield Stroke("weep holes", (((a + b) / 2, c), ((a + b) / 2, d)))
        elif face.kind == "filler":
            yield Region("existing", rectangle(b - a, d - c, a, c), "cut")


def _joints(seen: Iterable[Face]) -> Iterator[Group]:
    """A mark for every movement joint: its fillers stand one over another."""
    columns = sorted(
        {tuple(round(s, 6) for s in f.span) for f in seen if f.kind == "filler" and f.course}
    )
    done: list[float] = []
    for a, b in columns:
        if done and a - done[-1] < 50.0:  # The joint in the copings may be of another width.
            continue
        done.append(a)
        rise = [f.rise for f in seen if f.kind == "filler" and abs(f.span[0] - a) < 50.0]
        level = (min(c for c, _ in rise) + max(d for _, d in rise)) / 2
        yield Group(a, b, (level,), (f"movement joint {measured_text(b - a)}",))


def _below(frame: _Frame) -> Iterator[ViewMark]:
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
    a, b = -_past_end(run, run.start, spread), run.length + _past_end(run, run.end, spread)
    top, under = spec.gauge.base, spec.gauge.base - deep
    low, high = frame.cut_off(a, b)
    yield Stroke("hidden lines", ((low, top), (high, top)))
    yield Stroke("hidden lines", ((low, under), (high, under)))
    for x in (a, b):
        if frame.shown(x - 1.0, x + 1.0):
            yield Stroke("hidden lines", ((x, under), (x, top)))


def _past_end(run: Run, kind: EndKind, spread: float) -> float:
    """How far a footing is seen past an end of its run."""
    inner = run.thickness + spread
    return {"stop": spread, "convex": spread, "re-entrant": inner}.get(kind, 0.0)


def _body(run: Run) -> tuple[float, float]:
    """Where masonry stands, that of a run that comes forward at a re-entrant corner included."""
    t = run.thickness
    a, b = -t if run.start == "re-entrant" else 0.0, t if run.end == "re-entrant" else 0.0
    return a, run.length + b


def _corners(frame: _Frame) -> Iterator[ViewMark]:
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


def _cut_through(frame: _Frame, at: float, step: int) -> Iterator[ViewMark]:
    spec, run = frame.spec, frame.run
    gauge, t = spec.gauge, run.thickness
    assert beside(spec, run, step) is not None
    left = at - t if step < 0 else at
    yield Region("blocks", rectangle(t, gauge.masonry, left, gauge.base), "cut")
    if spec.coping is not None:
        section = spec.coping.section(gauge.bed)
        points = tuple((at + step * u, gauge.masonry_top + z) for u, z in section)
        yield Region("copings", points, "cut")


def _dpc_level(spec: WallSpec) -> float:
    """The middle of the bed that a damp-proof course lies in."""
    assert spec.dpc is not None
    return spec.gauge.course_base(spec.dpc.under_course) + spec.gauge.bed / 2


def _bars(spec: WallSpec) -> tuple[float, ...]:
    """Levels of the lines across a wall."""
    return (0.0,) if spec.dpc is None else (0.0, _dpc_level(spec))


def _dpc(frame: _Frame) -> Iterator[ViewMark]:
    dpc = frame.spec.dpc
    if dpc is not None:
        z = _dpc_level(frame.spec)
        a, b = frame.cut_off(0.0, frame.run.length)
        yield Stroke("limit", ((a, z), (b, z)))


def _rows(frame: _Frame, seen: Iterable[Face]) -> tuple[tuple[ViewMark, ...], float]:
    """Dimensions along the foot of the wall, and the level that they reach down to."""
    run, spec = frame.run, frame.spec
    spread = spec.footing.spread_mm if spec.footing else 0.0
    past = [_past_end(run, kind, spread) for kind in (run.start, run.end)]
    fillers = (f for f in seen if f.kind == "filler" and f.course <= spec.gauge.courses)
    joints = sorted({0.0, run.length, *(s for f in fillers for s in f.span)})
    footing = [-past[0], 0.0, run.length, run.length + past[1]]
    rows = [joints, footing, [footing[0], footing[-1]]]
    if frame.window is not None:
        low, high = frame.window
        rows = [sorted({low, high, *(s for s in (*joints, *footing) if low < s < high)})]
        rows = [[s for s in row if frame.left <= s <= frame.right] for row in rows]
    rows = [row for i, row in enumerate(rows) if _once(row) not in [_once(r) for r in rows[:i]]]
    if len(rows) > 1 and not set(rows[0]) - set(rows[1]):
        rows = rows[1:]
    laid = chains(Along((0.0, frame.bottom), 0.0, -1, frame.scale), rows)
    return laid.dimensions, frame.bottom - laid.reach * frame.scale


def _once(row: Iterable[float]) -> list[float]:
    return sorted(set(row))


def _heights(frame: _Frame, left: float) -> tuple[ViewMark, ...]:
    """Dimensions of height, at the left."""
    gauge, footing = frame.spec.gauge, frame.spec.footing
    under = gauge.base - footing.depth_mm if footing else gauge.base
    row = sorted({under, gauge.base, gauge.masonry_top, gauge.finished})
    over = sorted({min(under, 0.0), 0.0, gauge.finished})
    left -= PAST_END * frame.scale
    return chains(Along((left, 0.0), 90.0, 1, frame.scale, first=6.0), [row, over]).dimensions


def _match_lines(frame: _Frame, top: float) -> Iterator[ViewMark]:
    """Where the drawing goes on, on another sheet."""
    if frame.window is None:
        return
    high = max(top, frame.spec.gauge.finished) + 4.0 * frame.scale
    for x, edge in zip(frame.window, (0.0, frame.run.length), strict=True):
        inside = x > edge if edge == 0.0 else x < edge
        if inside:
            yield Stroke("match line", ((x, frame.bottom), (x, high)))
            text = f"match line at {measured_text(x)}"
            yield Label("text", (x, high + frame.scale), text, 2.5, "middle")


def _told(frame: _Frame, seen: Iterable[Face]) -> str:
    spec, run = frame.spec, frame.run
    cuts = sum(f.cut and not f.end for f in seen)
    part = ""
    if frame.window is not None:
        part = f" from {frame.window[0]:.0f} to {frame.window[1]:.0f} mm"
    return (
        f"Run {run.number} of {spec.name} from in front{part}: {run.length:g} mm long, "
        f"{spec.gauge.courses} courses, {spec.gauge.finished:g} mm over ground, {cuts} cut pieces."
    )


def windows(spec: WallSpec, wall: WallSetOut, number: int, count: int) -> tuple[Window, ...]:
    """A run in so many stretches of about one length, between match lines.

    A match line goes through as few cut pieces as it can, and as far from perps.
    """
    run = whole_run(spec, number)
    seen = [f for f in faces(spec, wall, run) if f.kind in LAYER and not f.end]
    past = run.thickness + (spec.footing.spread_mm if spec.footing else 0.0) + spec.block.length_mm
    inner = (run.length * k / count for k in range(1, count))
    places = (_match_place(seen, target, spec.block.length_mm) for target in inner)
    return tuple(pairwise((-past, *places, run.length + past)))


def divided(
    spec: WallSpec, wall: WallSetOut, number: int, scale: float, count: int
) -> tuple[View, ...]:
    """The elevation of a run in so many parts; as `elevation` has it."""
    shown = windows(spec, wall, number, count)
    return tuple(elevation(spec, wall, number, scale, window) for window in shown)


def _match_place(seen: Iterable[Face], target: float, block: float) -> float:
    near = [f for f in seen if abs(sum(f.span) / 2 - target) < 3 * block]
    tried = [round(target + block * k / 20) for k in range(-20, 21)]

    def worth(x: float) -> tuple[int, float, float]:
        cuts = sum(f.cut and f.span[0] < x < f.span[1] for f in near)
        off = min((abs(x - s) for f in near for s in f.span), default=0.0)
        return -cuts, min(off, block / 8), -abs(x - target)

    return float(max(tried, key=worth))
