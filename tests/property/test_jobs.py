"""What must hold of every job, whatever its plan, ends, bond and copings."""

from __future__ import annotations

import copy
import math
from collections import defaultdict
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from strategies import jobs, laid_out, the_closed_form_meets_the_count

from parametric_wall.errors import JobError
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.model import Job
from parametric_wall.job.read import validate
from parametric_wall.job.resolve import resolve
from parametric_wall.setting_out.bond import lap
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.counted import counted
from parametric_wall.takeoff.quantities import quantities

EPS = TOLERANCE.coincident


@settings(max_examples=80, deadline=None)
@given(jobs(mixed=True))
def test_the_closed_form_meets_the_count(table: dict) -> None:
    spec, laid = laid_out(table)
    the_closed_form_meets_the_count(spec.walls[0], laid.walls[0])


@settings(max_examples=80, deadline=None)
@given(jobs(mixed=True))
def test_blocks_and_joints_fill_every_course_of_every_run(table: dict) -> None:
    _, laid = laid_out(table)
    for run in laid.walls[0].bonded:
        for course in run.bond.courses:
            placed = list(course.placed())
            begins, ends = course.span.clear(course.joint)
            assert placed[0][0] == pytest.approx(begins)
            assert placed[-1][0] + placed[-1][1] == pytest.approx(ends)
            for (a, length), (b, _) in pairwise(placed):
                assert b - (a + length) == pytest.approx(course.joint)


@settings(max_examples=80, deadline=None)
@given(jobs(mixed=True))
def test_laps_cuts_and_closers_keep_to_the_rules(table: dict) -> None:
    spec, laid = laid_out(table)
    rules, whole = spec.walls[0].rules, spec.walls[0].block.longest
    for run in laid.walls[0].bonded:
        courses = run.bond.courses
        for lower, upper in pairwise(courses):
            assert lap(lower, upper) >= rules.min_lap - EPS
        for course in courses:
            beside = [m == "butt" for m in course.span.meets]
            for i, piece in enumerate(course.pieces):
                returns = (i == 0 and beside[0]) or (i == len(course.pieces) - 1 and beside[1])
                assert piece >= (rules.min_closer if returns else rules.min_cut) - EPS
                assert piece <= whole + EPS


@settings(max_examples=60, deadline=None)
@given(jobs(mixed=True))
def test_corners_lap_course_by_course(table: dict) -> None:
    """In every course just one of the two runs at a corner goes through, in the next the other."""
    _, laid = laid_out(table)
    runs = laid.walls[0].bonded
    pairs = list(zip(runs, [*runs[1:], runs[0]], strict=True))
    for before, after in pairs:
        if before.run.end not in ("convex", "re-entrant"):
            continue
        through = [
            (a.span.meets[1] == "through", b.span.meets[0] == "through")
            for a, b in zip(before.bond.courses, after.bond.courses, strict=True)
        ]
        assert all(a != b for a, b in through)
        assert all(x != y for x, y in pairwise(through))


@settings(max_examples=60, deadline=None)
@given(jobs(mixed=True))
def test_moving_and_turning_a_job_changes_no_quantity(table: dict) -> None:
    spec, laid = laid_out(table)
    moved = copy.deepcopy(table)
    moved["walls"][0]["place"] = {"x_mm": 12_345.5, "y_mm": -678.25, "heading_deg": 33}
    other = resolve(validate(moved))
    assert quantities(spec, laid) == quantities(other, set_out(other))


@settings(max_examples=60, deadline=None)
@given(jobs(mixed=True))
def test_another_course_lowers_no_volume(table: dict) -> None:
    _, laid = laid_out(table)
    taller = copy.deepcopy(table)
    taller["walls"][0]["height"]["courses"] += 1
    other = resolve(validate(taller))
    more = set_out(other)
    assume(not more.walls[0].unbonded)
    fewer_by_kind, more_by_kind = counted(laid.walls[0]), counted(more.walls[0])
    for kind in ("footing", "block", "bed"):
        assert more_by_kind.get(kind, 0.0) >= fewer_by_kind.get(kind, 0.0) - 1e-3


@settings(max_examples=60, deadline=None)
@given(jobs(mixed=True))
def test_a_job_written_out_and_read_again_is_the_same(table: dict) -> None:
    try:
        job = validate(table)
    except JobError:
        assume(False)
    assert Job.model_validate(job.model_dump(exclude_none=True)) == job


@settings(max_examples=60, deadline=None)
@given(jobs(mixed=True))
def test_every_piece_has_an_id_of_its_own(table: dict) -> None:
    _, laid = laid_out(table)
    seen = defaultdict(list)
    for piece in laid.walls[0].pieces:
        seen[piece.id].append(piece)
    assert all(len(pieces) == 1 for pieces in seen.values())


@settings(max_examples=80, deadline=None)
@given(jobs(mixed=True))
def test_copings_keep_to_their_rules(table: dict) -> None:
    spec, laid = laid_out(table)
    lay = spec.walls[0].coping
    assume(lay is not None)
    assert lay is not None
    for run in laid.walls[0].coped:
        assert max(run.lengths) <= lay.coping.length_mm + EPS
        assert min(run.lengths) >= min(lay.min_cut, run.lengths[0]) - EPS
        assert all(x >= lay.min_cut - EPS for x in run.lengths[1:-1])
        assert run.clearance >= 0 or math.isinf(run.clearance)
