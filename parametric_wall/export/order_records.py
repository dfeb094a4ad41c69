"""The order as it is written for other programs: JSON, and a row a line as CSV."""

from __future__ import annotations

import csv
import io
from dataclasses import asdict
from typing import Any, Literal, cast

from typing_extensions import TypedDict

from parametric_wall.export.records import shown
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.digging import Digging, digging
from parametric_wall.order.line import OrderLine
from parametric_wall.order.materials import order_lines
from parametric_wall.order.mixing import mixing_sheet
from parametric_wall.order.wet import Making, makings
from parametric_wall.setting_out.model import SettingOut


class StepRecord(TypedDict):
    """One thing that makes the order differ from the net quantity, in the line's unit."""

    what: str
    adds: float
    source: str
    standing: str


class LineRecord(TypedDict):
    """One line of the order; net, order and pack in its unit."""

    key: str
    group: str
    unit: str
    net: float
    steps: list[StepRecord]
    order: float
    pack: float
    pack_name: str
    packs: float
    mass_kg: float
    where: str


class PartRecord(TypedDict):
    """One part of a mix, to the m3 wet."""

    material: str
    parts: float
    loose_m3: float
    kg: float


class MixRecord(TypedDict):
    """What is mixed on site."""

    what: Literal["mortar", "concrete"]
    mix: str
    net_m3: float
    made_m3: float
    to_the_m3: list[PartRecord]
    rule: str
    source: str
    standing: str


class MeasuredRecord(TypedDict):
    """One material of a batch."""

    material: str
    litres: float
    kg: float
    buckets: float | None


class BatchRecord(TypedDict):
    """One mixing."""

    what: str
    mix: str
    wet_l: float
    parts: list[MeasuredRecord]
    plasticiser_ml: float | None


class StageRecord(TypedDict):
    """What is mixed in one go."""

    day: int
    name: str
    what: str
    wet_l: float
    batches: int
    last: float


class SheetRecord(TypedDict):
    """The mixing sheet."""

    batches: list[BatchRecord]
    stages: list[StageRecord]


class SkipsRecord(TypedDict):
    """Skips for what is taken away."""

    yards: int
    holds_m3: float
    payload_kg: float
    by_volume: float
    by_mass: float
    governs: Literal["mass", "volume"]
    source: str
    standing: str


class DiggingRecord(TypedDict):
    """Earth: volumes in the ground but for the loose one."""

    soil: str
    swell_percent: float
    swell_source: str
    swell_standing: str
    density_kg_m3: float
    trench_m3: float
    inside_planters_m3: float
    backfill_m3: float
    reused_m3: float
    short_m3: float
    away_m3: float
    away_loose_m3: float
    away_kg: float
    barrows: int
    skips: SkipsRecord | None


class OrderRecord(TypedDict):
    """The file order.json."""

    job: str
    title: str
    lines: list[LineRecord]
    mass_kg: float
    mixes: list[MixRecord]
    mixing: SheetRecord | None
    digging: DiggingRecord


def order_record(spec: JobSpec, laid: SettingOut) -> OrderRecord:
    """The order of a job."""
    lines, sheet = order_lines(spec, laid), mixing_sheet(spec, laid)
    return {
        "job": spec.name,
        "title": spec.job.title,
        "lines": [_line(line) for line in lines],
        "mass_kg": _shown(brought_kg(lines)),
        "mixes": [_mix(making) for making in makings(spec, laid)],
        "mixing": None if sheet is None else cast("SheetRecord", _shown(asdict(sheet))),
        "digging": _digging(digging(spec, laid)),
    }


def brought_kg(lines: tuple[OrderLine, ...]) -> float:
    """Mass of what is brought to the site: all but what is taken away, kg."""
    return sum(line.mass_kg for line in lines if line.group != "away")


def order_csv(spec: JobSpec, laid: SettingOut) -> bytes:
    """The order, a row a line; what was added in words."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    head = ("key", "group", "unit", "net", "added", "to order", "packs", "pack", "mass_kg")
    writer.writerow([*head, "for", "what was added"])
    for line in order_lines(spec, laid):
        added = "; ".join(f"{s.what} ({s.source})" for s in line.steps)
        numbers = (line.net, line.order - line.net, line.order)
        row = [line.key, line.group, line.unit, *(f"{n:.3f}" for n in numbers)]
        packs = f"{line.packs:.2f}" if line.pack_name else ""
        writer.writerow([*row, packs, line.pack_name, f"{line.mass_kg:.1f}", line.where, added])
    return out.getvalue().encode("utf-8")


def _line(line: OrderLine) -> LineRecord:
    found = asdict(line) | {"order": line.order, "packs": line.packs}
    return cast("LineRecord", _shown(found))


def _mix(making: Making) -> MixRecord:
    mix = making.mix
    return {
        "what": making.what,
        "mix": mix.name,
        "net_m3": _shown(making.net_m3),
        "made_m3": _shown(making.made_m3),
        "to_the_m3": [cast("PartRecord", _shown(asdict(p))) for p in mix.parts],
        "rule": mix.rule,
        "source": mix.source,
        "standing": mix.standing,
    }


def _digging(dug: Digging) -> DiggingRecord:
    g, skips = dug.ground, dug.skips
    found = {} if skips is None else asdict(skips) | {"governs": skips.governs}
    return {
        "soil": g.kind,
        "swell_percent": g.swell_percent,
        "swell_source": g.source,
        "swell_standing": g.standing,
        "density_kg_m3": g.density_kg_m3,
        "trench_m3": _shown(dug.trench),
        "inside_planters_m3": _shown(dug.inside),
        "backfill_m3": _shown(dug.backfill),
        "reused_m3": _shown(dug.reused),
        "short_m3": _shown(dug.short),
        "away_m3": _shown(dug.away),
        "away_loose_m3": _shown(dug.away_loose),
        "away_kg": _shown(dug.away_kg),
        "barrows": dug.barrows,
        "skips": cast("SkipsRecord", _shown(found)) if found else None,
    }


def _shown(value: Any) -> Any:
    """Every number of a record with as many digits as the files have."""
    if isinstance(value, float):
        return shown(value) + 0.0  # No minus zero.
    if isinstance(value, dict):
        return {key: _shown(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_shown(inner) for inner in value]
    return value
