"""What the command asks of the place, and what it says of where a limit comes from."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers_cli import Command

from parametric_wall.checks.check import CAUTIONS, looked_at

FAULTS = [
    ("site.exposure_zone=5", "site.exposure_zone"),
    ("site.exposure_zone=2.5", "site.exposure_zone"),
    ("site.exposure_zone=true", "site.exposure_zone"),
    ("masonry.control=true", "masonry.control"),
    ("masonry.control=3", "masonry.control"),
    ('site.exposure_zone="2"', "site.exposure_zone"),
    ('site.highway="motorway"', "site.highway"),
    ("site.neighbour_distance_mm=-1", "site.neighbour_distance_mm"),
    ("site.neighbour_founded_mm=nan", "site.neighbour_founded_mm"),
    ("site.street_distance_mm=inf", "site.street_distance_mm"),
    ("site.street_level_mm=20001", "site.street_level_mm"),
    ("site.zone=2", "site.zone"),
    ('ground.kind="mud"', "ground.kind"),
    ('ground.shrinkable="very"', "ground.shrinkable"),
    ("ground.shrinkable=true", "ground.shrinkable"),
]


@pytest.mark.parametrize(("change", "path"), FAULTS)
def test_a_place_that_cannot_be_is_a_fault(
    wall: Command, job: Path, change: str, path: str
) -> None:
    ran = wall("check", job, "--with", change, "--json")
    assert ran.code == 2
    assert path in [fault["path"] for fault in ran.json["faults"]]


def codes(wall: Command, job: Path, *changes: str) -> dict[str, dict[str, object]]:
    words = [word for change in changes for word in ("--with", change)]
    return {f["code"]: f for f in wall("check", job, *words, "--json").json["findings"]}


def test_what_is_given_is_no_longer_asked(wall: Command, job: Path) -> None:
    asked = {"zone-not-given", "neighbour-not-given", "ground-not-given"}
    given = ('ground.kind="rock"', "site.exposure_zone=1", "site.neighbour_distance_mm=9000")
    assert codes(wall, job).keys() >= asked
    assert codes(wall, job, *given).keys() & asked == set()


def test_a_finding_says_how_far_its_source_can_be_trusted(wall: Command, job: Path) -> None:
    found = codes(wall, job)
    assert found["shallow-footing"]["standing"] == "from memory"
    assert found["neighbour-not-given"]["standing"] == "read"
    said = " ".join(wall("check", job).out.split())
    assert "away from trees (from memory, confirm)." in said
    assert "Party Wall etc. Act 1996, section 6(1) and (2)." in said


def test_every_finding_says_what_next_and_whom_to_ask(wall: Command, job: Path) -> None:
    said = " ".join(wall("check", job).out.split())
    found = codes(wall, job)
    assert found.keys() >= set(CAUTIONS)
    for finding in found.values():
        assert f"{finding['next']} Ask: {finding['ask']}." in said


def test_no_objection_names_the_checks_that_were_made(wall: Command, job: Path) -> None:
    said = " ".join(wall("check", job).out.split())
    names = ", ".join(name for name, _ in looked_at())
    assert f"No objection found by these checks: {names}." in said
    record = wall("check", job, "--json").json
    assert [row["name"] for row in record["looked_at"]] == [name for name, _ in looked_at()]
    assert all(row["covers"] for row in record["looked_at"])


def test_what_is_to_be_looked_at_is_counted_in_the_verdict(wall: Command, job: Path) -> None:
    said = " ".join(wall("check", job, "--with", "footing.depth_mm=100").out.split())
    assert "Look first at the 1 named above. Beyond that, no objection found" in said
    assert "No objection" not in said
    assert "Look first" not in " ".join(wall("check", job).out.split())


def test_the_sheet_for_the_site_is_printed_when_asked_for(wall: Command, job: Path) -> None:
    plain, asked = wall("check", job), wall("check", job, "--on-site")
    assert "To check on site:" not in plain.out
    assert "To check on site:" in asked.out
    for row in wall("check", job, "--json").json["check_sheet"]:
        assert row["what"] in asked.out


def test_calculations_are_shown_with_their_ratio(wall: Command, job: Path) -> None:
    change = ("--with", 'ground.kind="soft clay or silt"')
    (found,) = wall("check", job, *change, "--json").json["calculations"]
    use = next(u for u in found["uses"] if u["name"].startswith("width"))
    assert (use["effect"], use["resistance"]) == (450, 340)
    assert use["ratio"] == pytest.approx(450 / 340, abs=1e-6)
    assert "1.32" in wall("check", job, *change).out
    assert found["not_counted"]


def test_a_calculation_is_nothing_on_an_existing_base(wall: Command, job: Path) -> None:
    record = wall("check", job, "--with", "base.level_mm=0", "--json").json
    assert record["calculations"] == []
