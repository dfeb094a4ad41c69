"""No two pieces in one place."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from helpers_pieces import Layer, long_wall, moved, sample, straight_wall
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric_wall.geometry import TOLERANCE, Bar, End, Placement, Slab, block, rectangle
from parametric_wall.setting_out.model import Piece, SettingOut, WallSetOut
from parametric_wall.solid.mesh import Mesh
from parametric_wall.solid.model import model_of
from parametric_wall.verify.joined import body_of, join
from parametric_wall.verify.overlap import OverlapResult, overlap, sweep

pytestmark = pytest.mark.cad

FACE = 100.0 * 215.0
"""mm2: the end of a block."""


def checked(job: SettingOut) -> OverlapResult:
    return overlap(model_of(job))


def plus(job: SettingOut, *pieces: Piece) -> SettingOut:
    wall = job.walls[0]
    return replace(job, walls=(replace(wall, pieces=(*wall.pieces, *pieces)), *job.walls[1:]))


def test_walls_as_they_are_set_out_do_not_overlap() -> None:
    found = checked(sample())
    assert found.agrees
    assert found.clashes == ()
    assert found.worst < 1e-3
    assert [(row.wall, row.layer) for row in found.layers][:2] == [
        ("kräuter", "footing"),
        ("kräuter", "course 1"),
    ]


def test_a_union_has_the_volume_of_its_pieces_by_hand() -> None:
    """One course of six blocks, its open perp included, fills its length."""
    row = checked(sample()).layers[1]
    assert row.pieces == 12
    assert row.union == pytest.approx(2690 * 100 * 225, rel=1e-12)


@pytest.mark.parametrize("piece", ["kräuter/r1/c02/003", "kräuter/r1/c01/002"])
@pytest.mark.parametrize("shift", [0.5, -0.5])
def test_half_a_millimetre_is_caught_and_the_two_pieces_named(piece: str, shift: float) -> None:
    """Over the perp on one side; what is left open on the other cancels it in the sums."""
    job = sample()
    found = checked(moved(job, piece, shift))
    assert not found.agrees
    assert found.worst == pytest.approx(0.5 * FACE, rel=1e-6)
    (clash,) = found.clashes
    assert piece in (clash.one, clash.other)
    assert clash.volume == pytest.approx(0.5 * FACE, rel=1e-6)
    before = sum(row.total for row in checked(job).layers)
    assert sum(row.total for row in found.layers) == pytest.approx(before, rel=1e-12)


def test_a_block_shifted_in_one_of_many_equal_courses_is_caught() -> None:
    """Courses laid alike are joined once; the one that is not must not be taken for one."""
    found = checked(moved(long_wall(20, 8), "long/r1/c05/007", 0.5))
    wrong = [row.layer for row in found.layers if row.overlap > TOLERANCE.overlap_mm3]
    assert wrong == ["course 5"]


def test_a_piece_laid_twice_is_caught() -> None:
    job = sample()
    twin = replace(job.walls[0].pieces[2], id="twin")
    found = checked(plus(job, twin))
    assert found.worst == pytest.approx(440 * FACE)


def test_layers_that_reach_into_one_another_are_caught() -> None:
    """The whole second course a millimetre low: no layer overlaps in itself."""
    job = sample()
    lowered = tuple(
        replace(p, at=replace(p.at, z=p.at.z - 1.0)) if "/c02/" in p.id else p
        for p in job.walls[0].pieces
    )
    found = checked(replace(job, walls=(replace(job.walls[0], pieces=lowered),)))
    assert all(abs(row.overlap) < 1e-3 for row in found.layers)
    assert not found.agrees
    assert all("/c02/" in c.one + c.other for c in found.clashes)
    assert sum(c.volume for c in found.clashes) == pytest.approx(2690 * 100 * 1.0, rel=1e-9)


def test_walls_that_meet_on_the_site_are_caught() -> None:
    """The end of one footing 50 mm into the side of another: 300 x 50 x 150."""
    one, place = straight_wall("one"), Placement(1000.0, 250.0, 0.0, 90.0)
    found = checked(replace(sample(), walls=(one, straight_wall("other", place=place))))
    (clash,) = found.clashes
    assert {clash.one, clash.other} == {"one/footing", "other/footing"}
    assert clash.volume == pytest.approx(300 * 50 * 150, rel=1e-9)


def test_walls_that_touch_on_the_site_are_not() -> None:
    one, place = straight_wall("one"), Placement(1000.0, 300.0, 0.0, 90.0)
    assert checked(replace(sample(), walls=(one, straight_wall("other", place=place)))).agrees


def test_walls_turned_against_each_other_do_not_clash_by_their_boxes_alone() -> None:
    """At 45 degrees the boxes about two walls meet long before the walls do."""
    place = Placement(1500.0, -900.0, 0.0, 45.0)
    walls = (straight_wall("one"), straight_wall("other", place=place))
    near = checked(replace(sample(), walls=walls))
    assert not near.agrees
    far = replace(walls[1], place=replace(place, x=3200.0))
    assert checked(replace(sample(), walls=(walls[0], far))).agrees


def test_a_turned_run_has_no_noise_to_speak_of() -> None:
    """A run at 37 degrees in its wall's axes: abutting faces are no longer the same numbers."""
    pieces: list[Piece] = []
    layer = Layer("w", 1, 1, Placement(3000.0, 40.0, 5.0, 37.0), pieces)
    for i in range(40):
        layer.add("block", f"{i:03d}", block(440.0, 100.0, 215.0), 450.0 * i)
        layer.add("perp", f"{i:03d}p", block(10.0, 100.0, 215.0), 450.0 * i + 440.0)
    found = checked(SettingOut("t", "Turned", (WallSetOut("w", Placement(), tuple(pieces)),)))
    assert found.worst < 0.01


