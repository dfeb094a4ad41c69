"""Prices to the penny, checked by plain arithmetic; and price lists as people save them."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric_wall.errors import JobError
from parametric_wall.job.read import load
from parametric_wall.order.days import Schedule, schedule
from parametric_wall.order.estimate import Estimate, Item, estimate, items, wanted
from parametric_wall.order.line import OrderLine, Step
from parametric_wall.order.materials import order_lines
from parametric_wall.order.options import Option
from parametric_wall.order.price_files import (
    blank_csv,
    blank_toml,
    from_csv,
    from_toml,
    load_prices,
)
from parametric_wall.order.prices import PriceList, price_list
from parametric_wall.pack.pricing import options_text, price_text
from parametric_wall.setting_out.set_out import set_out

EXAMPLES = Path(__file__).parents[2] / "examples"
NOBODY = Schedule(None, (), ())


def prices(rates: dict[str, str], unit: str = "nr", **more) -> PriceList:
    rows = [{"item": k, "unit": unit, "rate": Decimal(v)} for k, v in rates.items()]
    return price_list({"currency": "GBP", "rates": rows, **more})


def of(quantities: dict[str, str], found: PriceList, unit: str = "nr") -> Estimate:
    things = [Item(k, "materials", unit, Decimal(v)) for k, v in quantities.items()]
    return estimate(things, found)


@pytest.mark.parametrize(
    ("rounding", "amount"),
    [("half up", "0.13"), ("half even", "0.12")],
)
def test_half_a_penny_goes_as_the_list_says(rounding: str, amount: str) -> None:
    """0.5 x 0.25 = 0.125."""
    found = of({"sand": "0.5"}, prices({"sand": "0.25"}, rounding=rounding))
    assert found.total == Decimal(amount)


@pytest.mark.parametrize(
    ("rounding", "vat"),
    [("half up", ["0.01", "0.02"]), ("half even", ["0.00", "0.02"])],
)
def test_half_a_penny_of_vat_too(rounding: str, vat: list[str]) -> None:
    """5 % of 0.10 and of 0.30 are 0.005 and 0.015."""
    more = {"rounding": rounding, "vat_percent": 5}
    for rate, expected in zip(("0.10", "0.30"), vat, strict=True):
        assert of({"x": "1"}, prices({"x": rate}, **more)).vat == Decimal(expected)


@pytest.mark.parametrize(("on", "vat"), [("total", "0.07"), ("lines", "0.06")])
def test_vat_of_twenty_on_the_total_or_on_each_line(on: str, vat: str) -> None:
    """20 % of 0.36 is 0.072; of 0.12 it is 0.024, three times 0.02."""
    rates = dict.fromkeys(("a", "b", "c"), "0.12")
    found = of(dict.fromkeys(rates, "1"), prices(rates, vat_on=on, vat_percent=20))
    assert (found.net, found.vat) == (Decimal("0.36"), Decimal(vat))


def test_overheads_then_profit_on_both_then_vat() -> None:
    """100; 10 % is 10; 5 % of 110 is 5.50; 20 % of 115.50 is 23.10: 138.60."""
    more = {"overheads_percent": 10, "profit_percent": 5, "vat_percent": 20}
    found = of({"x": "4"}, prices({"x": "25"}, **more))
    parts = (found.costs, found.overheads, found.profit, found.net, found.vat, found.total)
    assert [str(p) for p in parts] == ["100.00", "10.00", "5.50", "115.50", "23.10", "138.60"]


def test_what_has_no_rate_is_apart_and_not_nothing() -> None:
    found = of({"a": "1", "b": "2", "c": "3"}, from_toml(BLANK_B))
    assert [line.key for line in found.without] == ["b", "c"]
    assert found.total == Decimal("1.50")
    assert next(line for line in found.lines if line.key == "b").amount is None


BLANK_B = """
currency = "GBP"
rates = [{ item = "a", unit = "nr", rate = 1.5 }, { item = "b", unit = "nr", rate = "" }]
"""


def test_a_rate_of_nought_is_a_rate() -> None:
    found = of({"a": "1"}, prices({"a": "0"}))
    assert (found.without, found.total) == ((), Decimal("0.00"))


def test_a_rate_for_another_unit_is_refused_with_both() -> None:
    with pytest.raises(JobError, match="one t; the job counts m3"):
        of({"sand": "1"}, prices({"sand": "30"}, unit="t"), unit="m3")


CEMENT = OrderLine(
    "cement", "mortar", "kg", 101.4, (Step("to bags", 23.6, "", ""),), 25, "bag of 25 kg", 125
)


def test_a_rate_may_be_for_a_pack() -> None:
    """125 kg are 5 bags: at 6.10 a bag 30.50, as at 0.244 a kg."""
    things = items([CEMENT], NOBODY)
    by_bag = estimate(things, prices({"cement": "6.10"}, unit="bag of 25 kg"))
    by_kg = estimate(things, prices({"cement": "0.244"}, unit="kg"))
    assert by_bag.total == by_kg.total == Decimal("30.50")
    assert (by_bag.lines[0].quantity, by_bag.lines[0].unit) == (5, "bag of 25 kg")
    assert wanted(things) == (("cement", "bag of 25 kg", "5 bags of 25 kg"),)


SACKS = """
currency = "GBP"
rates = [
  { item = "cement", unit = "bag of 25 kg", rate = 6.10 },
  { item = "cement", unit = "kg", rate = 0.30 },
  { item = "sand", unit = "bag of 25 kg", rate = "" },
  { item = "sand", unit = "t", rate = 40 },
]
"""


def test_a_thing_may_have_a_rate_for_each_unit_it_is_sold_in() -> None:
    """The pack's own rate goes first, then the unit's; an empty one gives way to a figure.

    Five bags at 6.10 are 30.50; three of sand are 0.075 t, at 40 a tonne 3.00.
    """
    sand = OrderLine("sand", "mortar", "t", 0.075, (), 0.025, "bag of 25 kg", 75)
    found = estimate(items([CEMENT, sand], NOBODY), from_toml(SACKS))
    assert [str(line.amount) for line in found.lines] == ["30.50", "3.00"]


def test_odd_sizes_of_pack_are_counted_as_ordered() -> None:
    """Three bulk bags of 825.5 kg are 2.4765 t: three to pay for, not four."""
    line = OrderLine("sand", "mortar", "t", 2.4765, (), 0.8255, "bulk bag of 825.5 kg")
    found = estimate(items([line], NOBODY), prices({"sand": "50"}, unit="bulk bag of 825.5 kg"))
    assert (found.lines[0].quantity, found.total) == (3, Decimal("150.00"))


def test_what_is_not_bought_costs_nothing_and_what_is_not_known_is_named() -> None:
    """Soil that is all used again is no line; without the maker's dosage there is no quantity."""
    spec = load(EXAMPLES / "herb-planter.toml", changes={"digging.reuse_as_fill": "true"})
    laid = set_out(spec)
    lines = {line.key: line for line in order_lines(spec, laid)}
    assert lines["topsoil"].order == pytest.approx(0, abs=1e-9)
    found = estimate(items(lines.values(), NOBODY), prices({}))
    assert "topsoil" not in {line.key for line in found.lines}
    assert found.unknown == ("plasticiser",)
    dosed = load(EXAMPLES / "herb-planter.toml", changes={"mortar.plasticiser_ml_per_bag": "150"})
    found = estimate(items(order_lines(dosed, set_out(dosed)), NOBODY), prices({}))
    assert found.unknown == ()
    assert "plasticiser" in {line.key for line in found.without}


