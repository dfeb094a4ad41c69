"""Days, price, price lists and options, as they are asked for."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from helpers_cli import JOB, Command
from jsonschema import Draft202012Validator

from parametric_wall.order.price_files import load_prices
from parametric_wall.pack.schemas import schema

ALL_AT_TWO = {'rate = ""': "rate = 2", "vat_percent = 0": "vat_percent = 20"}

BY_THE_TONNE = """
  { item = "building sand", unit = "t", rate = 2 },
  { item = "ballast", unit = "t", rate = 2 },
"""


@pytest.fixture
def rates(wall: Command, job: Path, tmp_path: Path) -> Path:
    """A price list of the job: everything at 2, and VAT at 20 %."""
    path = tmp_path / "rates.toml"
    assert wall("rates", job, path).code == 0
    text = path.read_text(encoding="utf-8")
    for old, new in ALL_AT_TWO.items():
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("name", ["list.toml", "list.csv"])
def test_a_price_list_is_never_written_over(
    wall: Command, job: Path, tmp_path: Path, name: str
) -> None:
    path = tmp_path / name
    path.write_text("mine", encoding="utf-8")
    ran = wall("rates", job, path)
    assert (ran.code, path.read_text(encoding="utf-8")) == (2, "mine")
    assert "exists already" in ran.err


def test_a_blank_list_can_be_read_and_prices_nothing(
    wall: Command, job: Path, tmp_path: Path
) -> None:
    for name in ("a.toml", "a.csv"):
        assert wall("rates", job, tmp_path / name).code == 0
        ran = wall("price", job, "--rates", tmp_path / name, "--json")
        assert (ran.code, ran.json["total"]) == (0, "0.00")
        assert len(ran.json["without"]) == len(ran.json["lines"])
    assert load_prices(tmp_path / "a.toml") == load_prices(tmp_path / "a.csv")


def test_a_list_needs_a_known_ending(wall: Command, job: Path, tmp_path: Path) -> None:
    assert wall("rates", job, tmp_path / "rates.xls").code == 2


def test_a_price_adds_up(wall: Command, job: Path, rates: Path) -> None:
    """Every amount is twice its quantity; VAT is a fifth of the sum."""
    ran = wall("price", job, "--rates", rates, "--json")
    assert Draft202012Validator(schema("price")).is_valid(ran.json)
    found = ran.json
    amounts = [Decimal(line["amount"]) for line in found["lines"]]
    for line, amount in zip(found["lines"], amounts, strict=True):
        assert amount == pytest.approx(Decimal(str(line["quantity"])) * 2, abs=Decimal("0.005"))
    assert Decimal(found["net"]) == sum(amounts)
    assert Decimal(found["total"]) == Decimal(found["net"]) + Decimal(found["vat"])
    assert f"{Decimal(found['total']):,.2f}" in wall("price", job, "--rates", rates).out


def test_the_total_says_what_it_is_without(wall: Command, job: Path, rates: Path) -> None:
    text = rates.read_text(encoding="utf-8").replace("rate = 2 ", 'rate = "" ', 1)
    rates.write_text(text, encoding="utf-8")
    ran = wall("price", job, "--rates", rates)
    assert ran.code == 0
    assert "TOTAL, without 2 items " in ran.out
    assert "Without a rate, and in no sum:" in ran.out
    assert "does not say how much: plasticiser." in ran.out


@pytest.mark.parametrize("command", ["days", "price", "rates"])
def test_a_job_that_stops_has_none(
    wall: Command, too_tall: Path, rates: Path, tmp_path: Path, command: str
) -> None:
    words = {"days": [], "price": ["--rates", rates], "rates": [tmp_path / "other.toml"]}
    ran = wall(command, too_tall, *words[command], "--json")
    assert ran.code == 1
    assert ran.json["stops"] is True
    assert not (tmp_path / "other.toml").exists()


def test_days_as_data_and_as_text(wall: Command, job: Path) -> None:
    ran = wall("days", job, "--json")
    assert Draft202012Validator(schema("days")).is_valid(ran.json)
    done = {task["task"] for day in ran.json["days"] for task in day["tasks"]}
    assert done == {task["key"] for task in ran.json["tasks"]}
    shown = wall("days", job).out
    assert "1 night " in shown
    assert "below 3 degrees" in shown
    assert all(task["what"] in shown for task in ran.json["tasks"])
    assert wall("days", job, "--quiet").out == ""


def test_options_side_by_side(wall: Command, job: Path, rates: Path, tmp_path: Path) -> None:
    other = tmp_path / "longer.toml"
    other.write_text(JOB.replace("1790", "3590"), encoding="utf-8")
    words = (job, other, "--or", "walls.front.height.courses=3", "--rates", rates)
    refused = wall("options", *words)
    assert refused.code == 2
    fault = "longer: ballast = bag of 25 kg: the rate is for one bag of 25 kg"
    assert fault in refused.err
    text = rates.read_text(encoding="utf-8").replace("rates = [", f"rates = [\n{BY_THE_TONNE}")
    rates.write_text(text, encoding="utf-8")
    ran = wall("options", *words, "--json")
    assert ran.code == 0
    assert Draft202012Validator(schema("options")).is_valid(ran.json)
    names = [o["name"] for o in ran.json["options"]]
    assert names == ["wall", "walls.front.height.courses=3", "longer"]
    alone = wall("price", job, "--rates", rates, "--json").json
    assert ran.json["options"][0]["total"] == alone["total"]
    changed = ("--with", "walls.front.height.courses=3")
    second = wall("price", job, *changed, "--rates", rates, "--json").json
    assert ran.json["options"][1]["total"] == second["total"]
    text = wall("options", *words).out
    assert all(name in text for name in names)


def test_an_option_that_stops_has_no_figures(wall: Command, job: Path, too_tall: Path) -> None:
    ran = wall("options", job, too_tall, "--json")
    assert ran.code == 1
    good, bad = ran.json["options"]
    assert (good["stops"], bad["stops"]) == ([], ["wall-height"])
    assert (bad["quantities"], bad["days"], bad["total"]) == ([], 0, "")


@pytest.mark.parametrize(
    "words",
    [
        ("options",),
        ("options", "--or", "walls.front.height.courses"),
        ("options", "--or", "walls.front.height.courses=0"),
        ("price", "--rates", "nowhere.toml"),
        ("price",),
    ],
)
def test_bad_words_are_bad_input(wall: Command, job: Path, words: tuple[str, ...]) -> None:
    ran = wall(words[0], job, *words[1:])
    assert (ran.code, ran.out) == (2, "")


@pytest.mark.cad
def test_a_build_prices_its_bill(wall: Command, job: Path, tmp_path: Path) -> None:
    path = tmp_path / "rates.csv"
    path.write_text(
        "item;unit;rate;pack\ncurrency;;EUR;\nbill: foundation excavation;m3;12,5;\n",
        encoding="utf-8",
    )
    assert wall("build", job, "--out", tmp_path / "out", "--rates", path).code == 0
    rows = (tmp_path / "out" / "bill.csv").read_text(encoding="utf-8").splitlines()
    assert ",12.5," in rows[1]
    svg = (tmp_path / "out" / "wall-days.svg").read_text(encoding="utf-8")
    assert "lay courses 1 to 2, front" in svg