def test_an_opening_takes_up_its_room() -> None:
    """A block pushed into a perp that was left open is in the wrong place too."""
    found = checked(moved(sample(), "kräuter/r1/c01/001", 0.5))
    assert [(c.one, c.other) for c in found.clashes] == [
        ("kräuter/r1/c01/001", "kräuter/r1/c01/001p")
    ]


def test_fill_around_a_corner_is_cut_with_what_it_surrounds() -> None:
    """A concave fill: its box is full of blocks, and it touches none of them."""
    job = sample()
    outline = ((0.0, 100.0), (1000.0, 100.0), (1000.0, 2000.0), (-900.0, 2000.0),
               (-900.0, -800.0), (0.0, -800.0))  # fmt: skip
    soil = Piece("soil", "soil", "kräuter", 0, 0, Slab(outline, (), 600.0), Placement())
    assert checked(plus(job, soil)).agrees
    wider = tuple((x, y - 1.0 if y == 100.0 else y) for x, y in outline)
    found = checked(plus(job, replace(soil, shape=Slab(wider, (), 600.0))))
    assert sum(c.volume for c in found.clashes) == pytest.approx(1000 * 1 * 600, rel=1e-9)


def test_joined_layers_may_be_handed_in() -> None:
    model = model_of(sample())
    assert overlap(model, join(model)) == overlap(model)


def test_a_mesh_that_is_not_closed_is_refused() -> None:
    mesh = model_of(sample()).prototypes[0].mesh
    with pytest.raises(Exception, match="no body"):
        body_of(Mesh(mesh.vertices, mesh.triangles[:-1]))


boxes = st.lists(
    st.tuples(*[st.integers(0, 12)] * 3, *[st.integers(1, 5)] * 3), min_size=0, max_size=40
)


@settings(deadline=None)
@given(boxes)
def test_sweeping_finds_the_pairs_that_trying_all_finds(rows: list[tuple[int, ...]]) -> None:
    values = np.array(rows, dtype=float).reshape(-1, 6)
    lower, upper = values[:, :3], values[:, :3] + values[:, 3:]
    asked = {
        (i, j)
        for i, j in combinations(range(len(rows)), 2)
        if (lower[i] < upper[j]).all() and (lower[j] < upper[i]).all()
    }
    found = [tuple(sorted(pair)) for pair in sweep(lower, upper).tolist()]
    assert len(found) == len(set(found))
    assert set(found) == asked


@settings(deadline=None)
@given(st.floats(-1, 1), st.floats(0.001, 30))
def test_two_mitred_bars_share_what_one_is_moved_into_the_other(per_u: float, shift: float) -> None:
    """Along a mitre the shared room is the move times the section, whatever the angle."""
    section = rectangle(100.0, 65.0)
    first = Bar(section, End(0.0), End(600.0, per_u))
    second = Bar(section, End(600.0 - shift, per_u), End(1200.0))
    pieces = (
        Piece("a", "coping", "w", 1, 1, first, Placement()),
        Piece("b", "coping", "w", 1, 1, second, Placement()),
    )
    found = checked(SettingOut("m", "Mitre", (WallSetOut("w", Placement(), pieces),)))
    assert found.layers[0].overlap == pytest.approx(shift * 100 * 65, rel=1e-6, abs=1e-3)
