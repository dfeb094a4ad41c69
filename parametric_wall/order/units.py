"""Blocks and copings by size, net, with waste, and in packs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from parametric_wall.checks.limits import coping_mass
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.line import OrderLine, Step
from parametric_wall.order.lines import JOB_FILE, counted_line, that_count, waste_step
from parametric_wall.setting_out.choose import size_of
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.setting_out.packs import Mixture
from parametric_wall.takeoff.quantities import (
    UnitCount,
    of_each,
    packs_to_order,
    unit_counts,
    waste,
)
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
            _pack_name(pack),
        )
        yield replace(line, mass_kg=line.order * masses[key], where=_where(count))
    for taken in laid.mixtures:
        yield from _mixed(spec, taken)


def _mixed(spec: JobSpec, taken: Mixture) -> Iterator[OrderLine]:
    """A family of lengths: whole packs of the family, or a line a length."""
    mass = {x: _family_mass(spec, taken.name, x) for x in taken.lengths}
    if taken.mix:
        yield _packed(spec, taken, sum(m * mass[x] for x, m in zip(mass, taken.mix, strict=True)))
        return
    for length, whole, cut in zip(taken.lengths, taken.whole, taken.cut, strict=True):
        net = whole + cut
        key, steps = f"block {taken.one_of(length)}", [waste_step(spec, "block", net)]
        pack = spec.job.packs.sizes.get(taken.name, spec.job.packs.blocks)
        line = counted_line(key, "blocks", "block", float(net), steps, pack, _pack_name(pack))
        yield replace(line, mass_kg=line.order * mass[length], where=f"{whole} whole, {cut} to cut")


def _packed(spec: JobSpec, taken: Mixture, pack_kg: float) -> OrderLine:
    """Packs hold every length with its waste: the length that runs out first rules."""
    pack, net = sum(taken.mix), sum(taken.used)
    lost = waste_step(spec, "block", net)
    packs = packs_to_order(taken, waste("block", spec.job))
    full = Step("up to whole packs", packs * pack - net - lost.adds, JOB_FILE, JOB_FILE)
    name = f"pack of {of_each(taken, taken.mix)}"
    where = f"{sum(taken.whole)} whole, {sum(taken.cut)} to cut"
    return OrderLine(
        f"block {taken.name}",
        "blocks",
        "nr",
        float(net),
        that_count((lost, full)),
        float(pack),
        name,
        packs * pack_kg,
        where,
    )


def _family_mass(spec: JobSpec, family: str, length: float) -> float:
    """Mass of one whole block of a family, kg."""
    block = next(w.block for w in spec.walls if size_of(w, w.block.tallest) == family)
    return mass_kg(length * block.width_mm * block.tallest, block.density_kg_m3)


def _where(count: UnitCount) -> str:
    if not count.pieces:
        return "all whole"
    return f"{count.whole} whole, {count.cut} to cut {count.pieces} pieces from"


def _pack_name(pack: int) -> str:
    return f"pack of {pack}" if pack > 1 else ""


def _pack(spec: JobSpec, count: UnitCount) -> int:
    packs = spec.job.packs
    usual = packs.blocks if count.kind == "block" else packs.copings
    return packs.sizes.get(count.size, usual)


def _masses(spec: JobSpec) -> dict[str, float]:
    """Mass of one whole unit of each size, kg; the grooves of copings are too small to count.

    A family of lengths is weighed length by length, in `_family_mass`.
    """
    found = {}
    for wall in spec.walls:
        b = wall.block
        for height in wall.gauge.heights:
            volume = b.longest * b.width_mm * height
            found[f"block {b.name_at(height)}"] = mass_kg(volume, b.density_kg_m3)
        if wall.coping is not None:
            c = wall.coping.coping
            key = f"coping {c.length_mm:g}x{c.width_mm:g}x{c.thickness_mm:g}"
            found[key] = coping_mass(wall.coping)
    return found
