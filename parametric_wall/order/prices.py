"""A price list: what one unit of a thing costs. The user's own; none is ever made up here."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import (
    Field,
    TypeAdapter,
    ValidationError,
    WithJsonSchema,
    field_validator,
    model_validator,
)

from parametric_wall.errors import Fault, JobError
from parametric_wall.job.faults import shown
from parametric_wall.job.parts import Table

MOST_RATE = 1_000_000
MOST_PERCENT = 200
MOST_VAT_PERCENT = 100
MOST_PLACES = 6


def _number(most: int) -> dict[str, Any]:
    return {"type": "number", "minimum": 0, "maximum": most}


def _number_or_none(most: int) -> dict[str, Any]:
    return {"anyOf": [_number(most), {"const": ""}]}


Percent = Annotated[
    Decimal,
    Field(ge=0, le=MOST_PERCENT, decimal_places=MOST_PLACES),
    WithJsonSchema(_number(MOST_PERCENT)),
]
VatPercent = Annotated[
    Decimal,
    Field(ge=0, le=MOST_VAT_PERCENT, decimal_places=MOST_PLACES),
    WithJsonSchema(_number(MOST_VAT_PERCENT)),
]
Money = Annotated[
    Decimal | None,
    Field(ge=0, le=MOST_RATE, decimal_places=MOST_PLACES),
    WithJsonSchema(_number_or_none(MOST_RATE)),
]
Pack = Annotated[
    Decimal | None,
    Field(gt=0, le=MOST_RATE, decimal_places=MOST_PLACES),
    WithJsonSchema(_number_or_none(MOST_RATE)),
]
Rounding = Literal["half up", "half even"]
VatOn = Literal["total", "lines"]


class Rate(Table):
    """What one unit of a thing costs; without a figure, it is still to be filled in."""

    item: str = Field(min_length=1, max_length=100)
    unit: str = Field(min_length=1, max_length=40)
    rate: Money = None
    pack: Pack = Field(
        default=None, description="units that are sold together, where not as the order has it"
    )

    @field_validator("rate", "pack", mode="before")
    @classmethod
    def _empty_is_none(cls, value: object) -> object:
        """An empty text is a figure still to come; a whole number is as exact as a decimal."""
        if value == "":
            return None
        if isinstance(value, int) and not isinstance(value, bool):
            return Decimal(value)
        return value


class PriceList(Table):
    """A price list: money, what comes on top, how it is rounded, and the rates."""

    currency: str = Field(min_length=1, max_length=10, description="as text, for instance GBP")
    overheads_percent: Percent = Decimal(0)
    profit_percent: Percent = Field(default=Decimal(0), description="on costs and overheads")
    vat_percent: VatPercent = Decimal(0)
    vat_on: VatOn = Field(default="total", description="VAT on the total, or line by line")
    rounding: Rounding = Field(default="half up", description="of half a penny")
    rates: tuple[Rate, ...] = Field(default=(), max_length=5000, strict=False)

    @field_validator("overheads_percent", "profit_percent", "vat_percent", mode="before")
    @classmethod
    def _whole_is_exact(cls, value: object) -> object:
        if isinstance(value, int) and not isinstance(value, bool):
            return Decimal(value)
        return value

    @model_validator(mode="after")
    def _each_once(self) -> PriceList:
        found = Counter(_pair(rate) for rate in self.rates)
        named = {_pair(rate): f"{rate.item}, unit {rate.unit}" for rate in reversed(self.rates)}
        twice = sorted(named[pair] for pair, count in found.items() if count > 1)
        if twice:
            msg = f"more than one row for {'; '.join(twice)}: keep one of them"
            raise ValueError(msg)
        return self

    def of(self, item: str, *units: str) -> Rate | None:
        """The rate of a thing for one of some units, if the list has one, empty or not.

        Args:
            item: as the list names it.
            units: the first that has a figure is taken.
        """
        pairs = [(folded(item), folded(unit)) for unit in units]
        found = [rate for pair in pairs for rate in self.rates if _pair(rate) == pair]
        return next((rate for rate in found if rate.rate is not None), next(iter(found), None))

    def units_of(self, item: str) -> tuple[str, ...]:
        """The units for which the list has a rate of a thing."""
        return tuple(rate.unit for rate in self.rates if folded(rate.item) == folded(item))


def folded(name: str) -> str:
    """A name whose capitals and spaces do not count."""
    return " ".join(name.casefold().split())


def _pair(rate: Rate) -> tuple[str, str]:
    return folded(rate.item), folded(rate.unit)


def price_list(table: dict[str, Any], places: dict[str, str] | None = None) -> PriceList:
    """Check a price list's tables.

    Args:
        table: as the file has them; figures with a point are `Decimal`.
        places: where else in the file a path stands, for instance ``rates.0`` to ``line 7``.

    Raises:
        JobError: with every fault found.
    """
    try:
        return TypeAdapter(PriceList).validate_python(table)
    except ValidationError as error:
        raise JobError([_fault(item, places or {}) for item in error.errors()]) from None


NUMBER = "must be a number from 0 to {}: no sign, no quotes, no thousands separator"
CURRENCY = 'add the row currency,,GBP to a CSV, the line currency = "GBP" to TOML'
WORDS = {
    "missing": "is missing",
    "extra_forbidden": "is not a known key",
    "string_type": "must be text",
    "string_too_short": "must not be empty",
    "string_too_long": "is too long",
    "too_long": "has too many rows for a price list",
    "tuple_type": "must be a list of tables, each with item, unit and rate",
    "model_type": "must be a table with item, unit and rate",
    "decimal_max_places": f"has more than {MOST_PLACES} digits after the point",
}


def _fault(item: Any, places: dict[str, str]) -> Fault:
    path = ".".join(map(str, item["loc"]))
    for start, place in places.items():
        if path == start or path.startswith(f"{start}."):
            path = f"{place}{path.removeprefix(start)}".replace(".", ", ", 1)
    kind = item["type"]
    value = "" if kind == "missing" or not path else shown(item["input"])
    key = str((item["loc"] or ("",))[-1])
    hint = CURRENCY if (kind, key) == ("missing", "currency") else ""
    return Fault(path or "rates", value, _problem(item, key), hint)


def _problem(item: Any, key: str) -> str:
    kind = item["type"]
    if kind in WORDS:
        return WORDS[kind]
    if kind == "literal_error":
        return f"must be {item['ctx']['expected']}"
    if kind == "value_error":
        return str(item["ctx"]["error"])
    if key == "pack":
        return f"must be a number more than 0 and at most {MOST_RATE}"
    if key == "rate" or key.endswith("_percent"):
        return NUMBER.format(
            {"rate": MOST_RATE, "vat_percent": MOST_VAT_PERCENT}.get(key, MOST_PERCENT)
        )
    return str(item["msg"])
