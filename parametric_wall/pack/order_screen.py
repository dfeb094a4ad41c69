"""The order on the screen: materials, mixes and mixing sheet, digging; and what was added."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill, wrap

from parametric_wall.export.order_records import brought_kg
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.digging import Digging, digging
from parametric_wall.order.line import OrderLine, plural
from parametric_wall.order.lines import KG_PER_T, bag_kg
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
    mixing = NO_SHEET if sheet is None else _sheet(sheet)
    return "\n\n".join([_materials(lines), _added(lines), _mixes(made), mixing, _digging(dug)])


def _materials(lines: tuple[OrderLine, ...]) -> str:
    rows: list[tuple[str, ...]] = []
    for title, group in material_rows(lines):
        rows.append((f"{title}:", *[""] * 6))
        rows += [(f"  {key}", *rest) for key, *rest in group]
    return f"{table(MATERIALS, rows, 2)}\n{brought(lines)}"


MATERIALS = ("to order", "unit", "net", "added", "order", "packs", "kg")


def brought(lines: tuple[OrderLine, ...]) -> str:
    """How heavy it is in all."""
    return f"In all about {brought_kg(lines):.0f} kg to bring to the site."


def material_rows(
    lines: tuple[OrderLine, ...],
) -> Iterator[tuple[str, tuple[tuple[str, ...], ...]]]:
    """Groups of rows, a row a line, under `MATERIALS`, each group with its title."""
    for title in dict.fromkeys(TITLES.values()):
        group = tuple(_row(line) for line in lines if TITLES[line.group] == title)
        if group:
            yield title, group


def _row(line: OrderLine) -> tuple[str, ...]:
    if not line.known:
        return (line.key, line.unit, "", "", "see below", "", "")
    digits = DIGITS[line.unit]
    net_digits = 1 if line.unit == "nr" and line.net != round(line.net) else digits
    packs = ""
    if line.pack_name:
        net = (line.order - line.steps[-1].adds) / line.pack if line.steps else line.packs
        whole = net == round(net)
        digits_used = next((n for n in (1, 2) if whole or round(net, n) != round(net)), 3)
        used = f"{net:.{digits_used}f} used"
        packs = f"{up(line.packs)} {plural(line.pack_name, up(line.packs))} ({used})"
    numbers = (f"{line.net:.{net_digits}f}", f"{line.order - line.net:.{net_digits}f}")
    kg = f"{line.mass_kg:.0f}" if line.mass_kg else ""
    return (line.key, line.unit, *numbers, f"{line.order:.{digits}f}", packs, kg)


def _added(lines: tuple[OrderLine, ...]) -> str:
    """Line by line what comes on top of the net quantity, and by whose rule."""
    return "\n".join(["What was added, and by whose rule:", *map(_steps, lines)])


def _steps(line: OrderLine) -> str:
    head, texts = added(line)
    shown = [head]
    for text in texts:
        shown += [f"    {t}" for t in wrap(text, WIDTH - 4, subsequent_indent="  ")]
    return "\n".join(f"  {t}" for t in shown)


def added(line: OrderLine) -> tuple[str, tuple[str, ...]]:
    """What a line is for; and what comes on top of its net quantity, each by whose rule."""
    texts = []
    for s in line.steps:
        standing = "" if s.standing in s.source else f"; {s.standing}"
        adds = f"{s.adds:+.{max(1, DIGITS[line.unit])}f} {line.unit}, " if s.adds else ""
        texts.append(f"{adds}{s.what} ({s.source}{standing})")
    texts += barely_used(line)
    return f"{line.key}: {line.where}" if line.where else line.key, tuple(texts)


LEAST_USED = 0.1
"""Less than this of the last pack, and a smaller way is worth asking for."""


def barely_used(line: OrderLine) -> Iterator[str]:
    """What to do instead where the last bulk bag or skip is bought for next to nothing."""
    skip = line.key.startswith("skip")
    if not line.steps or not (skip or line.pack_name.startswith("bulk bag")):
        return
    packs = (line.order - line.steps[-1].adds) / line.pack
    part = packs - (up(line.packs) - 1)
    if up(line.packs) == 1 or not 0 < part < LEAST_USED:
        return
    rest = f"of the last {'skip' if skip else 'bulk bag'} only {part:.1%} is needed: "
    if skip:
        yield rest + "spread that on the ground, or ask for the next size of skip"
        return
    kg = part * line.pack * KG_PER_T
    bags = up(kg / bag_kg())
    yield f"{rest}{bags} {plural(f'bag of {bag_kg():g} kg', bags)} beside the others would do"


def _mixes(made: tuple[Making, ...]) -> str:
    shown = ["Mixes, by volume:"]
    for head, texts in map(mixed, made):
        indent = "    "
        filled = (fill(t, WIDTH, initial_indent=indent, subsequent_indent=indent) for t in texts)
        shown += [f"  {head}", *filled]
    return "\n".join(shown)


def mixed(making: Making) -> tuple[str, tuple[str, str]]:
    """What is mixed; what goes in, and by whose rule."""
    mix = making.mix
    names = " : ".join(p.material for p in mix.parts)
    head = (
        f"{making.what} {mix.name} ({names}): {making.net_m3:.3f} m3 placed, "
        f"{making.made_m3:.3f} m3 to mix"
    )
    amounts = (
        f"{p.material} {p.loose_m3 * making.made_m3:.3f} m3 loose = {p.kg * making.made_m3:.0f} kg"
        for p in mix.parts
    )
    return head, ("; ".join(amounts), f"{mix.rule} ({mix.source}; {mix.standing})")


def _sheet(sheet: Sheet) -> str:
    shown = [GOES]
    for head, texts in map(batched, sheet.batches):
        shown += [f"  {head}", *(f"    {text}" for text in texts)]
    return "\n".join([*shown, "", table(STAGES, stage_rows(sheet), 3), fill(CAUTIONS, WIDTH)])


GOES = "Mixing sheet; a day each at the soonest, the footing left overnight:"
NO_SHEET = "No mixing sheet: give [mixing] mixer_l or bucket_l in the job file."
STAGES = ("day", "for", "mix", "litres to mix", "full batches", "and of one")


def stage_rows(sheet: Sheet) -> list[tuple[str, ...]]:
    """A row for what is mixed in one go, under `STAGES`."""
    return [
        (str(s.day), s.name, s.what, f"{s.wet_l:.0f}", str(s.batches), _part(s.last))
        for s in sheet.stages
    ]


def _part(last: float) -> str:
    return f"{last:.2f}" if last else ""


def batched(batch: Batch) -> tuple[str, tuple[str, ...]]:
    """What a batch makes; and what goes in."""
    texts = []
    for p in batch.parts:
        count = "" if p.buckets is None else f"{p.buckets:.3g}"
        buckets = f"{count} {'bucket' if count == '1' else 'buckets'}, " if count else ""
        texts.append(f"{p.material}: {buckets}{p.litres:.1f} l, {p.kg:.1f} kg")
    if batch.plasticiser_ml is not None:
        texts.append(f"plasticiser: {batch.plasticiser_ml:.0f} ml")
    return f"a batch of {batch.what} {batch.mix} makes {batch.wet_l:.0f} l:", tuple(texts)


def _digging(dug: Digging) -> str:
    rows = dug_rows(dug)
    if not rows:
        return NOTHING_DUG
    return "\n".join([table(DUG, rows), *(fill(text, WIDTH) for text in earth(dug))])


NOTHING_DUG = "Nothing is dug."
DUG = ("digging", "m3 in the ground", "m3 loose", "kg")


def dug_rows(dug: Digging) -> list[tuple[str, ...]]:
    """What is dug, put back and taken away, under `DUG`; nothing where nothing is."""
    g = dug.ground
    rows = [
        ("trench for footings", dug.trench),
        ("inside planters, beside it", dug.inside),
        ("put back beside the walls", -dug.backfill),
        ("used as fill in planters, if fit to plant in", -dug.reused),
        ("taken away", dug.away),
    ]
    return [
        (what, f"{bank:.3f}", f"{g.loose(bank):.3f}", f"{bank * g.density_kg_m3:.0f}")
        for what, bank in rows
        if bank
    ]


def earth(dug: Digging) -> Iterator[str]:
    """What the digging rests on, and the skips for what is taken away."""
    g, s = dug.ground, dug.skips
    yield (
        f"Ground: {g.kind}, swells by {g.swell_percent:g} % ({g.source}; {g.standing}), "
        f"{g.density_kg_m3:g} kg/m3 in the ground."
    )
    if s is None:
        yield "Nothing is left over."
        return
    yield (
        f"{up(s.used)} x {s.yards} yd skip ({s.holds_m3:.3f} m3 level, {s.payload_kg / 1000:g} t: "
        f"{s.source}; {s.standing}): {s.by_volume:.2f} by volume, {s.by_mass:.2f} by mass; "
        f"the {s.governs} governs. {dug.barrows} barrow loads."
    )
