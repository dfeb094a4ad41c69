"""Prices and options as JSON. Money is text, so that not a penny is lost; empty without a rate."""

from __future__ import annotations

from decimal import Decimal

from typing_extensions import TypedDict

from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.estimate import Estimate
from parametric_wall.order.options import Option


class PriceLineRecord(TypedDict):
    """One thing with its price."""

    item: str
    group: str
    unit: str
    ordered: float
    pack: float | None
    quantity: float
    rate: str
    amount: str


class PriceRecord(TypedDict):
    """What a job costs by a price list."""

    job: str
    title: str
    currency: str
    lines: list[PriceLineRecord]
    costs: str
    overheads: str
    profit: str
    net: str
    vat: str
    total: str
    without: list[str]
    unknown: list[str]
    unused: list[str]


class AmountRecord(TypedDict):
    """How much of a thing an option takes."""

    item: str
    unit: str
    quantity: float


class OptionRecord(TypedDict):
    """One option: the codes of what stops it, or what it takes."""

    name: str
    stops: list[str]
    quantities: list[AmountRecord]
    days: int
    last_day: int
    hours: float
    currency: str
    total: str
    comparable: bool
    without: list[str]
    unknown: list[str]


class OptionsRecord(TypedDict):
    """Options side by side."""

    options: list[OptionRecord]


def price_record(spec: JobSpec, found: Estimate) -> PriceRecord:
    """What a job costs."""
    return {
        "job": spec.name,
        "title": spec.job.title,
        "currency": found.currency,
        "lines": [
            {
                "item": line.key,
                "group": line.group,
                "unit": line.unit,
                "ordered": float(line.ordered),
                "pack": None if line.pack is None else float(line.pack),
                "quantity": float(line.quantity),
                "rate": _text(line.rate),
                "amount": _text(line.amount),
            }
            for line in found.lines
        ],
        "costs": _text(found.costs),
        "overheads": _text(found.overheads),
        "profit": _text(found.profit),
        "net": _text(found.net),
        "vat": _text(found.vat),
        "total": _text(found.total),
        "without": [line.key for line in found.without],
        "unknown": list(found.unknown),
        "unused": list(found.unused),
    }


def options_record(options: tuple[Option, ...]) -> OptionsRecord:
    """Options side by side."""
    return {"options": [_option(found) for found in options]}


def _option(found: Option) -> OptionRecord:
    plan, price = found.plan, found.price
    return {
        "name": found.name,
        "stops": list(found.stops),
        "quantities": [
            {"item": item, "unit": unit, "quantity": round(much, 6)}
            for (item, unit), much in found.quantities.items()
        ],
        "days": 0 if plan is None else len(plan.days),
        "last_day": 0 if plan is None else plan.days[-1].number,
        "hours": 0.0 if plan is None else round(plan.hours, 3),
        "currency": "" if price is None else price.currency,
        "total": "" if price is None else _text(price.total),
        "comparable": price is not None and price.complete,
        "without": [] if price is None else [line.key for line in price.without],
        "unknown": [] if price is None else list(price.unknown),
    }


def _text(value: Decimal | None) -> str:
    return "" if value is None else f"{value:f}"
