"""Plain text tables and paragraphs for the screen."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from parametric_wall.checks.calculation import Calculation, Use
from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.checks.on_site import SiteCheck
from parametric_wall.export.take_off import bonds_note
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.reference.tables import cited
from parametric_wall.setting_out.bond import Course
from parametric_wall.setting_out.corners import Certificate
from parametric_wall.setting_out.model import SettingOut, WallSetOut
from parametric_wall.setting_out.packs import Mixture
from parametric_wall.takeoff.cut_lists import AlikeCuts
from parametric_wall.takeoff.quantities import Quantity, of_each

if TYPE_CHECKING:
    from parametric_wall.pack.draw import SheetRecord

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


SHEETS = ("sheet", "mm", "scale", "shows")


def sheets(records: Sequence[SheetRecord]) -> str:
    """The sheets of a job: on what paper, at what scale, what they show."""
    return table(SHEETS, sheet_rows(records), left=4)


def sheet_rows(records: Sequence[SheetRecord]) -> list[tuple[str, ...]]:
    """A row a sheet, under `SHEETS`."""
    return [
        (
            str(number),
            f"{sheet['width_mm']:g} x {sheet['height_mm']:g}",
            ", ".join(f"1:{scale:g}" for scale in sheet["scales"]),
            sheet["title"],
        )
        for number, sheet in enumerate(records, 1)
    ]


def walls(spec: JobSpec, laid: SettingOut) -> str:
    """The walls in a few lines: what they are, how high, how they bond."""
    shown = [_wall(w, p) for w, p in zip(spec.walls, laid.walls, strict=True)]
    said = [_certificate(name, c) for name, c in laid.certificates]
    said += [_packs(m) for m in laid.mixtures if m.mix]
    certified = [t for line in said for t in wrapped(line)]
    note = wrap(bonds_note(laid), WIDTH) if certified else []
    return "\n".join([*shown, *certified, *note])


def _certificate(name: str, found: Certificate) -> str:
    """How many blocks the bonds take, and what can be said for it."""
    if found.proven:
        return f"{found.blocks} blocks {name}; none can do it with fewer"
    return f"{found.blocks} blocks {name}; no bond needs fewer than {found.bound}"


def _packs(taken: Mixture) -> str:
    """How many packs the lengths take, and how near they come to their mix."""
    shares = ", ".join(
        f"{got:.0%} of {x:g} (asked {asked:.0%})"
        for x, got, asked in zip(taken.lengths, taken.shares, taken.asked, strict=True)
    )
    least = "none can do it with fewer"
    if taken.packs > taken.least:
        least = f"no bond needs fewer than {taken.least}"
    return (
        f"{taken.packs} packs of {of_each(taken, taken.mix)}; {least}; left over "
        f"{of_each(taken, taken.left_over)}; {shares}"
    )


def _wall(spec: WallSpec, placed: WallSetOut) -> str:
    g, b = spec.gauge, spec.block
    runs = " + ".join(f"{x:g}" for x in spec.path.lengths)
    closed = ", closed" if spec.path.closed else ""
    tall = "/".join(f"{h:g}" for h in dict.fromkeys(g.heights))
    long = "/".join(f"{x:g}" for x in b.lengths)
    size = f"{long} x {b.width_mm:g} x {tall}"
    marks = "/".join(f"{mark:.4g}" for mark in g.gauges)
    height = f"gauge {marks} (bed {g.bed:.4g}); finishes {g.finished:.0f} above ground"
    lines = [f"{spec.name}: {runs}{closed}; {g.courses} courses of {size}; {height}"]
    for laid in placed.bonded:
        lap = f", smallest lap {laid.bond.lap:.0f}" if laid.bond.lap < math.inf else ""
        bond = laid.bond
        shown = " / ".join(row(c.pieces) for c in bond.courses[: _period(bond.courses)])
        opened = f", {_perps(bond.courses)}" if bond.opened else ""
        lines.append(f"  {laid.run.name}: courses {shown}; {len(bond.cut)} cuts{lap}{opened}")
    lines += [f"  {c.run.name}: copings {row(c.lengths)}" for c in placed.coped]
    return "\n".join(t for line in lines for t in wrapped(line))


def wrapped(line: str) -> list[str]:
    """A line at no more than the screen's width, its indent kept and what follows indented."""
    indent = " " * (len(line) - len(line.lstrip()))
    return wrap(line.strip(), WIDTH, initial_indent=indent, subsequent_indent=f"{indent}    ")


def _perps(courses: Sequence[Course]) -> str:
    """The width of the perps, course by course where they differ."""
    widths = [f"{c.joint:.1f}".removesuffix(".0") for c in courses]
    if len(set(widths)) == 1:
        return f"perps {widths[0]}"
    return f"perps {', '.join(widths)} in courses 1 to {len(widths)}"


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
    rows = [(q.item, q.unit, _number(q.net, q.unit), _number(q.order, q.unit)) for q in lines]
    head, rule, *shown = table(("item", "unit", "net", "to order"), rows, left=2).splitlines()
    pairs = zip(lines, shown, strict=True)
    texts = [t for q, line in pairs for t in (line, *wrapped(f"    {q.rule}"))]
    return "\n".join((head, rule, *texts))


CUTS = ("cut from", "length", "mitred end", "pieces")