def test_the_list_may_sell_in_packs_of_its_own() -> None:
    """57 in packs of 10 are 60."""
    rows = [{"item": "b", "unit": "nr", "rate": Decimal(2), "pack": Decimal(10)}]
    found = of({"b": "57"}, price_list({"currency": "GBP", "rates": rows}))
    assert (found.lines[0].quantity, found.total) == (60, Decimal("120.00"))


def planned(example: str) -> tuple[Item, ...]:
    spec = load(EXAMPLES / f"{example}.toml")
    laid = set_out(spec)
    return items(order_lines(spec, laid), schedule(spec, laid))


def test_the_invented_list_prices_an_example_whole() -> None:
    things = planned("herb-planter")
    found = estimate(things, load_prices(EXAMPLES / "prices" / "rates-invented.toml"))
    assert found.without == ()
    rates = {line.key: line.rate for line in found.lines}
    assert rates["labour: lay"] == Decimal("33.33")
    assert rates["labour: dig"] == Decimal("22.22")
    amounts = [
        (x.quantity * x.rate).quantize(Decimal("0.01"), "ROUND_HALF_UP") for x in found.lines
    ]
    assert found.costs == sum(amounts)
    assert "block 440x140x140" in found.unused


def test_a_blank_list_holds_what_the_job_needs_and_no_price() -> None:
    things = planned("herb-planter")
    rows = wanted(things)
    toml, csv = from_toml(blank_toml(rows)), from_csv(blank_csv(rows).removeprefix("\ufeff"))
    assert toml == csv
    assert all(rate.rate is None for rate in toml.rates)
    found = estimate(things, toml)
    assert found.unknown == ("plasticiser",)
    needed = [t for t in things if t.key != "plasticiser"]
    assert {line.key for line in found.without} == {t.key for t in needed}
    assert {rate.item for rate in toml.rates} == {t.instead or t.key for t in needed}


