"""What is told of mixed lengths that are none, and how a wall of them is told."""

from __future__ import annotations

import math
from collections import Counter

import pytest

from parametric_wall.checks.check import check
from parametric_wall.checks.limits import block_mass
from parametric_wall.errors import JobError
from parametric_wall.export.records import setting_out_record
from parametric_wall.export.take_off import take_off_record
from parametric_wall.job.read import loads
from parametric_wall.pack import tables
from parametric_wall.pack.compare import compared_text, options
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.cutting import cut_units
from parametric_wall.takeoff.quantities import quantities

WALL = (
    '[[walls]]\nname = "w"\nplan = { shape = "straight", length_mm = 3990 }\n'
    "height = { courses = 3 }\n"
)
FIGURES = "width_mm = 100\nheight_mm = 140\n"
LENGTHS = FIGURES + "lengths_mm = [190, 290, 390]\n"
PACKS = LENGTHS + "mix = [1, 2, 1]\n"


def job(block: str, bond: str = "", walls: str = WALL) -> str:
    return f'title = "mixed"\n[block]\n{block}\n[bond]\n{bond}\n{walls}'


@pytest.mark.parametrize(
    ("block", "bond", "path", "problem"),
    [
        (LENGTHS + "length_mm = 290", "", "block.length_mm", "not both"),
        (FIGURES + "lengths_mm = [290]", "", "block.lengths_mm", "at least 2"),
        (FIGURES + "lengths_mm = [290, 290]", "", "block.lengths_mm", "named once"),
        (FIGURES + "lengths_mm = [290, 9]", "", "block.lengths_mm.1", "from 100 to 1000"),
        (FIGURES + "lengths_mm = [390, 190]", "", "block.lengths_mm", "begin with the shortest"),
        (FIGURES + "lengths_mm = [190, 190.0000001]", "", "block.lengths_mm", "whole tenths"),
        (FIGURES + "lengths_mm = [190, 290.05]", "", "block.lengths_mm", "whole tenths"),
        (FIGURES + "lengths_mm = [190, 290, 390, 440, 490]", "", "block.lengths_mm", "at most 4"),
        (FIGURES, "", "block.length_mm", "is missing"),
        (FIGURES + "length_mm = 290\nmix = [1, 2]", "", "block.mix", "give lengths_mm"),
        (LENGTHS + "mix = [1, 2]", "", "block.mix", "2 numbers for 3 lengths"),
        (LENGTHS + "mix = [1, 0, 1]", "", "block.mix.1", "from 1 to 100"),
        (FIGURES + "lengths_mm = [100, 290]", "", "block", "must be more than width"),
        (
            "width_mm = 100\nheights_mm = [65, 140]\nlengths_mm = [190, 290]",
            "",
            "block.heights_mm",
            "not both",
        ),
        (LENGTHS, 'wish = "half"', "walls.0.bond.wish", "no such bond"),
        (LENGTHS, "most_alike = 0", "bond.most_alike", "from 1"),
        (LENGTHS, "seed = 1.5", "bond.seed", "a whole number"),
        (LENGTHS, "seed = -1", "bond.seed", "from 0"),
        (LENGTHS, "min_cut_mm = 200", "walls.0.bond.min_cut_mm", "not be more than 190"),
    ],
)
def test_a_fault_names_its_key(block: str, bond: str, path: str, problem: str) -> None:
    with pytest.raises(JobError) as raised:
        loads(job(block, bond))
    (fault,) = raised.value.faults
    assert fault.path == path
    assert problem in fault.problem


def test_a_mix_of_nothing_has_a_fault_for_each_length() -> None:
    with pytest.raises(JobError) as raised:
        loads(job(LENGTHS + "mix = [0, 0, 0]"))
    assert [f.path for f in raised.value.faults] == [f"block.mix.{i}" for i in range(3)]


