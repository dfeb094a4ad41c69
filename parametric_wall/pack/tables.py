"""Plain text tables and paragraphs for the screen."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import groupby
from textwrap import wrap
from typing import TYPE_CHECKING

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.export.take_off import bonds_note
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.bond import Course
from parametric_wall.setting_out.corners import Certificate
from parametric_wall.setting_out.model import SettingOut, WallSetOut
from parametric_wall.takeoff.cut_lists import AlikeCuts
from parametric_wall.takeoff.quantities import Quantity
from parametric_wall.units import cubic_metres

if TYPE_CHECKING:
    from parametric_wall.pack.draw import SheetRecord
    from parametric_wall.verify.proof import Row

WIDTH = 96


def table(head: Sequence[str], rows: Iterable[Sequence[str]], left: int = 1) -> str:
    """Columns under a head: the first `left` of them ranged left, the others right."""
    lines = [list(head), *(list(row) for row in rows)]
    widths = [max(len(line[i]) for line in lines) for i in range(len(head))]

    def shown(line: Sequence[str]) -> str:
        cells = [
            text.ljust(width) if i < left else text.rjust(width)
            for i, (text, width) in enumerate(zip(line, widths, strict=True))
        ]
        return "  ".join(cells).rstrip()

    rule = "  ".join("-" * width for width in widths)
    return "\n".join([shown(lines[0]), rule, *map(shown, lines[1:])])


def sheets(records: Sequence[SheetRecord]) -> str:
    """The sheets of a job: on what paper, at what scale, what they show."""
    rows = (
        (
            str(number),
            f"{sheet['width_mm']:g} x {sheet['height_mm']:g}",
            ", ".join(f"1:{scale:g}" for scale in sheet["scales"]),
            sheet["title"],
        )
        for number, sheet in enumerate(records, 1)
    )
    return table(("sheet", "mm", "scale", "shows"), rows, left=4)


def walls(spec: JobSpec, laid: SettingOut) -> str:
    """The walls in a few lines: what they are, how high, how they bond."""
    shown = [_wall(w, p) for w, p in zip(spec.walls, laid.walls, strict=True)]
    certified = [_certificate(name, c) for name, c in laid.certificates]
    note = wrap(bonds_note(laid), WIDTH) if certified else []
    return "\n".join([*shown, *certified, *note])


def _certificate(name: str, found: Certificate) -> str:
    """How many blocks the bonds take, and what can be said for it."""
    if found.proven:
        return f"{found.blocks} blocks {name}; none can do it with fewer"
    return f"{found.blocks} blocks {name}; no bond needs fewer than {found.bound}"


def _wall(spec: WallSpec, placed: WallSetOut) -> str:
    g, b = spec.gauge, spec.block
    runs = " + ".join(f"{x:g}" for x in spec.path.lengths)
    closed = ", closed" if spec.path.closed else ""
    tall = "/".join(f"{h:g}" for h in dict.fromkeys(g.heights))
    size = f"{b.length_mm:g} x {b.width_mm:g} x {tall}"
    marks = "/".join(f"{mark:.4g}" for mark in g.gauges)
    height = f"gauge {marks} (bed {g.bed:.4g}); finishes {g.finished:.0f} above ground"
    lines = [f"{spec.name}: {runs}{closed}; {g.courses} courses of {size}; {height}"]
    for laid in placed.bonded:
        lap = f", smallest lap {laid.bond.lap:.0f}" if laid.bond.lap < math.inf else ""
        bond = laid.bond
        shown = " / ".join(row(c.pieces) for c in bond.courses[: _period(bond.courses)])
        opened = f", perps {bond.courses[0].joint:.4g}" if bond.opened else ""
        lines.append(f"  {laid.run.name}: courses {shown}; {len(bond.cut)} cuts{lap}{opened}")
    lines += [f"  {c.run.name}: copings {row(c.lengths)}" for c in placed.coped]
    return "\n".join(lines)


def _period(courses: Sequence[Course]) -> int:
    """After how many courses a bond begins again."""
    rows = [c.pieces for c in courses]
    periods = (n for n in range(1, len(rows)) if rows[n:] == rows[:-n])
    return next(periods, len(rows))


def row(lengths: Iterable[float]) -> str:
    """A row of lengths, equal neighbours folded: ``215 6x440 215``."""
    folded = [(length, len(list(same))) for length, same in groupby(f"{x:.4g}" for x in lengths)]
    return " ".join(length if n == 1 else f"{n}x{length}" for length, n in folded)


def quantities(lines: tuple[Quantity, ...]) -> str:
    """The take-off as a table."""
    rows = [
        (q.item, q.unit, _number(q.net, q.unit), _number(q.order, q.unit), q.rule) for q in lines
    ]
    return table(("item", "unit", "net", "to order", "rule"), rows, left=2)


def cuts(groups: tuple[AlikeCuts, ...]) -> str:
    """What is to be cut, grouped by length; nothing where every piece is whole."""
    rows = [(g.unit, f"{g.length:.1f}", g.mitred, str(len(g.pieces))) for g in groups]
    return table(("cut from", "length", "mitred end", "pieces"), rows) if rows else ""


def _number(value: float | None, unit: str) -> str:
    if value is None:
        return ""
    digits = {"nr": 0, "kg": 0, "m": 2, "m2": 2}.get(unit, 3)
    return f"{value:.{digits}f}"


def findings(found: tuple[Finding, ...]) -> str:
    """Findings in their grades, the gravest first."""
    parts = []
    for grade in reversed(Grade):
        rows = [f for f in found if f.grade is grade]
        if rows:
            parts.append(f"{grade.value.capitalize()}:")
            parts += [_finding(f) for f in rows]
    return "\n".join(parts)


def _finding(f: Finding) -> str:
    where = f" {f.where}:" if f.where else ""
    lines = wrap(f"{f.code}:{where} {f.message}{_limit(f)}", WIDTH - 4)
    if f.grade is not Grade.KNOW:
        lines += [f"  {line}" for line in wrap(f"{f.next} Ask: {f.meaning.ask}.", WIDTH - 6)]
    return "\n".join(f"  {line}" for line in lines)


def _limit(f: Finding) -> str:
    """The limit in words: the value is on its wrong side."""
    if f.limit is None or f.value is None or not f.unit:
        return ""
    return f" ({'at least' if f.value < f.limit else 'at most'} {f.limit:g} {f.unit})"


def proof(rows: Iterable[Row]) -> str:
    """The four columns, in m3."""
    shown = [
        (
            r.component,
            *(_cubic(v) for v in (r.closed, r.counted, r.solid, r.step)),
            _cubic(r.mesh if r.stl is None else r.stl),
            "yes" if r.agrees else "NO",
        )
        for r in rows
    ]
    head = ("m3", "closed form", "counted", "solid", "STEP", "mesh", "agrees")
    return table(head, shown)


def _cubic(volume: float | None) -> str:
    return "" if volume is None else f"{cubic_metres(volume):.6f}"
