"""What is told of a family of blocks that is no family, and of courses that it cannot lay."""

from __future__ import annotations

import math

import pytest

from parametric_wall.errors import JobError
from parametric_wall.export.records import setting_out_record
from parametric_wall.job.read import loads
from parametric_wall.pack import tables
from parametric_wall.pack.compare import options
from parametric_wall.setting_out.set_out import set_out

WALL = (
    '[[walls]]\nname = "w"\nplan = { shape = "straight", length_mm = 1790 }\n'
    "height = { courses = 3 }\n"
)
FIGURES = "length_mm = 440\nwidth_mm = 140\n"


def job(block: str, bond: str = "", walls: str = WALL) -> str:
    return f'title = "family"\n[block]\n{block}\n[bond]\n{bond}\n{walls}'


@pytest.mark.parametrize(
    ("block", "bond", "path", "problem"),
    [
        (FIGURES + "height_mm = 65\nheights_mm = [65, 140]", "", "block.height_mm", "not both"),
        (FIGURES + "heights_mm = [65]", "", "block.heights_mm", "at least 2"),
        (FIGURES + "heights_mm = [65, 65]", "", "block.heights_mm", "named once"),
        (FIGURES + "heights_mm = [65, 9]", "", "block.heights_mm.1", "from 40 to 500"),
        (FIGURES + "heights_mm = [65, 90, 140, 215]", "", "block.heights_mm", "at most 3"),
        (FIGURES, "", "block.height_mm", "is missing"),
        (
            FIGURES + "heights_mm = [65, 140]",
            "course_heights_mm = [65, 190]",
            "walls.0.bond.course_heights_mm.1",
            "is no height of the block: 65, 140",
        ),
        (
            'size = "440x140x140"',
            "course_heights_mm = [65]",
            "walls.0.bond.course_heights_mm.0",
            "is no height of the block: 140",
        ),
    ],
)
def test_a_fault_names_its_key(block: str, bond: str, path: str, problem: str) -> None:
    with pytest.raises(JobError) as raised:
        loads(job(block, bond))
    (fault,) = raised.value.faults
    assert fault.path == path
    assert problem in fault.problem


def test_a_familys_heights_stand_in_place_of_the_named_sizes_own() -> None:
    spec = loads(job('size = "440x140x140"\nheights_mm = [65, 140]')).walls[0]
    assert spec.gauge.heights == (65, 140, 65)


def test_the_screen_and_the_record_tell_the_heights() -> None:
    spec = loads(job(FIGURES + "heights_mm = [65, 140]"))
    laid = set_out(spec)
    text = tables.walls(spec, laid)
    assert "3 courses of 440 x 140 x 65/140; gauge 75/150 (bed 10)" in text
    assert "blocks 440x140x65; none can do it with fewer" in text
    (level,) = setting_out_record(spec, laid)["levels"]
    assert level["gauge_mm"] is None
    assert level["block_heights_mm"] == [65, 140, 65]


def test_bonds_side_by_side_weigh_every_height_by_its_own_volume() -> None:
    """1790 takes four whole blocks, or three and two halves, whatever the height of a course."""
    spec = loads(job(FIGURES + "heights_mm = [65, 140]"))
    half = next(o for o in options(spec) if o.bond == "half" and o.perps == "as set")
    plain = next(
        o
        for o in options(loads(job(FIGURES + "height_mm = 140")))
        if o.bond == "half" and o.perps == "as set"
    )
    assert (half.blocks, half.cuts) == (plain.blocks, plain.cuts)
    assert 0 < half.waste_percent < 10


def test_walls_that_share_a_height_share_its_offcuts() -> None:
    """2015 takes four whole blocks and a half in every course, and two halves make a block.

    With courses of 140, 65 and 140 beside three of 140, five halves are of one height.
    """
    shape, figures = WALL.replace("1790", "2015"), FIGURES + "heights_mm = [140, 65]"
    plain = shape.replace('"w"', '"x"') + f"[walls.block]\n{FIGURES}height_mm = 140\n"
    cutting = "[cutting]\nloss_mm = 0\n"
    bond = 'wish = "half"\nadjust = false'
    spec = loads(job(figures, bond, cutting + shape + plain))
    laid = set_out(spec)
    found = {name: c.blocks for name, c in laid.certificates}
    halves = {140: 2 + 3, 65: 1}
    assert found == {
        f"440x140x{height}": 4 * count + math.ceil(count / 2) for height, count in halves.items()
    }
