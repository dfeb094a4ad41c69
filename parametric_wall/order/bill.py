"""A bill of quantities: work measured net as it stands, in the order of the rules of measurement.

RICS New Rules of Measurement, NRM2: excavation as it stands in the ground, without
bulking and without working space; concrete net; walls by area on the centre line, their
thickness stated, without deduction for voids of 0.50 m2 or less; copings, damp-proof
courses and joints by length, their section stated. Cutting, labours and laps are deemed
to be included. Numbers of sections as far as remembered: confirm them with the edition
that the contract names.

The thickness stated is the built one, the block's own; some notes call a wall by its
co-ordinating thickness, 225 for a built 215, which makes volumes 4.7 % too large.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from parametric_wall.errors import Fault, JobError
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.order.digging import backfilled, digging
from parametric_wall.order.prices import PriceList
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.quantities import centre_line, quantities
from parametric_wall.units import cubic_metres, metres, square_metres

Section = Literal["5 Excavating and filling", "11 In-situ concrete works", "14 Masonry"]
HUNDREDTH = Decimal("0.01")
PIER_THICKNESSES = 4
"""A wall shorter than so many thicknesses is an isolated pier (rules of measurement)."""

PREAMBLE = (
    "Quantities are net as fixed in position; excavation as it stands in the ground.",
    "Sizes and thicknesses are in mm.",
    "Walls are measured on the centre line; thickness as built, not as co-ordinated.",
    "No deduction is made for voids of 0.50 m2 or less.",
    "Cutting, labours, laps and working space are deemed to be included.",
    "An amount is rounded to the penny, a half upwards.",
)


@dataclass(frozen=True, slots=True)
class BillLine:
    """One item of a bill.

    Attributes:
        section: of the rules of measurement.
        key: as a price list names it, for instance ``bill: wall 140``.
        description: in full.
        unit: m, m2, m3 or nr.
        quantity: net, to a hundredth of the unit, or a whole number.
        rate: of the price list, for everything the item includes; None without one.
    """

    section: Section
    key: str
    description: str
    unit: str
    quantity: Decimal
    rate: Decimal | None = None

    @property
    def amount(self) -> Decimal | None:
        """Quantity times rate, to the penny; None without a rate."""
        if self.rate is None:
            return None
        return (self.quantity * self.rate).quantize(HUNDREDTH, ROUND_HALF_UP)


def bill(spec: JobSpec, laid: SettingOut, prices: PriceList | None = None) -> tuple[BillLine, ...]:
    """The bill of a job.

    Raises:
        JobError: the list has a rate for one of its items, for another unit.
    """
    lines = tuple(
        line
        for line in (*_ground(spec, laid), *_walls(spec), *_sundries(spec, laid))
        if line.quantity > 0
    )
    return lines if prices is None else _priced(lines, prices)


def total(lines: Iterable[BillLine]) -> Decimal:
    """Sum of the amounts; what has no rate is not in it."""
    return sum((line.amount for line in lines if line.amount is not None), Decimal("0.00"))


def _priced(lines: tuple[BillLine, ...], prices: PriceList) -> tuple[BillLine, ...]:
    priced, faults = [], []
    for line in lines:
        rate = prices.of(line.key, line.unit)
        others = prices.units_of(line.key)
        if rate is None and others:
            problem = f"the rate is for one {others[0]}; the bill measures {line.unit}"
            faults.append(Fault(line.key, others[0], problem, "give the rate for that unit"))
        priced.append(line if rate is None else replace(line, rate=rate.rate))
    if faults:
        raise JobError(faults)
    return tuple(priced)


def _line(section: Section, key: str, description: str, unit: str, value: float) -> BillLine:
    """An item; what would be rounded away is entered as the least that is shown."""
    step = Decimal(1) if unit == "nr" else HUNDREDTH
    quantity = Decimal(str(round(value, 9))).quantize(step, ROUND_HALF_UP)
    if value > 0 and quantity == 0:
        quantity = step
    return BillLine(section, f"bill: {key}", description, unit, quantity)


def _ground(spec: JobSpec, laid: SettingOut) -> Iterator[BillLine]:
    section: Section = "5 Excavating and filling"
    dug = digging(spec, laid)
    beside = sum(cubic_metres(backfilled(w)) for w in spec.walls)
    brought = dug.short * dug.ground.compacted
    net = {q.item: q.net for q in quantities(spec, laid)}
    yield _line(
        section,
        "foundation excavation",
        "Foundation excavation, not exceeding 2 m deep, as it stands in the ground",
        "m3",
        dug.trench,
    )
    text = "Excavation inside planters, not exceeding 2 m deep, as it stands in the ground"
    yield _line(section, "excavation inside planters", text, "m3", dug.inside)
    text = "Disposal of excavated material off site, as it stands in the ground"
    yield _line(section, "disposal", text, "m3", dug.away)
    text = "Filling obtained from excavated material, beside foundations, compacted in layers"
    yield _line(section, "filling from excavation", text, "m3", beside - brought)
    text = "Filling obtained from excavated material, in planters, net as placed"
    yield _line(section, "excavated soil in planters", text, "m3", dug.reused)
    text = "Imported filling, beside foundations, compacted in layers, net as placed"
    yield _line(section, "imported filling", text, "m3", brought)
    text = "Imported filling, free-draining, beds in the bottom of planters, net as placed"
    yield _line(section, "drainage filling", text, "m3", net.get("drainage layer", 0.0))
    text = "Imported topsoil in planters, net as placed"
    yield _line(section, "topsoil", text, "m3", net.get("soil", 0.0) - dug.reused)
    yield _line(
        "11 In-situ concrete works",
        "concrete in foundations",
        "Plain in-situ concrete in trench foundations, poured against earth",
        "m3",
        net.get("concrete in the footing", 0.0),
    )


def is_pier(spec: WallSpec) -> bool:
    """Whether a wall is an isolated pier: shorter on plan than four times its thickness."""
    path = spec.path
    alone = not path.closed and len(path.lengths) == 1
    return alone and path.lengths[0] < PIER_THICKNESSES * spec.thickness


def _walls(spec: JobSpec) -> Iterator[BillLine]:
    areas: dict[tuple[bool, float, str], float] = {}
    for wall in spec.walls:
        heights = dict.fromkeys(wall.gauge.heights)
        units = ", ".join(wall.block.name_at(h) for h in heights)
        key = (is_pier(wall), wall.thickness, units)
        area = square_metres(centre_line(wall) * wall.gauge.masonry)
        areas[key] = areas.get(key, 0.0) + area
    for (pier, thick, units), area in areas.items():
        kind = "isolated pier" if pier else "wall"
        name = "Isolated piers" if pier else "Walls"
        text = f"{name}, {thick:g} thick as built, of blocks {units}, in mortar, on the centre line"
        yield _line("14 Masonry", f"{kind} {thick:g}, {units}", text, "m2", area)


def _sundries(spec: JobSpec, laid: SettingOut) -> Iterator[BillLine]:
    section: Section = "14 Masonry"
    net = {q.item: q.net for q in quantities(spec, laid)}
    yield from _by_length(spec)
    thick = {w.thickness: w.movement.width_mm for w in spec.walls if w.movement is not None}
    wide = " or ".join(f"{width:g}" for width in sorted(set(thick.values())))
    text = f"Movement joints{f', {wide} wide' if wide else ''}, filler through the wall"
    yield _line(section, "movement joint", text, "m", net.get("movement joint", 0.0))
    text = "Slip ties across movement joints, built in"
    yield _line(section, "slip tie", text, "nr", net.get("slip ties", 0.0))
    text = "Weep holes through walls, formed in the work"
    yield _line(section, "weep hole", text, "nr", net.get("weep holes", 0.0))


def _by_length(spec: JobSpec) -> Iterator[BillLine]:
    """Damp-proof courses by their width, copings by their section."""
    courses: dict[float, float] = {}
    copings: dict[str, float] = {}
    for wall in spec.walls:
        length = metres(centre_line(wall))
        if wall.dpc is not None:
            courses[wall.thickness] = courses.get(wall.thickness, 0.0) + length
        if wall.coping is not None:
            c = wall.coping.coping
            shape = f"{c.width_mm:g} x {c.thickness_mm:g}, {c.profile}"
            shape += "" if c.drip is None else ", with drips"
            copings[shape] = copings.get(shape, 0.0) + length
    for width, length in courses.items():
        text = f"Damp-proof course, {width:g} wide, horizontal, no allowance for laps"
        yield _line("14 Masonry", f"damp-proof course {width:g}", text, "m", length)
    for shape, length in copings.items():
        text = f"Copings, {shape}, bedded and jointed in mortar, on the centre line"
        yield _line("14 Masonry", f"coping {shape}", text, "m", length)
