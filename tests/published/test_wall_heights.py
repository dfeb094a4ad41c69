"""The public height table for garden walls. Read: planning portal's page (1/2 brick; 1 brick in
zones 1 to 3), a brick association's quotations (1 brick in zone 4; sheltered 725 and 1925), and
secondary copies (1 1/2 brick and 100 block in zone 1). From memory: every other cell."""

from __future__ import annotations

import math

import pytest

from parametric_wall.checks.check import check
from parametric_wall.checks.finding import Finding
from parametric_wall.job.read import loads
from parametric_wall.reference.wall_heights import ZONES, height_limit
from parametric_wall.setting_out.set_out import set_out

READ = [
    ("brick", 102.5, (525, 450, 400, 375)),
    ("brick", 215, (1450, 1300, 1175, 1075)),
    ("brick", 327.5, (2400,)),
    ("block", 100, (450,)),
]
FROM_MEMORY = [
    ("brick", 327.5, (None, 2175, 2000, 1825)),
    ("block", 100, (None, 400, 350, 325)),
    ("block", 200, (1050, 925, 850, 775)),
]


def cells(rows):
    return [
        (kind, thickness, zone, height)
        for kind, thickness, heights in rows
        for zone, height in enumerate(heights, 1)
        if height is not None
    ]


@pytest.mark.parametrize(("kind", "thickness", "zone", "height"), cells(READ))
def test_cells_that_were_read(kind, thickness, zone, height) -> None:
    cell = height_limit(kind, thickness, zone)
    assert (cell.height, cell.standing) == (height, "read")


@pytest.mark.parametrize(("kind", "thickness", "zone", "height"), cells(FROM_MEMORY))
def test_cells_from_memory_say_so(kind, thickness, zone, height) -> None:
    cell = height_limit(kind, thickness, zone)
    assert (cell.height, cell.standing) == (height, "from memory")


@pytest.mark.parametrize(("thickness", "height"), [(102.5, 725), (215, 1925)])
def test_sheltered_places_in_the_best_zone(thickness: float, height: float) -> None:
    cell = height_limit("brick", thickness, 1, sheltered=True)
    assert (cell.height, cell.sheltered) == (height, True)
    for zone in ZONES[1:]:  # No sheltered figure is known there: the exposed one counts.
        exposed = height_limit("brick", thickness, zone)
        assert height_limit("brick", thickness, zone, sheltered=True) == exposed


@pytest.mark.parametrize(
    ("kind", "thickness", "same_as"),
    [("block", 140, 100), ("block", 199.9, 100), ("block", 215, 200), ("brick", 327.4, 215)],
)
def test_between_two_rows_the_thinner_counts(kind, thickness, same_as) -> None:
    for zone in ZONES:
        assert height_limit(kind, thickness, zone) == height_limit(kind, same_as, zone)


@pytest.mark.parametrize(("kind", "thickness"), [("brick", 102), ("block", 99)])
def test_thinner_than_every_row_there_is_none(kind: str, thickness: float) -> None:
    assert height_limit(kind, thickness, 1) is None


@pytest.mark.parametrize(
    ("kind", "thickness", "zone"),
    [("stone", 215, 1), ("brick", 215, 0), ("brick", 215, 5), ("brick", 0, 1), ("block", -1, 1)],
)
def test_nonsense_is_refused(kind, thickness, zone) -> None:
    with pytest.raises(ValueError, match="must be"):
        height_limit(kind, thickness, zone)
    with pytest.raises(ValueError, match="more than 0"):
        height_limit("brick", math.nan, 1)


def found(
    finished: int, site: str = "", block: str = "440x100x215", unit: str = "", more: str = ""
) -> dict[str, Finding]:
    plan = more or 'plan = { shape = "straight", length_mm = 3590 }'
    rise = int(block.rpartition("x")[2]) + 10
    courses, level = divmod(finished, rise)
    masonry = f'[masonry]\nunit = "{unit}"' if unit else ""
    spec = loads(
        f'title = "height"\n[block]\nsize = "{block}"\n[base]\nlevel_mm = {level}\n{masonry}\n'
        f'[site]\n{site}\n[[walls]]\nname = "w"\nheight = {{ courses = {courses} }}\n'
        f"{plan}\n"
    )
    return {f.code: f for f in check(spec, set_out(spec))}


@pytest.mark.parametrize(("zone", "height"), [(1, 450), (2, 400), (3, 350), (4, 325)])
def test_a_taller_wall_is_to_be_looked_at(zone: int, height: int) -> None:
    site = f"exposure_zone = {zone}"
    assert "height-table" not in found(height, site)
    said = found(height + 1, site)["height-table"]
    assert said.grade == "look at this"
    assert (said.limit, said.standing) == (height, "read" if zone == 1 else "from memory")
    assert "engineer" in said.meaning.ask


def test_a_zone_that_is_not_given_is_asked_for_with_the_range() -> None:
    codes = found(430)
    assert "height-table" not in codes
    assert "between 325 and 450" in codes["zone-not-given"].message
    assert "zone-not-given" not in found(430, "exposure_zone = 4")
    assert "in every zone" in found(451)["height-table"].message


@pytest.mark.parametrize(("unit", "height"), [("clay", 525), ("calcium silicate", 450)])
def test_rows_of_bricks_are_for_bricks(unit: str, height: int) -> None:
    bricks, site = "215x102.5x65", "exposure_zone = 1"
    assert "height-table" not in found(height, site, bricks, unit)
    assert "height-table" in found(height + 1, site, bricks, unit)


def test_the_table_is_not_for_planters() -> None:
    """They hold back soil, for which the table says nothing."""
    plan = 'plan = { shape = "rectangle", length_mm = 2690, width_mm = 1790 }'
    codes = found(560, more=f"{plan}\nfill = {{ below_coping_mm = 0 }}")
    assert codes.keys() & {"height-table", "zone-not-given"} == set()
