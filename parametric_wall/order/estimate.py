"""What a job costs by a price list: to the penny, in decimals, and what has no rate apart."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from difflib import get_close_matches

from parametric_wall.errors import Fault, JobError
from parametric_wall.order.days import Schedule
from parametric_wall.order.line import OrderLine, plural
from parametric_wall.order.prices import PriceList, Rate, folded
from parametric_wall.order.tasks import STAGES
from parametric_wall.takeoff.quantities import up

FIGURES = re.compile(r"\d+")
PENNY = Decimal("0.01")
THOUSANDTH = Decimal("0.001")
ROUNDINGS = {"half up": ROUND_HALF_UP, "half even": ROUND_HALF_EVEN}
LABOUR, MIXER = "labour", "mixer hire"


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to be paid for.

    Attributes:
        key: as a price list names it.
        group: materials, labour or plant.
        unit: of the quantity.
        quantity: to a thousandth of the unit; None where it is not known.
        packs: the same in packs, where it is sold in packs.
        pack_name: a rate may be for one of these in place of one unit; empty without packs.
        instead: another key whose rate does where the list does not have `key`.
    """

    key: str
    group: str
    unit: str
    quantity: Decimal | None
    packs: Decimal = Decimal(0)
    pack_name: str = ""
    instead: str = ""


@dataclass(frozen=True, slots=True)
class EstimateLine:
    """One thing with its price.

    Attributes:
        key: as a price list names it.
        group: materials, labour or plant.
        unit: of the quantities: the thing's, or one of its packs.
        ordered: what the job orders.
        quantity: what is paid for: the same, or whole packs of the list's own.
        rate: None where the list has none.
        amount: None where the list has no rate.
        pack: what the list sells together, in `unit`; None where it does not say.
    """

    key: str
    group: str
    unit: str
    ordered: Decimal
    quantity: Decimal
    rate: Decimal | None
    amount: Decimal | None
    pack: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Estimate:
    """What a job costs. Money is in `currency`, to the penny.

    Attributes:
        currency: as the list names it.
        lines: every thing, with or without a rate.
        costs: sum of the lines' amounts.
        overheads: on the costs.
        profit: on costs and overheads.
        net: costs, overheads and profit.
        vat: on the net.
        total: net and VAT.
        prices: the list.
        unused: rates of the list that this job does not need.
        unknown: what the job needs so much of as nobody has said; in no sum.
    """

    currency: str
    lines: tuple[EstimateLine, ...]
    costs: Decimal
    overheads: Decimal
    profit: Decimal
    net: Decimal
    vat: Decimal
    total: Decimal
    prices: PriceList
    unused: tuple[str, ...]
    unknown: tuple[str, ...]

    @property
    def without(self) -> tuple[EstimateLine, ...]:
        """What has no rate, and is in no sum."""
        return tuple(line for line in self.lines if line.amount is None)

    @property
    def complete(self) -> bool:
        """Whether every quantity that is known has a rate."""
        return not self.without

    def meant(self, item: str) -> str:
        """What without a rate an unused row may mean, its figures being the same; or empty."""
        digits = FIGURES.findall(item)
        keys = {
            folded(key): key
            for key in dict.fromkeys(line.key for line in self.without)
            if FIGURES.findall(key) == digits
        }
        near = get_close_matches(folded(item), keys, 1, 0.6)
        return keys[near[0]] if near else ""


def items(lines: Iterable[OrderLine], plan: Schedule) -> tuple[Item, ...]:
    """What is to be paid for: materials as ordered, hours by the kind of work, plant.

    A line of which nothing is ordered is nothing to pay for, unless its quantity is not known.
    """
    paid = (line for line in lines if line.needed or not line.known)
    return (*map(_material, paid), *_labour(plan), *_plant(plan))


def _material(line: OrderLine) -> Item:
    group = "taken away" if line.group == "away" else "materials"
    quantity = _quantity(line.order) if line.known else None
    packs = Decimal(up(line.packs))
    return Item(line.key, group, line.unit, quantity, packs, line.pack_name)


def _quantity(value: float) -> Decimal:
    return Decimal(str(round(value, 6))).quantize(THOUSANDTH, ROUND_HALF_UP)


def _labour(plan: Schedule) -> Iterator[Item]:
    for stage in STAGES:
        hours = sum(task.hours for task in plan.tasks if task.stage == stage)
        if hours > 0:
            yield Item(f"{LABOUR}: {stage}", LABOUR, "h", _quantity(hours), instead=LABOUR)


def _plant(plan: Schedule) -> Iterator[Item]:
    if plan.mixer_days:
        yield Item(MIXER, "plant", "day", Decimal(plan.mixer_days))