@pytest.mark.parametrize("lengths", [(193.675, 295.275, 396.875), (190.1, 290, 390.7)])
def test_lengths_that_keep_to_no_module_are_laid_with_none_cut_and_near_their_mix(
    lengths: tuple[float, ...],
) -> None:
    """7 and 5/8, 11 and 5/8, 15 and 5/8 inches of 25.4 mm; and lengths with no step in common.

    Perps may take up what whole blocks leave: 24 of them open or close by 100 mm and more.
    """
    block = f"{FIGURES}lengths_mm = {list(lengths)}\nmix = [1, 2, 1]\n"
    laid = set_out(loads(job(block, walls=WALL.replace("3990", "7231.7"))))
    (found,) = laid.mixtures
    assert sum(found.cut) == 0
    assert found.shares == pytest.approx((0.25, 0.5, 0.25), abs=0.03)


def test_lengths_stand_in_place_of_the_named_sizes_own() -> None:
    block = loads(job('size = "440x100x140"\nlengths_mm = [290, 440]')).walls[0].block
    assert (block.lengths, block.heights, block.width_mm) == ((290, 440), (140,), 100)


def test_the_longest_is_the_heaviest() -> None:
    spec = loads(job(LENGTHS)).walls[0]
    assert block_mass(spec.block) == pytest.approx(0.39 * 0.1 * 0.14 * 2000)


