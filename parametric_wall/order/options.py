"""Options side by side: what each takes of everything, how long, and what it costs."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from parametric_wall.checks.finding import Grade
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.days import Schedule, schedule
from parametric_wall.order.estimate import Estimate, estimate, items
from parametric_wall.order.materials import order_lines
from parametric_wall.order.prices import PriceList


@dataclass(frozen=True, slots=True)
class Option:
    """One way to build.

    Attributes:
        name: as it is shown.
        stops: codes of the findings that stop it; then there is nothing else.
        quantities: of everything, by item and unit, as ordered.
        plan: its days.
        price: None without a price list.
    """

    name: str
    stops: tuple[str, ...]
    quantities: dict[tuple[str, str], float]
    plan: Schedule | None = None
    price: Estimate | None = None


def option(name: str, spec: JobSpec, prices: PriceList | None) -> Option:
    """Set out, check, order, plan and price one option.

    Raises:
        JobError: a rate is for another unit, or the days are past counting.
    """
    # Only here: the screen knows options, and most of what it shows needs no check.
    from parametric_wall.checks.check import check
    from parametric_wall.setting_out.set_out import set_out

    laid = set_out(spec)
    stops = tuple(dict.fromkeys(f.code for f in check(spec, laid) if f.grade is Grade.STOP))
    if stops:
        return Option(name, stops, {})
    lines, plan = order_lines(spec, laid), schedule(spec, laid)
    price = None if prices is None else estimate(items(lines, plan), prices)
    much = {(line.key, line.unit): line.order for line in lines if line.needed}
    return Option(name, (), much, plan, price)


def things(options: Iterable[Option]) -> tuple[tuple[str, str], ...]:
    """Everything that any option takes, item and unit, in order."""
    return tuple(dict.fromkeys(key for found in options for key in found.quantities))


def figures(
    options: tuple[Option, ...], shown: Callable[[float], str]
) -> list[tuple[str, str, list[str]]]:
    """A row a thing: item, unit, and how much of it each option takes."""
    return [
        (
            item,
            unit,
            ["" if o.stops else shown(o.quantities.get((item, unit), 0.0)) for o in options],
        )
        for item, unit in things(options)
    ]
