"""The cut lists: every piece once, nothing lost unaccounted, and cut in the order of laying.

Two halves of a 440 block with a 10 loss between them are 215 each, and a stop end shows a
factory end (common practice).
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from strategies import jobs, laid_out

from parametric_wall.export.cut_list import cut_list_csv, laying_csv, lengths_csv
from parametric_wall.export.take_off import take_off_record
from parametric_wall.job.read import load, loads
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.cut_lists import by_length, in_laying_order
from parametric_wall.takeoff.cutting import CutUnit, cut_units
from parametric_wall.takeoff.quantities import quantities

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
HALVES = (
    'title = "halves"\n[block]\nsize = "440x100x140"\n[[walls]]\nname = "w"\n'
    'plan = { shape = "straight", length_mm = 3590 }\nheight = { courses = 4 }\n'
)


def rows(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode(), newline="")))


def hold(spec: JobSpec, laid: SettingOut) -> None:
    """What must hold of the cut lists of every job."""
    cuts = cut_units(spec, laid)
    as_laid = in_laying_order(laid, cuts)
    wanted = [p.id for wall in laid.walls for p in wall.pieces if p.cut]
    assert [c.piece.id for c in as_laid] == wanted
    grouped = [c.piece.id for g in by_length(as_laid) for c in g.pieces]
    assert Counter(grouped) == Counter(wanted)
    assert Counter(p.id for c in cuts for p in c.pieces) == Counter(wanted)
    nothing_is_lost(spec, cuts)
    cut_before_it_is_laid(laid, cuts)
    stop_ends_show_factory_ends(laid, cuts)


def nothing_is_lost(spec: JobSpec, cuts: tuple[CutUnit, ...]) -> None:
    for cut in cuts:
        length = float(cut.unit.split()[1].split("x")[0])
        pieces = sum(p.length for p in cut.pieces)
        assert pieces + cut.lost + cut.offcut == pytest.approx(length, abs=1e-6)
        loss, count = spec.job.cutting.loss, len(cut.pieces)
        assert loss * (count - 1) - 1e-6 <= cut.lost <= loss * count + 1e-6
        assert cut.offcut >= 0


def cut_before_it_is_laid(laid: SettingOut, cuts: tuple[CutUnit, ...]) -> None:
    """Units of a kind count up as they are opened, and an offcut is kept before it is used."""
    opened: dict[str, int] = Counter()
    for one in in_laying_order(laid, cuts):
        if one.opens:
            opened[one.unit] += 1
            assert one.number == opened[one.unit]
        assert one.number <= opened[one.unit]
    assert opened == Counter(c.unit for c in cuts)


def stop_ends_show_factory_ends(laid: SettingOut, cuts: tuple[CutUnit, ...]) -> None:
    ends = {p.id: e for c in cuts for p, e in zip(c.pieces, c.ends, strict=True)}
    for wall in laid.walls:
        for bonded in wall.bonded:
            for number, course in enumerate(bonded.bond.courses, 1):
                row = f"{wall.name}/{bonded.run.name}/c{number:02d}"
                shown = tuple(meets == "free" for meets in course.span.meets)
                look_at_row(row, len(course.pieces), shown, ends)
        for coped in wall.coped:
            shown = (coped.run.start == "stop", coped.run.end == "stop")
            look_at_row(f"{wall.name}/{coped.run.name}/cop", len(coped.lengths), shown, ends)


def look_at_row(row: str, count: int, shown: tuple[bool, ...], ends: dict[str, Any]) -> None:
    left, right = ends.get(f"{row}/01"), ends.get(f"{row}/{count:02d}")
    if shown[0] and left is not None:
        assert left[0] == "factory"
    # A piece that is cut and shows both its ends has but one from the factory.
    if shown[1] and right is not None and not (count == 1 and shown[0]):
        assert right[1] == "factory"


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
def test_the_cut_lists_of_an_example_hold(path: Path) -> None:
    spec = load(path)
    hold(spec, set_out(spec))


@settings(max_examples=60, deadline=None)
@given(jobs(mixed=True))
def test_the_cut_lists_of_any_job_hold(table: dict[str, Any]) -> None:
    hold(*laid_out(table))


@settings(max_examples=60, deadline=None)
@given(jobs(mixed=True))
def test_a_unit_has_two_factory_ends_and_one_with_a_front_one_at_either_side(
    table: dict[str, Any],
) -> None:
    """A coping with a drip along its front only, or weathered, cannot be turned round."""
    spec, laid = laid_out(table)
    coping = spec.job.coping
    front = coping is not None and (
        coping.profile == "weathered" or (coping.drip is not None and coping.drip.sides != "both")
    )
    for cut in cut_units(spec, laid):
        sides = [
            side
            for left, right in cut.ends
            for side, end in (("left", left), ("right", right))
            if end == "factory"
        ]
        assert len(sides) <= 2
        if front and cut.unit.startswith("coping"):
            assert len(set(sides)) == len(sides)


@pytest.mark.parametrize(
    ("profile", "units"),
    [('"flat"', 1), ('"weathered"\nfall = { to = "front", mm = 10, in_mm = 240 }', 2)],
)
def test_two_right_ends_come_from_one_coping_only_where_it_can_be_turned(
    profile: str, units: int
) -> None:
    """960 = 640 + 10 + 310 in either wall, and 310 + 10 + 310 is less than a coping of 640."""
    wall = (
        '[[walls]]\nname = "{0}"\nheight = {{ courses = 2 }}\nplace = {{ x_mm = 0, y_mm = {1} }}\n'
        'plan = {{ shape = "straight", length_mm = 960 }}\n'
    )
    spec = loads(
        'title = "pair"\n[block]\nsize = "440x140x140"\n[coping]\nlength_mm = 640\nwidth_mm = 240\n'
        f"thickness_mm = 50\nprofile = {profile}\n" + wall.format("a", 0) + wall.format("b", 3000)
    )
    laid = set_out(spec)
    hold(spec, laid)
    copings = [c for c in cut_units(spec, laid) if c.unit.startswith("coping")]
    assert sorted(p.id for c in copings for p in c.pieces) == ["a/r1/cop/02", "b/r1/cop/02"]
    assert len(copings) == units
    assert {e for c in copings for e in c.ends} == {("cut", "factory")}


def test_halves_at_both_ends_come_from_one_block_each_its_factory_end_outwards() -> None:
    spec = loads(HALVES)
    laid = set_out(spec)
    cuts = cut_units(spec, laid)
    listed = rows(laying_csv(in_laying_order(laid, cuts)))
    assert [
        (row["length_mm"], row["from"], row["left end"], row["right end"]) for row in listed
    ] == [
        ("215.0", "unit 1", "factory", "cut"),
        ("215.0", "offcut of unit 1", "cut", "factory"),
        ("215.0", "unit 2", "factory", "cut"),
        ("215.0", "offcut of unit 2", "cut", "factory"),
    ]
    (alike,) = rows(lengths_csv(by_length(in_laying_order(laid, cuts))))
    assert (alike["length_mm"], alike["count"]) == ("215.0", "4")
    assert [r["lost_mm"] for r in rows(cut_list_csv(cuts))] == ["10.0"] * 4


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
def test_files_and_record_say_the_same(path: Path) -> None:
    spec = load(path)
    laid = set_out(spec)
    cuts = cut_units(spec, laid)
    as_laid = in_laying_order(laid, cuts)
    record = take_off_record(spec, laid, quantities(spec, laid), cuts)
    by_row = rows(laying_csv(as_laid))
    assert [r["piece"] for r in by_row] == [c["piece"] for c in record["cuts_as_laid"]]
    assert [(r["from"], r["left end"]) for r in by_row] == [
        (c["source"], c["left"]) for c in record["cuts_as_laid"]
    ]
    groups = rows(lengths_csv(by_length(as_laid)))
    assert sum(int(g["count"]) for g in groups) == len(by_row)
    assert [int(g["count"]) for g in groups] == [len(g["pieces"].split()) for g in groups]
    assert [g["pieces"].split() for g in groups] == [g["pieces"] for g in record["cuts_by_length"]]
    for group in groups:
        lengths = {r["length_mm"] for r in by_row if r["piece"] in group["pieces"].split()}
        assert lengths == {group["length_mm"]}
