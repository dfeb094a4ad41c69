"""A bill of quantities as a workbook: live formulas, and their values beside them."""

from __future__ import annotations

import datetime as dt
import io
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from parametric_wall.export.bill_csv import refs
from parametric_wall.order.bill import PREAMBLE, BillLine, total

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

CREATED = dt.datetime(2000, 1, 1)  # noqa: DTZ001 (workbooks know no time zones)
"""Fixed, so that the same bill is the same bytes."""
WIDTHS = (8, 70, 11, 7, 12, 14)
HEAD = ("ref", "description", "quantity", "unit", "rate", "amount")


def bill_xlsx(title: str, lines: tuple[BillLine, ...], currency: str = "") -> bytes:
    """A bill as XLSX; a rate typed into it gives its amount and the total.

    Args:
        title: of the job.
        lines: of the bill.
        currency: of the rates, as text; empty where there are none.
    """
    import xlsxwriter

    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False}) as book:
        book.set_properties({"title": title, "created": CREATED})
        formats = {
            name: book.add_format(look)
            for name, look in {
                "title": {"bold": True, "font_size": 14},
                "head": {"bold": True, "bottom": 1},
                "bold": {"bold": True},
                "text": {"text_wrap": True, "valign": "top"},
                "quantity": {"num_format": "0.00", "valign": "top"},
                "number": {"num_format": "0", "valign": "top"},
                "money": {"num_format": "#,##0.00", "valign": "top"},
                "total": {"num_format": "#,##0.00", "bold": True, "top": 1},
            }.items()
        }
        sheet = book.add_worksheet("Bill of quantities")
        for column, width in enumerate(WIDTHS):
            sheet.set_column(column, column, width)
        sheet.set_landscape()
        sheet.set_paper(9)
        sheet.fit_to_pages(1, 0)
        _fill(sheet, title, lines, currency, formats)
    return out.getvalue()


def _fill(
    sheet: Worksheet,
    title: str,
    lines: tuple[BillLine, ...],
    currency: str,
    formats: dict[str, Any],
) -> None:
    sheet.write_string(0, 0, title, formats["title"])
    for row, text in enumerate(PREAMBLE, 1):
        sheet.write_string(row, 0, text)
    row = len(PREAMBLE) + 2
    for column, text in enumerate(HEAD):
        shown = f"{text}, {currency}" if currency and text in ("rate", "amount") else text
        sheet.write_string(row, column, shown, formats["head"])
    sheet.repeat_rows(row)
    sheet.freeze_panes(row + 1, 0)
    section, first = "", row + 1
    for ref, line in zip(refs(lines), lines, strict=True):
        row += 1
        if line.section != section:
            section = line.section
            sheet.write_string(row, 1, section, formats["bold"])
            row += 1
        _item(sheet, row, ref, line, formats)
    sheet.write_string(row + 2, 1, "Total of the items with a rate", formats["bold"])
    value = float(total(lines))
    sheet.write_formula(row + 2, 5, f"=SUM(F{first + 1}:F{row + 1})", formats["total"], value)


def _item(sheet: Worksheet, row: int, ref: str, line: BillLine, formats: dict[str, Any]) -> None:
    sheet.write_string(row, 0, ref, formats["text"])
    sheet.write_string(row, 1, line.description, formats["text"])
    shape = formats["number" if line.unit == "nr" else "quantity"]
    sheet.write_number(row, 2, float(line.quantity), shape)
    sheet.write_string(row, 3, line.unit, formats["text"])
    if line.rate is None:
        sheet.write_blank(row, 4, None, formats["money"])
    else:
        sheet.write_number(row, 4, float(line.rate), formats["money"])
    here = row + 1
    formula = f'=IF(E{here}="","",ROUND(C{here}*E{here},2))'
    sheet.write_formula(row, 5, formula, formats["money"], _cached(line.amount))


def _cached(amount: Decimal | None) -> float | str:
    return "" if amount is None else float(amount)
