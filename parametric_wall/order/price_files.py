"""Reads a price list from TOML or CSV, and writes one to be filled in.

A CSV has the head ``item, unit, rate, pack`` and a row a thing. Rows whose item is the
name of a setting (``currency``, ``overheads_percent``, ...) have its value as rate.
Columns are parted by commas, semicolons or tabs. A decimal comma is understood where
commas do not part the columns, and where it can mean nothing else.
"""

from __future__ import annotations

import csv
import io
import re
import tomllib
from collections.abc import Iterable
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from parametric_wall.errors import Fault, JobError
from parametric_wall.job.faults import shown
from parametric_wall.order.prices import PriceList, price_list

MOST_BYTES = 1_000_000
HEAD = ("item", "unit", "rate", "pack")
SETTINGS = tuple(name for name in PriceList.model_fields if name != "rates")
TEXTS = ("currency", "vat_on", "rounding")
PLAIN = re.compile(r"\d+(\.\d+)?")
COMMA = re.compile(r"\d+(,\d+)?")
THOUSANDS = re.compile(r"\d{1,3}[.,]\d{3}")


def load_prices(source: Path | str) -> PriceList:
    """Read a price list; by its ending, ``.csv`` is CSV and everything else TOML.

    Raises:
        JobError: with every fault found.
        OSError: the file cannot be read.
    """
    path = Path(source)
    with path.open("rb") as file:
        data = file.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise JobError([Fault(path.name, "", f"is longer than {MOST_BYTES} bytes: no price list")])
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        hint = "save it as UTF-8; spreadsheets call that CSV UTF-8"
        at = f"is not UTF-8 text at byte {error.start}"
        raise JobError([Fault(path.name, "", at, hint)]) from None
    if "\0" in text:
        raise JobError([Fault(path.name, "", "is not UTF-8 text", "save it as UTF-8")])
    return from_csv(text) if path.suffix.lower() == ".csv" else from_toml(text)


def from_toml(text: str) -> PriceList:
    """A price list from TOML text.

    Raises:
        JobError: with every fault found.
    """
    hint = "numbers have a point, not a comma; text stands in quotes"
    try:
        table = tomllib.loads(text, parse_float=_decimal)
    except (ValueError, RecursionError, InvalidOperation) as error:
        raise JobError([Fault("rates", "", f"is not TOML: {error}", hint)]) from None
    return price_list(table)


def _decimal(text: str) -> Decimal:
    return Decimal(text.replace("_", ""))


def from_csv(text: str) -> PriceList:
    """A price list from CSV text.

    Raises:
        JobError: with every fault found.
    """
    lines = text.splitlines()
    mark = _mark(lines[0] if lines else "")
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True))
    except csv.Error as error:
        raise JobError([Fault("rates", "", f"is not CSV: {error}")]) from None
    head = [cell.strip().lower() for cell in rows[0]] if rows else []
    if tuple(head[:3]) != HEAD[:3] or any(cell not in (*HEAD, "") for cell in head):
        hint = f"the first line names the columns: {','.join(HEAD)}"
        raise JobError([Fault("line 1", shown(",".join(head)), "is no head of a price list", hint)])
    return _table(rows, mark)


def _mark(head: str) -> str:
    return max((",", ";", "\t"), key=head.count)


def _table(rows: list[list[str]], mark: str) -> PriceList:
    table: dict[str, Any] = {"rates": []}
    places: dict[str, str] = {}
    faults: list[Fault] = []
    for line, cells in enumerate(rows[1:], 2):
        item, unit, rate, pack, *more = [*(c.strip() for c in cells), *[""] * 4]
        if not any(c.strip() for c in cells):
            continue
        at = f"line {line}"
        if len(cells) > len(rows[0]) or any(more):
            hint = "a figure with a comma in it stands in quotes, or has a point"
            faults.append(Fault(at, shown(mark.join(cells)), "has more cells than the head", hint))
        elif item in SETTINGS:
            if item in table:
                faults.append(Fault(f"{at}, {item}", shown(rate), "is given twice"))
            table[item] = rate if item in TEXTS else _figure(rate, mark, f"{at}, rate", faults)
            places[item] = f"{at}, {item}"
        else:
            places[f"rates.{len(table['rates'])}"] = at
            row: dict[str, Decimal | str] = {"item": item, "unit": unit}
            row |= {
                key: _figure(cell, mark, f"{at}, {key}", faults)
                for key, cell in (("rate", rate), ("pack", pack))
            }
            table["rates"].append(row)
    if faults:
        raise JobError(faults)
    return price_list(table, places)


def _figure(text: str, mark: str, at: str, faults: list[Fault]) -> Decimal | str:
    """A figure; an empty text where there is none, or where it is a fault."""
    if text == "":
        return ""
    if mark != "," and THOUSANDS.fullmatch(text):
        hint = "write 1250, or 1.25 with as many digits as it needs"
        faults.append(Fault(at, shown(text), "may mean thousands or a fraction", hint))
    elif PLAIN.fullmatch(text):
        return Decimal(text)
    elif mark != "," and COMMA.fullmatch(text):
        return Decimal(text.replace(",", "."))
    else:
        hint = "a decimal comma is understood only where semicolons or tabs part the columns"
        faults.append(
            Fault(at, shown(text), "must be a number: digits and one point", hint)
            if "," in text
            else Fault(at, shown(text), "must be a number: digits and one point, no sign")
        )
    return ""


def blank_toml(wanted: Iterable[tuple[str, str, str]]) -> str:
    """A price list to be filled in: of each thing its item, its unit, and how much there is."""
    rows = [(f'"{item}"', f'"{unit}"', much) for item, unit, much in wanted]
    items, units = (max(len(row[i]) for row in rows) for i in (0, 1))
    lines = [
        f'  {{ item = {item + ",":{items + 1}} unit = {unit + ",":{units + 1}} rate = "" }},'
        f"   # {much}"
        for item, unit, much in rows
    ]
    return BLANK + "\n".join(["rates = [", *lines, "]", ""])


BLANK = """\
# A price list. Put a figure, without quotes and with a point, in place of every "".
# What keeps its "" is listed apart in the price, and not counted.
# pack = 48 beside a rate: sold only 48 at a time, and rounded up to that.

currency = "GBP"
overheads_percent = 0
profit_percent = 0            # on costs and overheads
vat_percent = 0
vat_on = "total"              # or "lines"
rounding = "half up"          # or "half even"

"""


def blank_csv(wanted: Iterable[tuple[str, str, str]]) -> str:
    """The same as CSV; spreadsheets see by the first character that it is UTF-8."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    settings = ("GBP", "0", "0", "0", "total", "half up")
    writer.writerow(HEAD)
    writer.writerows((name, "", value, "") for name, value in zip(SETTINGS, settings, strict=True))
    writer.writerows((item, unit, "", "") for item, unit, _ in wanted)
    return "\ufeff" + out.getvalue()
