"""Soil behind a wall, asked and refused through the command line."""

from __future__ import annotations

import pytest
from helpers_cli import JOB, Command


def given(wall: Command, soil: str, *words: str):
    text = f"{JOB}soil = {{ {soil} }}\n"
    return wall("check", "-", "--json", *words, stdin=text.encode())


@pytest.mark.parametrize(
    ("soil", "path", "value", "allowed"),
    [
        ("retained_mm = 200, slope_deg = 25", "slope_deg", "25", "less than 20.5"),
        ("retained_mm = 100, water_mm = 400", "water_mm", "400", "from 0 to 300"),
        ("retained_mm = 900", "retained_mm", "900", "from 0 to 250"),
        ("retained_mm = -1", "retained_mm", "-1", "from 0 to 3000"),
        ("friction_deg = 0", "friction_deg", "0", "from 10 to 50"),
        ("friction_deg = 90", "friction_deg", "90", "from 10 to 50"),
    ],
)
def test_nonsense_is_refused_with_path_value_and_range(wall, soil, path, value, allowed) -> None:
    ran = given(wall, soil)
    assert ran.code == 2
    (fault,) = ran.json["faults"]
    assert (fault["path"], fault["value"]) == (f"walls.0.soil.{path}", value)
    assert allowed in fault["problem"]


def test_a_wall_without_thickness_holds_nothing(wall: Command) -> None:
    block = "block={length_mm=440, width_mm=0, height_mm=140}"
    ran = given(wall, "retained_mm = 200", "--with", block)
    assert ran.code == 2
    assert [fault["path"] for fault in ran.json["faults"]] == ["block.width_mm"]


def test_a_wall_that_holds_soil_back_is_found_wanting_and_not_stopped(wall: Command) -> None:
    ran = given(wall, "retained_mm = 240")
    assert ran.code == 0
    codes = {f["code"]: f for f in ran.json["findings"]}
    assert {"retaining-overturns", "water-held", "soil-assumed", "retaining-drainage"} <= set(codes)
    assert all(
        codes["retaining-overturns"][key] for key in ("value", "limit", "source", "next", "ask")
    )
