"""Blocks and copings by size, net, with waste, and in packs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from parametric_wall.checks.limits import coping_mass
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.line import OrderLine
from parametric_wall.order.lines import counted_line, waste_step
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.quantities import UnitCount, unit_counts
from parametric_wall.units import mass_kg


def unit_lines(spec: JobSpec, laid: SettingOut) -> Iterator[OrderLine]:
    """A line a size of block or coping; waste comes on top of what the cutting loses."""
    masses = _masses(spec)
    for count in unit_counts(spec, laid):
        pack = _pack(spec, count)
        key = f"{count.kind} {count.size}"
        line = counted_line(
            key,
            f"{count.kind}s",
            count.kind,
            float(count.net),
            [waste_step(spec, count.kind, count.net)],
            pack,
            f"pack of {pack}" if pack > 1 else "",
        )
        yield replace(line, mass_kg=line.order * masses[key], where=_where(count))


def _where(count: UnitCount) -> str:
    if not count.pieces:
        return "all whole"
    return f"{count.whole} whole, {count.cut} to cut {count.pieces} pieces from"


def _pack(spec: JobSpec, count: UnitCount) -> int:
    packs = spec.job.packs
    usual = packs.blocks if count.kind == "block" else packs.copings
    return packs.sizes.get(count.size, usual)


def _masses(spec: JobSpec) -> dict[str, float]:
    """Mass of one whole unit of each size, kg; the grooves of copings are too small to count."""
    found = {}
    for wall in spec.walls:
        b = wall.block
        for height in wall.gauge.heights:
            volume = b.length_mm * b.width_mm * height
            found[f"block {b.name_at(height)}"] = mass_kg(volume, b.density_kg_m3)
        if wall.coping is not None:
            c = wall.coping.coping
            key = f"coping {c.length_mm:g}x{c.width_mm:g}x{c.thickness_mm:g}"
            found[key] = coping_mass(wall.coping)
    return found
