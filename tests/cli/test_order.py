"""The order on the screen, as JSON and in the folder of results."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from helpers_cli import Command

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
MIXER = ("--with", "mixing.mixer_l=90", "--with", "mixing.bucket_l=14")


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
def test_every_example_has_its_order_or_none(wall: Command, path: Path) -> None:
    plain, record = wall("order", path, *MIXER), wall("order", path, *MIXER, "--json")
    stopped = path.stem == "too-tall"
    assert plain.code == record.code == int(stopped)
    assert ("lines" in record.json) != stopped
    assert ("to order" in plain.out) != stopped
    if not stopped:
        for line in record.json["lines"]:
            assert line["key"] in plain.out
            added = sum(step["adds"] for step in line["steps"])
            assert line["net"] + added == pytest.approx(line["order"], abs=1e-5)
        assert "Mixing sheet" in plain.out
        assert "burn skin" in plain.out


def test_the_screen_names_whose_rule_it_is(wall: Command, job: Path) -> None:
    said = " ".join(wall("order", job, "--with", "packs.blocks=48").out.split())
    assert "rounded up to whole packs of 48 (the job file)" in said
    assert "waste 5 % (estimating notes: 63 for 60 to the m2; read)" in said
    assert "the dosage is the maker's" in said
    assert "give [mixing] mixer_l or bucket_l" in said


def test_a_mix_it_does_not_know_is_bad_input(wall: Command, job: Path) -> None:
    ran = wall("order", job, "--with", "mortar.mix=M5")
    assert (ran.code, ran.out) == (2, "")
    assert "known: M12, M6, M4, M2" in ran.err


@pytest.mark.cad
def test_the_written_order_is_the_same(wall: Command, job: Path, built: Path) -> None:
    record = wall("order", job, "--json").json
    assert json.loads((built / "order.json").read_bytes()) == record
    rows = list(csv.DictReader(io.StringIO((built / "order.csv").read_text(encoding="utf-8"))))
    assert [row["key"] for row in rows] == [line["key"] for line in record["lines"]]
    for row, line in zip(rows, record["lines"], strict=True):
        assert float(row["to order"]) == pytest.approx(line["order"], abs=6e-4)