RATES = st.decimals(0, 1000, places=2)


@given(st.lists(RATES, min_size=2, max_size=8), st.data())
def test_a_rate_changes_its_line_and_what_follows_from_it(rates, data) -> None:
    keys = [f"k{i}" for i in range(len(rates))]
    much = {k: str(data.draw(st.decimals(0, 50, places=3))) for k in keys}
    more = {
        "vat_percent": Decimal(20),
        "vat_on": data.draw(st.sampled_from(("total", "lines"))),
        "rounding": data.draw(st.sampled_from(("half up", "half even"))),
        "overheads_percent": data.draw(st.decimals(0, 30, places=1)),
    }
    given_rates = dict(zip(keys, map(str, rates), strict=True))
    changed = data.draw(st.sampled_from(keys))
    before = of(much, prices(given_rates, **more))
    after = of(much, prices(given_rates | {changed: str(data.draw(RATES))}, **more))
    for old, new in zip(before.lines, after.lines, strict=True):
        assert old == new or old.key == changed
    for found in (before, after):
        assert found.costs == sum(line.amount for line in found.lines)
        assert found.net == found.costs + found.overheads + found.profit
        assert found.total == found.net + found.vat
        assert all(x == x.quantize(Decimal("0.01")) for x in (found.vat, found.total))
    pairs = zip(before.lines, after.lines, strict=True)
    moved = sum(new.amount - old.amount for old, new in pairs)
    assert after.costs - before.costs == moved


HEAD = "item,unit,rate,pack\r\ncurrency,,EUR,\r\n"


@pytest.mark.parametrize(
    "text",
    [
        f"{HEAD}sand,t,31.5,\r\n",
        f"{HEAD}sand,t,31.50,\n\n",
        HEAD.replace(",", ";") + "sand;t;31,5;\r\n",
        HEAD.replace(",", ";") + "sand;t;31.5;\r\n",
        HEAD.replace(",", "\t") + "sand\tt\t31,50\t\r\n",
        'Item,Unit,Rate\ncurrency,,EUR\n"sand","t","31.5"\n',
    ],
)
def test_csv_as_programs_save_it(text: str, tmp_path: Path) -> None:
    for start in ("", "\ufeff"):
        path = tmp_path / "rates.csv"
        path.write_bytes((start + text).encode("utf-8"))
        found = load_prices(path)
        assert (found.currency, found.of("sand", "t").rate) == ("EUR", Decimal("31.5"))


@pytest.mark.parametrize(
    ("rows", "problem"),
    [
        ('sand,t,"31,5",\n', "line 3, rate.*decimal comma"),
        ("sand,t,31,5,\n", "line 3.*more cells than the head"),
        ("sand,t,-1,\n", "line 3, rate"),
        ("sand,t,1e400,\n", "line 3, rate"),
        ("sand,t,nan,\n", "line 3, rate"),
        ("sand,t,2000000,\n", "line 3, rate.*from 0 to 1000000"),
        ("sand,,1,\n", "line 3, unit.*must not be empty"),
        ("sand,t,1,0\n", "line 3, pack.*more than 0"),
        ("sand,t,1,\nsand,t,2,\n", "more than one row for sand, unit t"),
        ("vat_percent,,101,\n", "line 3, vat_percent.*from 0 to 100"),
        ("currency,,GBP,\n", "line 3, currency.*given twice"),
        ("rounding,,sometimes,\n", "line 3, rounding.*'half up' or 'half even'"),
    ],
)
def test_csv_that_is_refused_line_by_line(rows: str, problem: str) -> None:
    with pytest.raises(JobError, match=problem):
        from_csv(HEAD + rows)


@pytest.mark.parametrize("figure", ["1.250", "1,250", "12.345", "1.250,50"])
def test_what_may_mean_thousands_is_refused(figure: str) -> None:
    with pytest.raises(JobError, match="line 3, rate"):
        from_csv(HEAD.replace(",", ";") + f"sand;t;{figure};\n")


@pytest.mark.parametrize("text", ["", "sand,t,1\n", "rate,item,unit\n", '"item,unit\n'])
def test_csv_without_its_head_is_refused(text: str) -> None:
    with pytest.raises(JobError):
        from_csv(text)