def cuts(groups: tuple[AlikeCuts, ...]) -> str:
    """What is to be cut, grouped by length; nothing where every piece is whole."""
    return table(CUTS, cut_rows(groups)) if groups else ""


def cut_rows(groups: tuple[AlikeCuts, ...]) -> list[tuple[str, ...]]:
    """A row a length, under `CUTS`."""
    return [(g.unit, f"{g.length:.1f}", g.mitred, str(len(g.pieces))) for g in groups]


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
    lines = wrap(f"{f.code}:{where} {f.message}{limit_words(f)}", WIDTH - 4)
    more = " ".join(finding_words(f))
    lines += [f"  {line}" for line in wrap(more, WIDTH - 6)]
    return "\n".join(f"  {line}" for line in lines)


def finding_words(f: Finding) -> tuple[str, str]:
    """What to do and whom to ask; what it rests on."""
    return f"{f.next} Ask: {f.meaning.ask}.", f"Source: {cited(f.source, f.standing)}."


def limit_words(f: Finding) -> str:
    """The limit in words: the value is on its wrong side."""
    if f.limit is None or f.value is None or not f.unit:
        return ""
    return f" ({'at least' if f.value < f.limit else 'at most'} {f.limit:g} {f.unit})"


def calculations(found: Sequence[Calculation]) -> str:
    """What each calculation comes to, where it is nearest its limit; empty without any."""
    rows: list[tuple[str, ...]] = []
    for calculation in found:
        rows.append((calculated(calculation), *[""] * 5))
        rows += [(f"  {name}", *rest) for name, *rest in use_rows(calculation)]
    lines = [line for text in rests_on(found) for line in wrap(text, WIDTH)]
    return "\n".join((table(USES, rows), *lines)) if rows else ""


USES = ("worked out, and where it is worst", "unit", "needed", "there", "ratio", "")


def calculated(one: Calculation) -> str:
    """Which wall, and what is worked out of it."""
    return f"{one.where}: {one.title[0].lower()}{one.title[1:]}"


def rests_on(found: Iterable[Calculation]) -> Iterator[str]:
    """Sources, what is assumed, what stands beside and what is left out: each said once."""
    sources, assumed, left_out = (defaultdict[str, dict[str, None]](dict) for _ in range(3))
    beside: dict[str, None] = {}
    for one in found:
        for use in one.uses:
            sources[use.source][use.name] = None
        for f in (*one.given, *one.steps):
            if f.assumed:
                assumed[one.where][f"{f.name} {f.value:.4g} {f.unit}".rstrip()] = None
        beside |= dict.fromkeys(f"{one.where}: {text}." for text in one.beside)
        left_out[one.title.partition(",")[0]] |= dict.fromkeys(one.not_counted)
    yield from (f"{', '.join(names)}: {source}." for source, names in sources.items())
    yield from (f"{where}: assumed, not given: {', '.join(n)}." for where, n in assumed.items())
    yield from beside
    yield from (f"{what}, not counted: {'; '.join(names)}." for what, names in left_out.items())


def _worst(uses: Iterable[Use]) -> list[Use]:
    """Of each kind of use the worst, the first where several are alike."""
    worst: dict[str, Use] = {}
    for use in uses:
        if use.name not in worst or use.ratio > worst[use.name].ratio:
            worst[use.name] = use
    return list(worst.values())


def use_rows(one: Calculation) -> list[tuple[str, ...]]:
    """A row a kind of use, under `USES`, where it is worst."""
    return [_use(use) for use in _worst(one.uses)]


def _use(use: Use) -> tuple[str, ...]:
    name = f"{use.name}, {use.where}" if use.where else use.name
    resists = use.state != "no resistance"
    ratio = f"{use.ratio:.2f}" if resists else ""
    said = "" if use.state == "within" else use.state
    return name, use.unit, f"{use.effect:.4g}", f"{use.resistance:.4g}", ratio, said


def check_sheet(rows: Iterable[SiteCheck]) -> str:
    """The sheet to check the walls by on site."""
    lines = ["To check on site:"]
    for where, same in groupby(rows, key=lambda row: row.where):
        lines.append(f"{where}:")
        for row in same:
            what = f"{row.what}, {row.value}: {row.allowed}. {row.how.capitalize()}."
            text = f"[ ] {what} Source: {cited(row.source, row.standing)}."
            lines += [f"  {line}" for line in wrap(text, WIDTH - 2, subsequent_indent="    ")]
    return "\n".join(lines)


PROOF = ("m3", "closed form", "counted", "solid", "STEP", "mesh", "agrees")
WAYS = ("closed_form_m3", "counted_m3", "solid_m3", "step_m3")


def proof(records: Iterable[Mapping[str, Any]]) -> str:
    """The ways of measuring side by side, in m3."""
    return table(PROOF, proof_rows(records))


def proof_rows(records: Iterable[Mapping[str, Any]]) -> list[tuple[str, ...]]:
    """A row a component, under `PROOF`, of the rows of verification.json."""
    return [
        (
            record["component"],
            *(_cubic(record[way]) for way in WAYS),
            _cubic(record["mesh_m3"] if record["stl_m3"] is None else record["stl_m3"]),
            "yes" if record["agrees"] else "NO",
        )
        for record in records
    ]


def _cubic(volume_m3: float | None) -> str:
    return "" if volume_m3 is None else f"{volume_m3:.6f}"
