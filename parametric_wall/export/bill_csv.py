"""A bill of quantities as CSV."""

from __future__ import annotations

import csv
import io
from decimal import Decimal

from parametric_wall.order.bill import BillLine

HEAD = ("section", "ref", "item", "description", "quantity", "unit", "rate", "amount")


def bill_csv(lines: tuple[BillLine, ...]) -> bytes:
    """A bill: a row an item; rate and amount are empty where the price list has none."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEAD)
    for ref, line in zip(refs(lines), lines, strict=True):
        row = (line.section, ref, line.key, line.description, line.quantity, line.unit)
        writer.writerow([*row, _money(line.rate), _money(line.amount)])
    return out.getvalue().encode("utf-8")


def refs(lines: tuple[BillLine, ...]) -> list[str]:
    """Each item's reference: its section's number, and its place in it."""
    found: list[str] = []
    for line in lines:
        number = line.section.split()[0]
        found.append(f"{number}.{sum(ref.split('.')[0] == number for ref in found) + 1}")
    return found


def _money(value: Decimal | None) -> str:
    return "" if value is None else f"{value:f}"