def wanted(found: Iterable[Item]) -> tuple[tuple[str, str, str], ...]:
    """What a price list for this job holds: item, unit, and how much there is of it."""
    rows: dict[str, tuple[str, Decimal]] = {}
    for item in found:
        if item.quantity is not None:
            key, unit = item.instead or item.key, item.pack_name or item.unit
            much = item.packs if item.pack_name else item.quantity
            rows[key] = (unit, rows.get(key, (unit, Decimal(0)))[1] + much)
    return tuple(
        (key, unit, f"{plain(much)} {plural(unit, much)}") for key, (unit, much) in rows.items()
    )


def estimate(found: Iterable[Item], prices: PriceList) -> Estimate:
    """Price things by a list.

    Raises:
        JobError: rates whose unit is not that of the thing.
    """
    things = tuple(found)
    faults = [fault for thing in things for fault in _unit_faults(thing, prices)]
    if faults:
        raise JobError(list(dict.fromkeys(faults)))
    lines = tuple(
        _line(thing, thing.quantity, prices) for thing in things if thing.quantity is not None
    )
    amounts = [line.amount for line in lines if line.amount is not None]
    costs = sum(amounts, Decimal(0)).quantize(PENNY)
    overheads = _part(costs, prices.overheads_percent, prices)
    profit = _part(costs + overheads, prices.profit_percent, prices)
    net = costs + overheads + profit
    taxed = [*amounts, overheads, profit] if prices.vat_on == "lines" else [net]
    vat = sum((_part(amount, prices.vat_percent, prices) for amount in taxed), Decimal("0.00"))
    used = {folded(key) for thing in things for key in (thing.key, thing.instead)}
    unused = tuple(dict.fromkeys(r.item for r in prices.rates if folded(r.item) not in used))
    unknown = tuple(thing.key for thing in things if thing.quantity is None)
    total = net + vat
    return Estimate(
        prices.currency, lines, costs, overheads, profit, net, vat, total, prices, unused, unknown
    )


def penny(value: Decimal, prices: PriceList) -> Decimal:
    """Rounded to the penny as the list says."""
    return value.quantize(PENNY, ROUNDINGS[prices.rounding])


def plain(value: Decimal) -> str:
    """A number with no more digits than it needs, to a thousandth."""
    text = f"{value.quantize(THOUSANDTH, ROUND_HALF_UP):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _part(value: Decimal, percent: Decimal, prices: PriceList) -> Decimal:
    return penny(value * percent / 100, prices)


def _rate(thing: Item, prices: PriceList) -> Rate | None:
    units = _units(thing)
    own = prices.of(thing.key, *units)
    if (own is None or own.rate is None) and thing.instead:
        return prices.of(thing.instead, *units)
    return own


def _units(thing: Item) -> tuple[str, ...]:
    """What its rate may be for."""
    return (thing.pack_name, thing.unit) if thing.pack_name else (thing.unit,)


def _unit_faults(thing: Item, prices: PriceList) -> Iterator[Fault]:
    others = {key: prices.units_of(key) for key in (thing.key, thing.instead)}
    rate = _rate(thing, prices)
    if rate is not None and rate.pack is not None and _is_part(thing, rate, rate.pack):
        problem = f"a pack of {plain(rate.pack)} has no whole {rate.unit} in it"
        yield Fault(f"{rate.item}, pack", f"{rate.pack:f}", problem, "give how many are in a pack")
    if rate is None:
        for key, units in others.items():
            for unit in units:
                problem = f"the rate is for one {unit}; the job counts {' or '.join(_units(thing))}"
                yield Fault(key, unit, problem, "give the rate for that, in a row of its own")


def _is_part(thing: Item, rate: Rate, pack: Decimal) -> bool:
    """Whether a list's pack would part a thing that is sold whole."""
    by_pack = bool(thing.pack_name) and folded(rate.unit) == folded(thing.pack_name)
    return (by_pack or thing.unit == "nr") and pack != pack.to_integral_value()


def _line(thing: Item, quantity: Decimal, prices: PriceList) -> EstimateLine:
    rate = _rate(thing, prices)
    by_pack = rate is not None and folded(rate.unit) == folded(thing.pack_name)
    unit = thing.pack_name if by_pack else thing.unit
    ordered = thing.packs if by_pack else quantity
    pack = None if rate is None else rate.pack
    paid = ordered if pack is None else _up(ordered, pack)
    money = None if rate is None else rate.rate
    amount = None if money is None else penny(paid * money, prices)
    return EstimateLine(thing.key, thing.group, unit, ordered, paid, money, amount, pack)


def _up(quantity: Decimal, pack: Decimal) -> Decimal:
    """Rounded up to whole packs."""
    return (quantity / pack).to_integral_value(ROUND_CEILING) * pack
