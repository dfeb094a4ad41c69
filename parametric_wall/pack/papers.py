"""All that a build writes beside the models: tables, lists, plots and pictures."""

from __future__ import annotations

from parametric_wall.checks.check import calculations
from parametric_wall.drawings.plots.gantt import gantt
from parametric_wall.drawings.plots.plots import sheets
from parametric_wall.drawings.still.axonometric import still
from parametric_wall.export.bill_csv import bill_csv
from parametric_wall.export.bill_xlsx import bill_xlsx
from parametric_wall.export.cut_list import cut_list_csv, laying_csv, lengths_csv
from parametric_wall.export.day_records import days_record
from parametric_wall.export.order_records import order_csv, order_record
from parametric_wall.export.records import json_bytes, setting_out_record
from parametric_wall.export.still_svg import still_svg
from parametric_wall.export.svg import svg
from parametric_wall.export.take_off import take_off_record
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.bill import bill
from parametric_wall.order.days import schedule
from parametric_wall.order.prices import PriceList
from parametric_wall.pack.folder import BILL_CSV, BILL_XLSX, DAYS, DAYS_CHART, STILL
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.cut_lists import by_length, in_laying_order
from parametric_wall.takeoff.cutting import cut_units
from parametric_wall.takeoff.quantities import Quantity


def papers(
    spec: JobSpec, laid: SettingOut, lines: tuple[Quantity, ...], prices: PriceList | None
) -> dict[str, bytes]:
    """Every paper of a job under the name of its file.

    Args:
        spec: the job.
        laid: its setting-out; every run is bonded.
        lines: its take-off.
        prices: rates for the items of the bill.

    Raises:
        JobError: a rate is for another unit, or the days are past counting.
    """
    return {
        **_tables(spec, laid, lines),
        **_bill(spec, laid, prices),
        **_days(spec, laid),
        **_plots(spec),
        f"{spec.name}{STILL}": still_svg(still(laid, spec)),
    }


def _tables(spec: JobSpec, laid: SettingOut, lines: tuple[Quantity, ...]) -> dict[str, bytes]:
    """The setting-out, the take-off, the cut lists and the order."""
    cuts = cut_units(spec, laid)
    as_laid = in_laying_order(laid, cuts)
    return {
        "setting-out.json": json_bytes(setting_out_record(spec, laid)),
        "take-off.json": json_bytes(take_off_record(spec, laid, lines, cuts)),
        "cut-list.csv": cut_list_csv(cuts),
        "cut-list-laying.csv": laying_csv(as_laid),
        "cut-list-lengths.csv": lengths_csv(by_length(as_laid)),
        "order.json": json_bytes(order_record(spec, laid)),
        "order.csv": order_csv(spec, laid),
    }


def _bill(spec: JobSpec, laid: SettingOut, prices: PriceList | None) -> dict[str, bytes]:
    billed = bill(spec, laid, prices)
    currency = "" if prices is None else prices.currency
    return {
        BILL_CSV: bill_csv(billed),
        BILL_XLSX: bill_xlsx(spec.job.title, billed, currency),
    }


def _days(spec: JobSpec, laid: SettingOut) -> dict[str, bytes]:
    plan = schedule(spec, laid)
    return {
        DAYS: json_bytes(days_record(spec, plan)),
        f"{spec.name}{DAYS_CHART}": svg(gantt(spec.name, spec.job.title, plan)),
    }


def _plots(spec: JobSpec) -> dict[str, bytes]:
    """A plot of every calculation that has one."""
    return {
        f"{spec.name}-{sheet.name}.svg": svg(sheet)
        for found in calculations(spec)
        for sheet in sheets(spec, found)
    }
