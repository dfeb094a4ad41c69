"""The bill of quantities beside the take-off, and as a second reader sees it."""

from __future__ import annotations

import csv
import io
import re
import warnings
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from strategies import jobs

from parametric_wall.errors import JobError
from parametric_wall.export.bill_csv import bill_csv
from parametric_wall.export.bill_xlsx import bill_xlsx
from parametric_wall.job.read import load, validate
from parametric_wall.job.resolve import resolve
from parametric_wall.order.bill import BillLine, bill, total
from parametric_wall.order.price_files import load_prices
from parametric_wall.order.prices import price_list
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.quantities import quantities

EXAMPLES = Path(__file__).parents[2] / "examples"
BUILT = [p for p in sorted(EXAMPLES.glob("*.toml")) if p.stem != "too-tall"]
SAME = {
    "foundation excavation": "trench, in the ground",
    "concrete in foundations": "concrete in the footing",
    "drainage filling": "drainage layer",
    "topsoil": "soil",
    "wall": "wall, on its centre line",
    "isolated pier": "wall, on its centre line",
    "coping": "coping, on the centre line",
    "damp-proof course": "damp-proof course",
    "movement joint": "movement joint",
    "slip tie": "slip ties",
    "weep hole": "weep holes",
}
EARTH = ("excavation inside planters", "disposal", "filling from excavation")
"""Items that the take-off has no line for."""


def compare(spec) -> None:
    """Every item but where the earth goes is a line of the take-off."""
    laid = set_out(spec)
    net = {q.item: q.net for q in quantities(spec, laid)}
    found: dict[str, list[Decimal]] = {}
    for line in bill(spec, laid):
        key = re.sub(r" [\d.]+( x.*|,.*)?$", "", line.key.removeprefix("bill: "))
        if key in SAME:
            found.setdefault(SAME[key], []).append(line.quantity)
        else:
            assert key in EARTH
    assert set(found) == set(SAME.values()) & set(net)
    for item, parts in found.items():
        # A hundredth is the least that is shown, also of what would be rounded away.
        shown = max(net[item], 0.01)
        assert float(sum(parts)) == pytest.approx(shown, abs=0.0051 * len(parts))


@pytest.mark.parametrize("path", BUILT, ids=[p.stem for p in BUILT])
def test_quantities_are_those_of_the_take_off(path: Path) -> None:
    compare(load(path))


@settings(max_examples=25, deadline=None)
@given(jobs())
def test_they_are_for_any_job(table) -> None:
    try:
        spec = resolve(validate(table))
    except JobError:
        return
    if any(wall.unbonded for wall in set_out(spec).walls):
        return
    compare(spec)


@pytest.mark.parametrize("path", BUILT, ids=[p.stem for p in BUILT])
def test_what_is_dug_is_taken_away_or_filled_in(path: Path) -> None:
    spec = load(path)
    found = {x.key.removeprefix("bill: "): x.quantity for x in bill(spec, set_out(spec))}
    if "foundation excavation" in found:
        parts = found["disposal"] + found.get("filling from excavation", Decimal(0))
        assert abs(parts - found["foundation excavation"]) <= Decimal("0.01")


def planter(rates: bool = True) -> tuple[BillLine, ...]:
    spec = load(EXAMPLES / "herb-planter.toml")
    prices = load_prices(EXAMPLES / "prices" / "rates-invented.toml") if rates else None
    return bill(spec, set_out(spec), prices)


def test_amounts_and_their_total() -> None:
    """0.38 m3 at 99.99 is 37.9962; 2.43 m2 at 88.88 is 215.9784."""
    amounts = {x.key: x.amount for x in planter() if x.amount is not None}
    assert amounts == {
        "bill: foundation excavation": Decimal("38.00"),
        "bill: wall 140, 290x140x140": Decimal("215.98"),
    }
    assert total(planter()) == Decimal("253.98")


def test_a_rate_for_another_unit_is_refused() -> None:
    spec = load(EXAMPLES / "herb-planter.toml")
    row = {"item": "bill: disposal", "unit": "t", "rate": Decimal(1)}
    with pytest.raises(JobError, match="one t; the bill measures m3"):
        bill(spec, set_out(spec), price_list({"currency": "GBP", "rates": [row]}))


def test_csv_as_a_second_reader_sees_it() -> None:
    lines = planter()
    rows = list(csv.DictReader(io.StringIO(bill_csv(lines).decode("utf-8"), newline="")))
    assert [row["item"] for row in rows] == [line.key for line in lines]
    assert [Decimal(row["quantity"]) for row in rows] == [line.quantity for line in lines]
    assert [row["amount"] for row in rows] == [str(x.amount or "") for x in lines]
    assert [row["ref"] for row in rows][:2] == ["5.1", "5.2"]
    assert [row["section"] for row in rows] == sorted(
        (row["section"] for row in rows), key=lambda s: int(s.split()[0])
    )


def sheets(data: bytes):
    openpyxl = pytest.importorskip("openpyxl")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # of the reader's own
        both = [openpyxl.load_workbook(io.BytesIO(data), data_only=x) for x in (False, True)]
    return [book.worksheets[0] for book in both]


def test_the_workbook_has_live_formulas_and_their_values() -> None:
    """Amounts and total are worked out again from the cells that the formulas name."""
    lines = planter()
    live, cached = sheets(bill_xlsx("Planter", lines, "GBP"))
    rows = [
        r
        for r in range(1, live.max_row + 1)
        if re.fullmatch(r"\d+\.\d+", str(live.cell(r, 1).value))
    ]
    assert len(rows) == len(lines)
    amounts = []
    for row, line in zip(rows, lines, strict=True):
        formula = f'=IF(E{row}="","",ROUND(C{row}*E{row},2))'
        assert live.cell(row, 6).value == formula
        quantity, rate = (cached.cell(row, column).value for column in (3, 5))
        assert Decimal(str(quantity)) == line.quantity
        assert cached.cell(row, 4).value == line.unit
        if rate is None:
            assert cached.cell(row, 6).value in (None, "")
            continue
        amount = (Decimal(str(quantity)) * Decimal(str(rate))).quantize(
            Decimal("0.01"), ROUND_HALF_UP
        )
        assert Decimal(str(cached.cell(row, 6).value)) == amount
        amounts.append(amount)
    last = live.max_row
    first, end = map(int, re.fullmatch(r"=SUM\(F(\d+):F(\d+)\)", live.cell(last, 6).value).groups())
    assert first <= rows[0]
    assert rows[-1] <= end < last
    assert Decimal(str(cached.cell(last, 6).value)) == sum(amounts) > 0


def test_the_workbook_without_rates_can_be_priced_by_hand() -> None:
    live, cached = sheets(bill_xlsx("Planter", planter(rates=False)))
    last = live.max_row
    assert cached.cell(last, 6).value == 0
    assert live.cell(last, 6).value.startswith("=SUM(F")


def test_a_title_is_never_a_formula() -> None:
    live, _ = sheets(bill_xlsx("=1+1", planter()))
    assert (live.cell(1, 1).value, live.cell(1, 1).data_type) == ("=1+1", "s")


def test_the_same_bill_is_the_same_bytes() -> None:
    assert bill_xlsx("Planter", planter()) == bill_xlsx("Planter", planter())
    assert b"2000-01-01" not in bill_csv(planter())
