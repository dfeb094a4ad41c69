"""The pieces fill the wall's envelope, and no more."""

from __future__ import annotations

from dataclasses import replace

import pytest
from helpers_pieces import COPING_SECTION, long_wall, moved, sample, straight_wall, without

from parametric_wall.geometry import Bar, End, Placement, Slab, block, rectangle
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.solid.model import model_of
from parametric_wall.verify.gap import Envelope, GapResult, LayerGap, gap
from parametric_wall.verify.joined import join
from parametric_wall.verify.overlap import overlap

pytestmark = pytest.mark.cad

LENGTH = 2690.0
FACE = 100.0 * 215.0


def envelopes(name: str, courses: int = 3, length: float = LENGTH) -> list[Envelope]:
    """The room of a straight wall, from its sizes alone."""
    strip = Slab(rectangle(length + 200.0, 300.0), (), 150.0)
    rooms = [Envelope(name, "footing", ((strip, Placement(-100.0, -100.0, -150.0)),))]
    for n in range(courses):
        course = block(length, 100.0, 225.0)
        rooms.append(Envelope(name, f"course {n + 1}", ((course, Placement(z=225.0 * n)),)))
    top = 225.0 * courses
    bed = block(length, 100.0, 10.0), Placement(z=top)
    # Copings and their joints have one section, but joints have no groove to leave out.
    row = Bar(COPING_SECTION, End(0.0), End(length)), Placement(z=top + 10.0)
    return [*rooms, Envelope(name, "copings", (bed, row))]


ONE = replace(sample(), walls=(straight_wall("one", weep=True),))


def checked(job: SettingOut) -> GapResult:
    return gap(model_of(job), envelopes("one"))


def row(result: GapResult, layer: str) -> LayerGap:
    return next(found for found in result.layers if found.layer == layer)


def test_a_wall_as_it_is_set_out_fills_its_envelope() -> None:
    found = checked(ONE)
    assert found.agrees
    assert found.worst < 1e-3
    assert [r.layer for r in found.layers] == [
        "footing",
        "course 1",
        "course 2",
        "course 3",
        "copings",
    ]


@pytest.mark.parametrize("shift", [0.5, -0.5])
def test_half_a_millimetre_leaves_a_gap(shift: float) -> None:
    """Nothing stands out: the block is still inside the wall."""
    found = checked(moved(ONE, "one/r1/c02/003", shift))
    assert not found.agrees
    wrong = row(found, "course 2")
    assert wrong.missing == pytest.approx(0.5 * FACE, rel=1e-6)
    assert wrong.outside == pytest.approx(0, abs=1e-3)
    assert row(found, "course 1").missing == pytest.approx(0, abs=1e-3)


def test_a_missing_perp_is_a_gap_that_overlaps_nothing() -> None:
    job = without(ONE, "one/r1/c03/002p")
    assert overlap(model_of(job)).agrees
    assert row(checked(job), "course 3").missing == pytest.approx(10 * FACE, rel=1e-9)


def test_a_gap_that_cancels_an_overlap_in_the_sums_is_seen_by_both() -> None:
    job = moved(ONE, "one/r1/c02/003", 0.5)
    asked = sum(p.volume for p in ONE.walls[0].pieces)
    assert sum(p.volume for p in job.walls[0].pieces) == pytest.approx(asked, rel=1e-12)
    assert overlap(model_of(job)).worst == pytest.approx(checked(job).worst, rel=1e-6)


def test_a_whole_course_moved_overlaps_nothing_and_stands_out() -> None:
    pieces = tuple(
        replace(p, at=replace(p.at, x=p.at.x + 0.5)) if "/c02/" in p.id else p
        for p in ONE.walls[0].pieces
    )
    job = replace(ONE, walls=(replace(ONE.walls[0], pieces=pieces),))
    assert overlap(model_of(job)).agrees
    wrong = row(checked(job), "course 2")
    assert wrong.missing == pytest.approx(0.5 * 100 * 225, rel=1e-6)
    assert wrong.outside == pytest.approx(0.5 * 100 * 225, rel=1e-6)


def test_an_opening_counts_as_filled_and_a_forgotten_one_does_not() -> None:
    assert row(checked(ONE), "course 1").missing == pytest.approx(0, abs=1e-3)
    forgotten = without(ONE, "one/r1/c01/001p")
    assert row(checked(forgotten), "course 1").missing == pytest.approx(10 * FACE)


def test_a_layer_without_an_envelope_is_outside_altogether() -> None:
    found = gap(model_of(ONE), envelopes("one")[:-1])
    assert not found.agrees
    wrong = row(found, "copings")
    copings = sum(p.volume for p in ONE.walls[0].pieces if p.kind.startswith("coping"))
    assert (wrong.missing, wrong.outside) == (0.0, pytest.approx(copings, rel=1e-9))


def test_an_envelope_without_a_layer_is_missing_altogether() -> None:
    found = gap(model_of(ONE), envelopes("one", courses=4))
    assert row(found, "course 4").missing == pytest.approx(LENGTH * 100 * 225)


def test_an_envelope_of_another_wall_is_not_taken_for_this_one() -> None:
    found = gap(model_of(ONE), envelopes("other"))
    assert len(found.layers) == 10
    assert not found.agrees


def test_a_mitred_corner_fills_an_envelope_cut_along_its_mitre() -> None:
    """The envelope meets at 45 degrees, the blocks run through: the room is the same."""
    corner = replace(sample(), walls=sample().walls[1:])
    name = corner.walls[0].name
    section = rectangle(100.0, 225.0)
    runs = (
        (Bar(section, End(0.0), End(2000.0, -1.0)), Placement()),
        (Bar(section, End(0.0, 1.0), End(1500.0)), Placement(2000.0, 0.0, 0.0, 90.0)),
    )
    for course in (1, 2):
        parts = tuple((s, replace(p, z=225.0 * (course - 1))) for s, p in runs)
        found = gap(model_of(corner), [Envelope(name, f"course {course}", parts)])
        wrong = row(found, f"course {course}")
        assert wrong.missing == pytest.approx(0, abs=1e-3)
        assert wrong.outside == pytest.approx(0, abs=1e-3)


def test_joined_layers_may_be_handed_in() -> None:
    model = model_of(long_wall(9, 2))
    rooms = envelopes("long", 2, 9 * 450.0 - 10.0)
    assert gap(model, rooms, join(model)) == gap(model, rooms)
    assert gap(model, rooms).agrees
