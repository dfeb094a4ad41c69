"""The part of the page that is read and printed: quantities, sizes, cautions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.export.finding_records import NOTE
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.model import SettingOut, WallSetOut
from parametric_wall.takeoff.quantities import Quantity

DIGITS = {"nr": 0, "kg": 0, "m": 2, "m2": 2, "m3": 3}
"""Digits after the point, by unit."""
UNITS = {"m2": "m²", "m3": "m³"}


def facts(
    spec: JobSpec, laid: SettingOut, findings: tuple[Finding, ...], lines: tuple[Quantity, ...]
) -> str:
    """Three sections of HTML, every text escaped."""
    walls = list(zip(spec.walls, laid.walls, strict=True))
    left = _quantities(lines) + _courses(walls)
    right = _sizes(spec.walls) + _cautions(spec, findings)
    return f"<div>{left}</div>\n<div>{right}</div>"


def _quantities(lines: tuple[Quantity, ...]) -> str:
    rows = [
        (
            _first_upper(line.item),
            _number(line.net, line.unit),
            "" if line.order is None else _number(line.order, line.unit),
            UNITS.get(line.unit, line.unit),
        )
        for line in lines
    ]
    head = ("Item", "As built", "To order", "Unit")
    return _section("quantities", "Quantities", _table(head, rows, numbers=(1, 2)))


def _courses(walls: list[tuple[WallSpec, WallSetOut]]) -> str:
    """Blocks and copings of every layer, whole and cut: the view in words."""
    rows = []
    for wall, placed in walls:
        layers: dict[int, list[bool]] = {}
        for piece in placed.pieces:
            if piece.kind in ("block", "coping"):
                layers.setdefault(piece.course, []).append(piece.cut)
        for course, cut in sorted(layers.items()):
            name = "copings" if course > wall.gauge.courses else f"course {course}"
            label = f"{wall.name}, {name}" if len(walls) > 1 else _first_upper(name)
            rows.append((label, str(len(cut) - sum(cut)), str(sum(cut))))
    head = ("Laid in this order", "Whole", "Cut")
    return _section("courses", "Course by course", _table(head, rows, numbers=(1, 2)))


def _sizes(walls: Iterable[WallSpec]) -> str:
    rows = []
    for wall in walls:
        runs = " + ".join(f"{length:g}" for length in wall.path.lengths)
        block = wall.block
        long = "/".join(f"{length:g}" for length in block.lengths)
        tall = "/".join(f"{height:g}" for height in dict.fromkeys(wall.gauge.heights))
        rows += [
            (f"{wall.name}: along the outer face", runs),
            (f"{wall.name}: finished height above ground", f"{wall.gauge.finished:.0f}"),
            (f"{wall.name}: thickness", f"{wall.thickness:g}"),
            (f"{wall.name}: block", f"{long} × {block.width_mm:g} × {tall}"),
        ]
    return _section("sizes", "Sizes", _table(("Size", "mm"), rows, numbers=(1,)))


def _cautions(spec: JobSpec, findings: tuple[Finding, ...]) -> str:
    items = "".join(_caution(f) for f in findings)
    designed = " ".join(spec.job.designed_by.split())
    rests = (
        f"<p>Past the common limits, the job rests on the design that its file names: "
        f"<bdi>{escape(designed)}</bdi>.</p>"
        if any(f.designed for f in findings)
        else ""
    )
    note = f"<p>{escape(NOTE)}</p>"
    return _section("cautions", "Cautions", f"{note}{rests}<ul>{items}</ul>")


def _caution(found: Finding) -> str:
    where = f"{found.where}: " if found.where else ""
    grade = "look" if found.grade is Grade.LOOK or found.designed else "know"
    said = _first_upper(f"{where}{found.meaning.title}: {found.message}")
    if found.message == found.meaning.title:
        said = _first_upper(f"{where}{found.message}")
    return (
        f'<li class="{grade}"><p>{escape(said)}.</p><p class="next">{escape(found.next)}</p></li>'
    )


def _section(name: str, title: str, body: str) -> str:
    return (
        f'<section id="{name}" aria-labelledby="h-{name}"><h2 id="h-{name}">{title}</h2>'
        f"{body}</section>"
    )


def _table(head: Sequence[str], rows: Iterable[Sequence[str]], numbers: tuple[int, ...]) -> str:
    """A table whose first column names its rows."""

    def mark(i: int) -> str:
        return ' class="n"' if i in numbers else ""

    heads = "".join(f'<th scope="col"{mark(i)}>{text}</th>' for i, text in enumerate(head))
    body = "".join(
        f'<tr><th scope="row">{escape(row[0])}</th>'
        + "".join(f"<td{mark(i)}>{escape(text)}</td>" for i, text in enumerate(row) if i > 0)
        + "</tr>"
        for row in rows
    )
    return (
        f'<div class="scroll"><table><thead><tr>{heads}</tr></thead><tbody>{body}</tbody>'
        "</table></div>"
    )


def _number(value: float, unit: str) -> str:
    return f"{value:.{DIGITS[unit]}f}"


def _first_upper(text: str) -> str:
    return text[:1].upper() + text[1:]