def test_screen_take_off_and_records_tell_lengths_and_packs() -> None:
    """Three courses of 4 m: 3 x 4000 / 1200 is ten packs, four blocks of 300 in the mean each."""
    spec = loads(job(PACKS, "adjust = false"))
    laid = set_out(spec)
    text = tables.walls(spec, laid)
    assert "3 courses of 190/290/390 x 100 x 140" in text
    assert "packs of 1 x 190 + 2 x 290 + 1 x 390" in text
    lines = quantities(spec, laid)
    by_length = {q.item: q for q in lines if q.item.startswith("blocks, ") and q.unit == "nr"}
    placed = [p.length for p in laid.walls[0].pieces if p.kind == "block"]
    for length in (190, 290, 390):
        line = by_length[f"blocks, {length}x100x140 of 190/290/390 mix 1:2:1"]
        assert (line.net, line.order) == (placed.count(length), None)
    packs = next(q for q in lines if q.item == "packs of blocks, 190/290/390x100x140 mix 1:2:1")
    need = max(placed.count(190), -(-placed.count(290) // 2), placed.count(390))
    assert packs.net == need >= 10
    assert "no fewer than 10" in packs.rule
    counts = {190: need, 290: 2 * need, 390: need}
    left = [f"{n - placed.count(x)} x {x}" for x, n in counts.items() if n > placed.count(x)]
    assert f"left over {' + '.join(left) or 'none'};" in packs.rule
    assert f"left over {' + '.join(left) or 'none'};" in text
    (row,) = take_off_record(spec, laid, lines, cut_units(spec, laid))["bonds"]
    assert (row["packs"], row["packs_bound"]) == (need, 10)
    assert [x["share_asked"] for x in row["lengths"]] == [0.25, 0.5, 0.25]
    assert [x["whole"] for x in row["lengths"]] == [placed.count(x) for x in (190, 290, 390)]
    assert sum(x["left_over"] for x in row["lengths"]) == 4 * need - len(placed)


def test_without_a_mix_the_lengths_are_ordered_one_by_one() -> None:
    spec = loads(job(LENGTHS))
    laid = set_out(spec)
    lines = quantities(spec, laid)
    (one,) = [q for q in lines if q.item == "blocks, 190x100x140 of 190/290/390"]
    assert one.order == math.ceil(one.net * 1.05)
    assert not any(q.item.startswith("packs") for q in lines)
    (row,) = take_off_record(spec, laid, lines, ())["bonds"]
    assert "packs" not in row
    assert {x["share_asked"] for x in row["lengths"]} == {None}


def test_perps_of_each_course_are_told_where_they_differ() -> None:
    spec = loads(job(LENGTHS, walls=WALL.replace("3990", "4015")))
    laid = set_out(spec)
    (run,) = setting_out_record(spec, laid)["runs"]
    joints = [c.joint for c in laid.walls[0].bonded[0].bond.courses]
    assert min(joints) >= 6
    assert max(joints) <= 15
    assert run.get("course_perps_mm", [run["perp_mm"]] * 3) == pytest.approx(joints, abs=1e-6)
    (told,) = [f for f in check(spec, laid) if f.code == "perps-adjusted"]
    assert "in place of 10" in told.message


def test_a_run_that_has_no_other_row_says_that_more_are_alike() -> None:
    """610 is 300 + 10 + 300, and with no piece under 300 nothing else."""
    block = "width_mm = 100\nheight_mm = 140\nlengths_mm = [300, 400]\n"
    rules = "most_alike = 1\nadjust = false\nmin_cut_mm = 300\nmin_closer_mm = 300"
    wall = WALL.replace("3990", "610").replace("courses = 3", "courses = 1")
    spec = loads(job(block, rules, wall))
    laid = set_out(spec)
    assert laid.walls[0].bonded[0].bond.courses[0].pieces == (300, 300)
    (told,) = [f for f in check(spec, laid) if f.code == "more-alike"]
    assert (told.where, told.value, told.limit) == ("w/r1", 2, 1)
    either = loads(job(block, rules.replace("most_alike = 1", "most_alike = 2"), wall))
    assert not [f for f in check(either, set_out(either)) if f.code == "more-alike"]


def test_bonds_side_by_side_show_the_one_kind_there_is() -> None:
    spec = loads(job(PACKS))
    assert [(o.bond, o.perps) for o in options(spec)] == [("best", "as set"), ("best", "adjusted")]
    assert all(o.possible and o.cuts == 0 for o in options(spec))
    assert "w: no other lengths are advised" in compared_text(spec)


def test_a_wall_of_one_length_beside_it_is_shown_in_every_bond() -> None:
    other = WALL.replace('"w"', '"x"') + f"[walls.block]\n{FIGURES}length_mm = 390\n"
    found = list(options(loads(job(LENGTHS, walls=WALL + other))))
    assert [o.bond for o in found][::2] == ["best", "half", "third", "quarter"]
    assert all(o.possible for o in found if o.bond == "half")


def test_a_block_of_a_family_is_not_taken_for_one_that_is_sold_alone() -> None:
    """Two families and a block by itself share a length: each has its own line and cut units."""
    sizes = ("lengths_mm = [190, 390]", "lengths_mm = [190, 390]\nmix = [1, 1]", "length_mm = 390")
    walls = "".join(
        WALL.replace('"w"', f'"{name}"\nplace = {{ x_mm = 0, y_mm = {y} }}').replace("3990", "3333")
        + f"[walls.block]\n{FIGURES}{size}\n"
        for y, (name, size) in enumerate(zip("abc", sizes, strict=True))
    ).replace("y_mm = ", "y_mm = 300")
    spec = loads(job(LENGTHS, "adjust = false", walls))
    laid = set_out(spec)
    cuts = [u for u in cut_units(spec, laid) if u.unit.startswith("block")]
    assert {p.wall for u in cuts for p in u.pieces} == {"a", "b", "c"}
    assert max(Counter((u.unit, u.number) for u in cuts).values()) == 1
    for unit in {u.unit for u in cuts}:
        assert len({p.wall for u in cuts if u.unit == unit for p in u.pieces}) == 1
    lines = quantities(spec, laid)
    assert max(Counter(q.item for q in lines).values()) == 1
    alone = next(q for q in lines if q.item == "blocks, 390x100x140")
    placed = [p for p in laid.walls[2].pieces if p.kind == "block"]
    units = [u for u in cuts if u.pieces[0].wall == "c"]
    assert alone.net == sum(not p.cut for p in placed) + len(units)


def test_the_least_packs_do_not_hang_on_which_wall_is_named_first() -> None:
    """A wall whose perps may open wide shares its packs with one whose may not."""
    block = FIGURES + "lengths_mm = [190, 290]\nmix = [9, 1]\n"
    tight, wide = (
        WALL.replace('"w"', f'"{name}"\nplace = {{ x_mm = 0, y_mm = {y} }}')
        .replace("3990", "5990")
        .replace("courses = 3", "courses = 6")
        + f"bond = {{ adjust = {adjust}, most_alike = 20, min_lap_mm = 20 }}\n"
        "joints = { perp_max_mm = 25 }\n"
        for name, y, adjust in (("tight", 0, "false"), ("wide", 3000, "true"))
    )
    jobs = [loads(job(block, walls=walls)) for walls in (tight + wide, wide + tight)]
    (one,), (other,) = (set_out(spec).mixtures for spec in jobs)
    assert one.least == other.least <= min(one.packs, other.packs)
