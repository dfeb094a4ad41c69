"""What must hold of the movement joints of every job."""

from __future__ import annotations

from collections import defaultdict
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from strategies import BLOCKS, jobs, laid_out, lengths, movements

from parametric_wall.export.records import setting_out_record
from parametric_wall.geometry import Bar
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.closed_form import measure


@st.composite
def jointed(draw: st.DrawFn) -> tuple[JobSpec, SettingOut]:
    """A job that has movement joints between panels, set out."""
    table = draw(jobs()) | {"movement": draw(movements())}
    spec, laid = laid_out(table)
    assume(measure(spec.walls[0]).between)
    return spec, laid


@settings(max_examples=25, deadline=None)
@given(jointed())
def test_panels_and_joints_make_up_every_leg(found: tuple[JobSpec, SettingOut]) -> None:
    spec, laid = found
    wall, movement = spec.walls[0], spec.walls[0].movement
    assert movement is not None
    legs: dict[int, list[float]] = defaultdict(list)
    for bonded in laid.walls[0].bonded:
        legs[bonded.run.number].append(bonded.run.length)
    for number, length in zip(wall.path.numbers, wall.path.lengths, strict=True):
        panels = legs[number]
        assert max(panels) <= movement.spacing_mm + 1e-6
        assert sum(panels) + (len(panels) - 1) * movement.width_mm == pytest.approx(length)
        assert (len(panels) - 1) * movement.spacing_mm < length


@settings(max_examples=25, deadline=None)
@given(jointed())
def test_joints_go_straight_up_through_courses_and_copings(
    found: tuple[JobSpec, SettingOut],
) -> None:
    spec, laid = found
    wall, placed = spec.walls[0], laid.walls[0]
    layers = wall.gauge.courses + (2 if wall.coping else 0)
    for record in setting_out_record(spec, laid)["movement_joints"]:
        fillers = [
            p
            for p in placed.pieces
            if p.kind == "filler"
            and p.id.split("/")[1] == record["after"]
            and not p.id.endswith("00")
        ]
        assert len(fillers) == layers
        places = {(round(p.at.x, 6), round(p.at.y, 6)) for p in fillers}
        widths = {round(p.shape.end.at, 6) for p in fillers if isinstance(p.shape, Bar)}
        assert len(places) == 1
        assert widths == {record["width_mm"]}


@settings(max_examples=15, deadline=None)
@given(jointed())
def test_joints_stand_where_the_record_says(found: tuple[JobSpec, SettingOut]) -> None:
    spec, laid = found
    path = spec.walls[0].path
    places = dict(zip(path.numbers, path.placements(), strict=True))
    ends = {b.run.name: b.run.place.point(b.run.length, 0.0) for b in laid.walls[0].bonded}
    records = setting_out_record(spec, laid)["movement_joints"]
    assert len(records) == measure(spec.walls[0]).between
    for record in records:
        stands = places[record["run"]].point(record["at_mm"], 0.0)
        assert ends[record["after"]] == pytest.approx(stands)


@settings(max_examples=15, deadline=None)
@given(lengths(2000), st.sampled_from(BLOCKS), movements())
def test_a_straight_wall_and_its_mirror_image_are_divided_alike(
    length: int, block: str, movement: dict[str, Any]
) -> None:
    plan = {"shape": "straight", "length_mm": length}
    wall = {"name": "wall", "plan": plan, "height": {"courses": 2}}
    table = {"title": "t", "block": {"size": block}, "movement": movement}
    one, two = (
        laid_out(table | {"walls": [wall | {end: {"kind": "abutment"}}]})[1].walls[0]
        for end in ("start", "end")
    )
    found = [bonded.run.length for bonded in one.bonded]
    assert [bonded.run.length for bonded in reversed(two.bonded)] == pytest.approx(found)