@pytest.mark.parametrize(
    ("line", "problem"),
    [
        ("rate = -0.01", "rates.0.rate"),
        ("rate = nan", "rates.0.rate"),
        ("rate = inf", "rates.0.rate"),
        ("rate = 1e9", "rates.0.rate"),
        ("rate = true", "rates.0.rate"),
        ("rate = 1e-7", "rates.0.rate.*more than 6 digits after the point"),
        ('rate = "1.50"', "rates.0.rate"),
        ("rate = 1,50", "numbers have a point"),
        ("price = 1", "rates.0.price.*not a known key"),
        ("pack = 0", "rates.0.pack"),
    ],
)
def test_toml_that_is_refused(line: str, problem: str) -> None:
    text = f'currency = "GBP"\n[[rates]]\nitem = "sand"\nunit = "t"\n{line}\n'
    with pytest.raises(JobError, match=problem):
        from_toml(text)


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("rates = 3", "must be a list of tables"),
        ('rates = ["cement"]', "rates.0.*must be a table with item, unit and rate"),
        ('rates = [{ item = "a", rate = 1 }]', "rates.0.unit.*is missing"),
    ],
)
def test_rates_that_are_no_table_are_told_in_plain_words(text: str, problem: str) -> None:
    with pytest.raises(JobError, match=problem):
        from_toml(f'currency = "GBP"\n{text}\n')


def test_a_list_without_a_currency_is_refused() -> None:
    for read, text in ((from_toml, "rates = []\n"), (from_csv, "item,unit,rate\nsand,t,1\n")):
        with pytest.raises(JobError, match=r"currency.*is missing"):
            read(text)


@pytest.mark.parametrize("data", [b"\xff\xfei\0t\0", b"caf\xe9", b"a\0b", b"x" * 1_000_001])
def test_bytes_that_are_no_text_are_refused(data: bytes, tmp_path: Path) -> None:
    for name in ("r.csv", "r.toml"):
        (tmp_path / name).write_bytes(data)
        with pytest.raises(JobError):
            load_prices(tmp_path / name)


def test_figures_are_as_exact_as_they_are_written() -> None:
    found = from_toml('currency = "GBP"\nrates = [{ item = "a", unit = "m", rate = 0.1 }]')
    assert found.of("a", "m").rate == Decimal("0.1")


PACKED = "item,unit,rate,pack\ncurrency,,GBP,\nblock 290x140x140,nr,2,22\n"


def test_a_decimal_comma_in_the_wrong_file_shows_as_packs() -> None:
    """57 in packs of 22 are three packs, 66 blocks: 132.00 at 2 (arithmetic)."""
    found = of({"block 290x140x140": "57"}, from_csv(PACKED))
    line = found.lines[0]
    assert (line.ordered, line.pack, line.quantity, found.total) == (57, 22, 66, Decimal("132.00"))
    text = price_text(found)
    assert "66  nr, 3 packs of 22" in text
    assert "the job orders 57" in text


def test_whole_packs_that_change_nothing_need_no_note() -> None:
    assert "the job orders" not in price_text(of({"block 290x140x140": "44"}, from_csv(PACKED)))


@pytest.mark.parametrize("row", ["Block 290X140X140,NR", "block  290x140x140,nr"])
def test_capitals_and_spaces_of_a_name_do_not_count(row: str) -> None:
    found = of({"block 290x140x140": "2"}, from_csv(f"{HEAD}{row},1.5,\n"))
    assert (found.total, found.unused) == (Decimal("3.00"), ())


def test_names_alike_but_for_their_capitals_are_refused() -> None:
    with pytest.raises(JobError, match="more than one row for Sand, unit t"):
        from_csv(f"{HEAD}Sand,t,1,\nsand,T,2,\n")


def test_a_misspelt_item_is_asked_about_and_another_size_is_not() -> None:
    rows = "bloc 290x140x140,nr,1,\nblock 440x140x140,nr,1,\n"
    found = of({"block 290x140x140": "2"}, from_csv(HEAD + rows))
    assert found.total == 0
    said = " ".join(price_text(found).split())
    assert "bloc 290x140x140 (perhaps block 290x140x140), block 440x140x140." in said


def test_a_pack_with_half_a_block_in_it_is_refused() -> None:
    with pytest.raises(JobError, match=r"block 290x140x140, pack = 1.5"):
        of({"block 290x140x140": "57"}, from_csv(f"{HEAD}block 290x140x140,nr,2,1.5\n"))
    assert of({"sand": "1"}, from_csv(f"{HEAD}sand,t,2,1.5\n"), unit="t").total == 3


def test_totals_that_leave_things_out_are_no_totals_to_compare() -> None:
    whole, part = (of({"a": "1", "b": "1"}, prices(r)) for r in ({"a": "9", "b": "9"}, {"a": "1"}))
    text = options_text(tuple(Option(n, (), {}, None, p) for n, p in (("x", whole), ("y", part))))
    total = next(line for line in text.splitlines() if line.startswith("total with VAT"))
    assert total.split()[-3:] == ["18.00", "not", "comparable"]
    assert "only what has a rate" in text
    assert "Not comparable: a total that leaves out" in text
