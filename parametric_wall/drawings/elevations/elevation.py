"""The elevation of one run: as it is seen from in front of its outer face. All in mm.

x is along the run from its left end, y the level over ground.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from parametric_wall.drawings.dimension_lines import measured_text
from parametric_wall.drawings.elevations.elevation_ground import (
    PAST_END,
    Frame,
    Window,
    below,
    corners,
    frame_of,
    past_end,
)
from parametric_wall.drawings.elevations.elevation_notes import level_table, notes
from parametric_wall.drawings.elevations.front import Face, faces, whole_run
from parametric_wall.drawings.elevations.match_lines import match_lines, windows
from parametric_wall.drawings.elevations.tags import Group, cut_groups, tags
from parametric_wall.drawings.placing.dimensioning import Along, chains
from parametric_wall.drawings.view import Region, Stroke, Symbol, Use, View, ViewMark
from parametric_wall.geometry import rectangle
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import Kind, WallSetOut
from parametric_wall.setting_out.runs import Run

LAYER: dict[Kind, str] = {"block": "blocks", "coping": "copings"}


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
    frame = frame_of(spec, run, scale, window)
    seen = [face for face in faces(spec, wall, run) if frame.shown(*face.span)]
    symbols, uses = _pieces(seen)
    groups = (*cut_groups(seen, scale, _in_sight(spec, run), _bars(spec)), *_joints(seen))
    marked = tags(groups, _perps(seen), spec.gauge.finished, scale)
    edges = [edge for face in seen for edge in face.span]
    left, right = min(frame.left, *edges), max(frame.right, *edges)
    body = (*below(frame), *corners(frame), *uses, *_joint_marks(seen), *_dpc(frame))
    rows, foot = _rows(frame, seen)
    beside_it = (
        *_heights(frame, left),
        *level_table(spec, right, scale),
        *match_lines(frame, marked),
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


def _dpc_level(spec: WallSpec) -> float:
    """The middle of the bed that a damp-proof course lies in."""
    assert spec.dpc is not None
    return spec.gauge.course_base(spec.dpc.under_course) + spec.gauge.bed / 2


def _bars(spec: WallSpec) -> tuple[float, ...]:
    """Levels of the lines across a wall."""
    return (0.0,) if spec.dpc is None else (0.0, _dpc_level(spec))


def _dpc(frame: Frame) -> Iterator[ViewMark]:
    dpc = frame.spec.dpc
    if dpc is not None:
        z = _dpc_level(frame.spec)
        a, b = frame.cut_off(0.0, frame.run.length)
        yield Stroke("limit", ((a, z), (b, z)))


def _rows(frame: Frame, seen: Iterable[Face]) -> tuple[tuple[ViewMark, ...], float]:
    """Dimensions along the foot of the wall, and the level that they reach down to."""
    run, spec = frame.run, frame.spec
    spread = spec.footing.spread_mm if spec.footing else 0.0
    past = [past_end(run, kind, spread) for kind in (run.start, run.end)]
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


def _heights(frame: Frame, left: float) -> tuple[ViewMark, ...]:
    """Dimensions of height, at the left."""
    gauge, footing = frame.spec.gauge, frame.spec.footing
    under = gauge.base - footing.depth_mm if footing else gauge.base
    row = sorted({under, gauge.base, gauge.masonry_top, gauge.finished})
    over = sorted({min(under, 0.0), 0.0, gauge.finished})
    left -= PAST_END * frame.scale
    return chains(Along((left, 0.0), 90.0, 1, frame.scale, first=6.0), [row, over]).dimensions


def _told(frame: Frame, seen: Iterable[Face]) -> str:
    spec, run = frame.spec, frame.run
    cuts = sum(f.cut and not f.end for f in seen)
    part = ""
    if frame.window is not None:
        part = f" from {frame.window[0]:.0f} to {frame.window[1]:.0f} mm"
    return (
        f"Run {run.number} of {spec.name} from in front{part}: {run.length:g} mm long, "
        f"{spec.gauge.courses} courses, {spec.gauge.finished:g} mm over ground, {cuts} cut pieces."
    )


def divided(
    spec: WallSpec, wall: WallSetOut, number: int, scale: float, count: int
) -> tuple[View, ...]:
    """The elevation of a run in so many parts; as `elevation` has it."""
    shown = windows(spec, wall, number, count)
    return tuple(elevation(spec, wall, number, scale, window) for window in shown)
