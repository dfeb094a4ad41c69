"""The order on the screen: materials, mixes and mixing sheet, digging; and what was added."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill, wrap

from parametric_wall.export.order_records import brought_kg
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.digging import Digging, digging
from parametric_wall.order.line import OrderLine, plural
from parametric_wall.order.materials import order_lines
from parametric_wall.order.mixing import Batch, Sheet, mixing_sheet
from parametric_wall.order.wet import Making, makings
from parametric_wall.pack.tables import WIDTH, table
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.quantities import up

TITLES = {
    "blocks": "Blocks and copings",
    "copings": "Blocks and copings",
    "cement": "Mortar and concrete",
    "mortar": "Mortar and concrete",
    "concrete": "Mortar and concrete",
    "sundries": "Sundries",
    "planter": "Planter",
    "away": "Taken away",
}
DIGITS = {"nr": 0, "kg": 0, "ml": 0, "l": 0, "m": 2, "m2": 2, "t": 3, "m3": 3}
CAUTIONS = (
    "Wet mortar and concrete burn skin, and cement and lime the eyes: gloves, goggles, long "
    "sleeves, and water at hand. A bag of 25 kg is more than the 20 kg that one person should lift "
    "again and again (HSE CIS37)."
)


def order_text(spec: JobSpec, laid: SettingOut) -> str:
    """The whole order."""
    lines, dug, sheet = order_lines(spec, laid), digging(spec, laid), mixing_sheet(spec, laid)
    made = makings(spec, laid)
    parts = [_materials(lines), _added(lines), _mixes(made)]
    if sheet is not None:
        parts.append(_sheet(sheet))
    else:
        text = "No mixing sheet: give [mixing] mixer_l or bucket_l in the job file."
        parts.append(text)
    return "\n\n".join([*parts, _digging(dug)])


def _materials(lines: tuple[OrderLine, ...]) -> str:
    rows: list[tuple[str, ...]] = []
    for title in dict.fromkeys(TITLES.values()):
        group = [line for line in lines if TITLES[line.group] == title]
        if group:
            rows.append((f"{title}:", *[""] * 6))
            rows += [_row(line) for line in group]
    head = ("to order", "unit", "net", "added", "order", "packs", "kg")
    total = f"In all about {brought_kg(lines):.0f} kg to bring to the site."
    return f"{table(head, rows, 2)}\n{total}"


def _row(line: OrderLine) -> tuple[str, ...]:
    if not line.known:
        return (f"  {line.key}", line.unit, "", "", "see below", "", "")
    digits = DIGITS[line.unit]
    net_digits = 1 if line.unit == "nr" and line.net != round(line.net) else digits
    packs = ""
    if line.pack_name:
        net = (line.order - line.steps[-1].adds) / line.pack if line.steps else line.packs
        packs = f"{up(line.packs)} {plural(line.pack_name, up(line.packs))} ({net:.1f} used)"
    numbers = (f"{line.net:.{net_digits}f}", f"{line.order - line.net:.{net_digits}f}")
    kg = f"{line.mass_kg:.0f}" if line.mass_kg else ""
    return (f"  {line.key}", line.unit, *numbers, f"{line.order:.{digits}f}", packs, kg)


def _added(lines: tuple[OrderLine, ...]) -> str:
    """Line by line what comes on top of the net quantity, and by whose rule."""
    return "\n".join(["What was added, and by whose rule:", *map(_steps, lines)])


def _steps(line: OrderLine) -> str:
    shown = [f"{line.key}: {line.where}" if line.where else line.key]
    for s in line.steps:
        standing = "" if s.standing in s.source else f"; {s.standing}"
        adds = f"{s.adds:+.{max(1, DIGITS[line.unit])}f} {line.unit}, " if s.adds else ""
        text = f"{adds}{s.what} ({s.source}{standing})"
        shown += [f"    {t}" for t in wrap(text, WIDTH - 4, subsequent_indent="  ")]
    return "\n".join(f"  {t}" for t in shown)


def _mixes(made: tuple[Making, ...]) -> str:
    return "\n".join(["Mixes, by volume:", *(text for m in made for text in _mix(m))])


def _mix(making: Making) -> Iterator[str]:
    mix = making.mix
    names = " : ".join(p.material for p in mix.parts)
    yield (
        f"  {making.what} {mix.name} ({names}): {making.net_m3:.3f} m3 placed, "
        f"{making.made_m3:.3f} m3 to mix"
    )
    amounts = (
        f"{p.material} {p.loose_m3 * making.made_m3:.3f} m3 loose = {p.kg * making.made_m3:.0f} kg"
        for p in mix.parts
    )
    yield fill("; ".join(amounts), WIDTH, initial_indent="    ", subsequent_indent="    ")
    text = f"{mix.rule} ({mix.source}; {mix.standing})"
    yield fill(text, WIDTH, initial_indent="    ", subsequent_indent="    ")


def _sheet(sheet: Sheet) -> str:
    rows = [
        (str(s.day), s.name, s.what, f"{s.wet_l:.0f}", str(s.batches), _part(s.last))
        for s in sheet.stages
    ]
    head = ("day", "for", "mix", "litres to mix", "full batches", "and of one")
    return "\n".join(
        [
            "Mixing sheet; a day each at the soonest, the footing left overnight:",
            *(text for b in sheet.batches for text in _batch(b)),
            "",
            table(head, rows, 3),
            fill(CAUTIONS, WIDTH),
        ]
    )


def _part(last: float) -> str:
    return f"{last:.2f}" if last else ""


def _batch(batch: Batch) -> Iterator[str]:
    yield f"  a batch of {batch.what} {batch.mix} makes {batch.wet_l:.0f} l:"
    for p in batch.parts:
        count = "" if p.buckets is None else f"{p.buckets:.3g}"
        buckets = f"{count} {'bucket' if count == '1' else 'buckets'}, " if count else ""
        yield f"    {p.material}: {buckets}{p.litres:.1f} l, {p.kg:.1f} kg"
    if batch.plasticiser_ml is not None:
        yield f"    plasticiser: {batch.plasticiser_ml:.0f} ml"


def _digging(dug: Digging) -> str:
    g = dug.ground
    rows = [
        ("trench for footings", dug.trench),
        ("inside planters, beside it", dug.inside),
        ("put back beside the walls", -dug.backfill),
        ("used as fill in planters, if fit to plant in", -dug.reused),
        ("taken away", dug.away),
    ]
    shown = [
        (what, f"{bank:.3f}", f"{g.loose(bank):.3f}", f"{bank * g.density_kg_m3:.0f}")
        for what, bank in rows
        if bank
    ]
    if not shown:
        return "Nothing is dug."
    text = (
        f"Ground: {g.kind}, swells by {g.swell_percent:g} % ({g.source}; {g.standing}), "
        f"{g.density_kg_m3:g} kg/m3 in the ground."
    )
    head = ("digging", "m3 in the ground", "m3 loose", "kg")
    return "\n".join([table(head, shown), fill(text, WIDTH), *_skips(dug)])


def _skips(dug: Digging) -> Iterator[str]:
    s = dug.skips
    if s is None:
        yield "Nothing is left over."
        return
    text = (
        f"{up(s.used)} x {s.yards} yd skip ({s.holds_m3:.3f} m3 level, {s.payload_kg / 1000:g} t: "
        f"{s.source}; {s.standing}): {s.by_volume:.2f} by volume, {s.by_mass:.2f} by mass; "
        f"the {s.governs} governs. {dug.barrows} barrow loads."
    )
    yield fill(text, WIDTH)
