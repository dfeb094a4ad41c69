"""What must hold of the best bond of every job: legal, bounded, and alike in a mirror."""

from __future__ import annotations

import copy
from typing import Any

from hypothesis import given, settings
from strategies import jobs, laid_out

from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.cutting import cut_units


def best(table: dict[str, Any]) -> dict[str, Any]:
    """The drawn job with the best bond asked for, not a wish."""
    asked = copy.deepcopy(table)
    asked["bond"] = {}
    return asked


def blocks_cuts(laid: SettingOut) -> tuple[int, int]:
    cuts = sum(len(run.bond.cut) for run in laid.walls[0].bonded)
    return laid.certificates[0][1].blocks, cuts


def changed(table: dict[str, Any], section: str, **values: object) -> dict[str, Any]:
    other = copy.deepcopy(table)
    other[section] = {**other.get(section, {}), **values}
    return other


@settings(max_examples=40, deadline=None)
@given(jobs(mixed=True))
def test_no_bond_needs_fewer_than_the_bound(table: dict[str, Any]) -> None:
    spec, laid = laid_out(best(table))
    _, found = laid.certificates[0]
    whole = sum(p.kind == "block" and not p.cut for p in laid.walls[0].pieces)
    units = [u for u in cut_units(spec, laid) if u.unit.startswith("block")]
    assert found.bound <= found.blocks == whole + len(units)


@settings(max_examples=15, deadline=None)
@given(jobs())
def test_more_freedom_never_costs_blocks_where_both_are_proven(table: dict[str, Any]) -> None:
    strict = changed(best(table), "bond", adjust=False)
    strict = changed(strict, "cutting", reuse_offcuts=False)
    _, tight = laid_out(strict)
    for free in (
        changed(strict, "cutting", reuse_offcuts=True),
        changed(strict, "bond", adjust=True),
        changed(strict, "bond", min_cut_mm=60, min_closer_mm=50),
    ):
        _, loose = laid_out(free)
        if tight.certificates[0][1].proven and loose.certificates[0][1].proven:
            assert blocks_cuts(loose)[0] <= blocks_cuts(tight)[0]


@settings(max_examples=40, deadline=None)
@given(jobs())
def test_the_ranked_answer_of_a_straight_wall_never_gets_worse(table: dict[str, Any]) -> None:
    plain = best(table)
    wall = plain["walls"][0]
    wall["plan"] = {"shape": "straight", "length_mm": 2 * wall["plan"].get("length_mm", 900) + 35}
    wall.pop("fill", None)
    tight = laid_out(changed(plain, "joints", perp_min_mm=9, perp_max_mm=11))[1]
    loose = laid_out(changed(plain, "joints", perp_min_mm=6, perp_max_mm=15))[1]
    assert blocks_cuts(loose) <= blocks_cuts(tight)


@settings(max_examples=40, deadline=None)
@given(jobs(mixed=True))
def test_a_job_and_its_mirror_image_have_the_same_counts(table: dict[str, Any]) -> None:
    one = best(table)
    other = copy.deepcopy(one)
    wall = other["walls"][0]
    wall["body"] = "right" if wall["body"] == "left" else "left"
    if wall["plan"]["shape"] == "legs":
        for leg in wall["plan"]["legs"]:
            if "turn" in leg:
                leg["turn"] = "right" if leg["turn"] == "left" else "left"
    assert blocks_cuts(laid_out(one)[1]) == blocks_cuts(laid_out(other)[1])
