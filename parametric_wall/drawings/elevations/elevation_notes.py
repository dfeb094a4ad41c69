"""What stands beside an elevation in words: the table of levels, and notes under it."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.drawings.dimension_lines import measured_text
from parametric_wall.drawings.elevations.front import beside
from parametric_wall.drawings.lettering import width
from parametric_wall.drawings.levels import levels
from parametric_wall.drawings.placing.spread import spread
from parametric_wall.drawings.view import Label, Stroke, ViewMark
from parametric_wall.job.model import Abutment
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.courses import weep_course
from parametric_wall.setting_out.model import WallSetOut
from parametric_wall.setting_out.runs import Run

HEIGHT = 2.5
ROW = 3.7
"""From one row of the table to the next, at the least, mm of paper."""
LINE = 4.5
"""From one line of the notes to the next, mm of paper."""
OFF, SLANT, GAP = 7.0, 3.0, 3.0
"""From the wall to the lines that lead to the table, their length, between columns."""
HEADS = ("top of", "rise", "over footing", "over ground")


def level_table(spec: WallSpec, right: float, scale: float) -> Iterator[ViewMark]:
    """Levels at the right of a wall: each row at its level, or as near to it as there is room."""
    rows = [
        (x.over_ground, (x.name, _rise(x.rise), measured_text(x.over_base), signed(x.over_ground)))
        for x in levels(spec)
    ]
    if not any(abs(z) < 1e-6 for z, _ in rows):
        rows.append((0.0, ("ground", "", measured_text(-spec.gauge.base), "0")))
    rows.sort(key=lambda row: row[0])
    heads = HEADS if spec.footing else (*HEADS[:2], "over base", HEADS[3])
    wide = [max(width(row[k], HEIGHT) for _, row in rows) for k in range(len(heads))]
    at = spread([z / scale for z, _ in rows], [ROW] * len(rows))
    start = right + (OFF + SLANT + 1.0) * scale
    for (z, row), y in zip(rows, at, strict=True):
        a, b = right + OFF * scale, right + (OFF + SLANT) * scale
        yield Stroke("dimensions", ((a - 3.0 * scale, z), (a, z), (b, y * scale)))
        yield from _row(row, wide, start, (y - HEIGHT / 2) * scale, scale)
    top = (at[-1] + ROW) * scale
    x = start
    for k, head in enumerate(heads):
        edge = x + (HEIGHT if k == 0 else wide[k]) * scale
        yield Label("text", (edge, top), head, HEIGHT, "start", 90.0)
        x += (wide[k] + GAP) * scale


def _row(
    row: tuple[str, ...], wide: list[float], start: float, y: float, scale: float
) -> Iterator[ViewMark]:
    x = start
    for k, text in enumerate(row):
        if text and k == 0:
            yield Label("text", (x, y), text, HEIGHT)
        elif text:
            yield Label("text", (x + wide[k] * scale, y), text, HEIGHT, "end")
        x += (wide[k] + GAP) * scale


def _rise(value: float) -> str:
    return measured_text(value) if value else ""


def signed(value: float) -> str:
    """A level with its sign; ground is 0."""
    return "0" if abs(value) < 1e-6 else f"{'-' if value < 0 else '+'}{measured_text(abs(value))}"


def notes(
    spec: WallSpec, wall: WallSetOut, run: Run, left: float, foot: float, scale: float
) -> Iterator[ViewMark]:
    """Two columns under an elevation: its ends and its gauge, and what its marks mean."""
    x = left
    for column in (tuple(_is(spec, run)), tuple(_means(spec, wall, run))):
        for k, line in enumerate(column):
            yield Label("text", (x, foot - (2.0 + HEIGHT + k * LINE) * scale), line, HEIGHT)
        x += (max(width(line, HEIGHT) for line in (*column, "")) + 2 * GAP) * scale


def _is(spec: WallSpec, run: Run) -> Iterator[str]:
    yield f"Left end: {_end(spec, run, -1)}."
    yield f"Right end: {_end(spec, run, 1)}."
    heights = " and ".join(measured_text(h) for h in dict.fromkeys(spec.gauge.heights))
    count = spec.gauge.courses
    courses = "1 course" if count == 1 else f"{count} courses"
    yield f"{courses}: blocks {heights} high, beds {measured_text(spec.gauge.bed)}."


def _means(spec: WallSpec, wall: WallSetOut, run: Run) -> Iterator[str]:
    own = [piece for piece in wall.pieces if piece.run == run.number]
    kinds = {piece.kind for piece in own}
    if any(piece.cut for piece in own):
        yield "Heavy outline: cut piece, length and course/place."
    if "weep" in kinds:
        yield "Heavy upright: weep hole, a perp left open."
    if spec.weeps is not None and spec.weeps.kind == "tubes":
        course, spacing = weep_course(spec), measured_text(spec.weeps.spacing_mm)
        yield f"Weep tubes through c{course:02d}, at {spacing} centres."
    if spec.dpc is not None:
        yield f"Dashed: damp-proof course under c{spec.dpc.under_course:02d}."
    if "filler" in kinds:
        yield "Movement joints: filled, kept free of mortar."


def _end(spec: WallSpec, run: Run, step: int) -> str:
    kind = run.start if step < 0 else run.end
    other = beside(spec, run, step)
    if other is not None and kind == "convex":
        return f"corner with run {other.number}, its ends seen"
    if other is not None:
        return f"inner corner with run {other.number}, cut through"
    end = spec.path.start if step < 0 else spec.path.end
    if not isinstance(end, Abutment):
        return "stop end"
    fixing = {"ties": "tied", "toothing": "toothed in", "none": "not fixed"}[end.fixing]
    return f"existing wall, {end.joint} joint, {fixing}"
