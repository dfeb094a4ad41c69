"""Solids against volumes worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from math import radians, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_ShapeEnum, TopAbs_VERTEX
from OCP.TopExp import TopExp
from OCP.TopoDS import TopoDS_Shape
from OCP.TopTools import TopTools_IndexedMapOfShape

from parametric_wall.geometry import Bar, End, Placement, Slab, block, rectangle
from parametric_wall.solid.shapes import ShapeError, location_of, mass_of, solid_of, volume_of

pytestmark = pytest.mark.cad

WEATHERED = ((0.0, 0.0), (275.0, 0.0), (275.0, 50.0), (0.0, 60.0))
GROOVED = (
    (0.0, 0.0),
    (15.0, 0.0),
    (15.0, 8.0),
    (28.0, 8.0),
    (28.0, 0.0),
    (275.0, 0.0),
    (275.0, 50.0),
    (0.0, 60.0),
)
SQUARE = rectangle(100.0, 100.0)


def count(solid: TopoDS_Shape, what: TopAbs_ShapeEnum) -> int:
    found = TopTools_IndexedMapOfShape()
    TopExp.MapShapes_s(solid, what, found)
    return int(found.Extent())


def test_a_block_has_the_volume_of_its_sides() -> None:
    assert volume_of(solid_of(block(440.0, 100.0, 215.0))) == pytest.approx(9_460_000, rel=1e-14)


def test_a_once_weathered_coping() -> None:
    """0.6 x 0.275 x (0.060 + 0.050) / 2 = 0.009075 m3."""
    solid = solid_of(Bar(WEATHERED, End(0.0), End(600.0)))
    assert volume_of(solid) == pytest.approx(9_075_000, rel=1e-14)


def test_a_drip_groove_takes_its_own_volume_away() -> None:
    """The groove is 0.6 x 0.013 x 0.008 m."""
    solid = solid_of(Bar(GROOVED, End(0.0), End(600.0)))
    assert volume_of(solid) == pytest.approx(9_075_000 - 62_400, rel=1e-13)


def test_a_wedge_bed() -> None:
    wedge = ((0.0, 0.0), (140.0, 0.0), (140.0, 16.4), (0.0, 10.0))
    solid = solid_of(Bar(wedge, End(0.0), End(20_000.0)))
    assert volume_of(solid) == pytest.approx(20_000 * 140 * 13.2, rel=1e-13)


def test_a_bed_that_runs_out_to_nothing_is_a_triangle() -> None:
    solid = solid_of(Bar(((0.0, 0.0), (140.0, 0.0), (140.0, 6.0)), End(0.0), End(1000.0)))
    assert volume_of(solid) == pytest.approx(1000 * 140 * 3, rel=1e-13)


def mitred_volume(length: float, width: float, low: float, high: float, per_u: float) -> float:
    """A section `high` in front and `low` behind, between s = 0 and s = length + per_u u.

    The integral over u of (high - (high - low) u / width) (length + per_u u).
    """
    fall = high - low
    return (
        length * (high * width - fall * width / 2)
        + per_u * (high * width**2 / 2 - fall * width**2 / 3)
    )  # fmt: skip


@pytest.mark.parametrize("per_u", [1.0, -1.0, tan(radians(22.5)), -tan(radians(30))])
def test_a_mitred_coping(per_u: float) -> None:
    solid = solid_of(Bar(WEATHERED, End(0.0), End(600.0, per_u)))
    expected = mitred_volume(600.0, 275.0, 50.0, 60.0, per_u)
    assert volume_of(solid) == pytest.approx(expected, rel=1e-13)


@pytest.mark.parametrize("per_u", [1.0, -1.0])
def test_a_mitred_coping_with_a_groove(per_u: float) -> None:
    """The groove is a plane-ended prism too: its length is that at its own middle, 21.5."""
    solid = solid_of(Bar(GROOVED, End(0.0), End(600.0, per_u)))
    groove = 13 * 8 * (600 + per_u * 21.5)
    expected = mitred_volume(600.0, 275.0, 50.0, 60.0, per_u) - groove
    assert volume_of(solid) == pytest.approx(expected, rel=1e-13)


def test_a_joint_along_a_mitre_has_the_volume_of_a_straight_one() -> None:
    straight = solid_of(Bar(WEATHERED, End(0.0), End(10.0)))
    slanting = solid_of(Bar(WEATHERED, End(0.0, -1.0), End(10.0, -1.0)))
    assert volume_of(slanting) == pytest.approx(volume_of(straight), rel=1e-12)


@settings(deadline=None)
@given(
    length=st.floats(200, 2000),
    width=st.floats(40, 190),
    low=st.floats(5, 100),
    fall=st.floats(-4, 30),
    per_u=st.floats(-1, 1),
)
def test_any_mitred_falling_bar(
    length: float, width: float, low: float, fall: float, per_u: float
) -> None:
    section = ((0.0, 0.0), (width, 0.0), (width, low), (0.0, low + fall))
    solid = solid_of(Bar(section, End(0.0), End(length, per_u)))
    expected = mitred_volume(length, width, low, low + fall, per_u)
    assert volume_of(solid) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("end", [End(600.0), End(600.0, 1.0)])
def test_a_bar_has_a_face_an_edge_of_its_section_and_two_caps(end: End) -> None:
    solid = solid_of(Bar(GROOVED, End(0.0), end))
    assert BRepCheck_Analyzer(solid).IsValid()
    assert count(solid, TopAbs_FACE) == 8 + 2
    assert count(solid, TopAbs_EDGE) == 3 * 8
    assert count(solid, TopAbs_VERTEX) == 2 * 8


def test_a_left_and_a_right_mitre_are_two_solids_of_one_volume() -> None:
    """Each is built as it is: a mirrored one would have less than no volume."""
    right = mass_of(solid_of(Bar(GROOVED, End(0.0), End(600.0, 1.0))))
    left = mass_of(solid_of(Bar(GROOVED, End(0.0, -1.0), End(600.0))))
    assert 0 < right[0] == pytest.approx(left[0], rel=1e-12)
    assert right[1][0] + left[1][0] == pytest.approx(600, rel=1e-9)


def test_an_l_footing_with_a_hole() -> None:
    outline = ((0.0, 0.0), (3000.0, 0.0), (3000.0, 2000.0), (2700.0, 2000.0), (2700.0, 300.0),
               (0.0, 300.0))  # fmt: skip
    hole = rectangle(110.0, 60.0, 500.0, 100.0)
    for turned in (hole, hole[::-1]):
        volume, centre = mass_of(solid_of(Slab(outline, (turned,), 150.0)))
        assert volume == pytest.approx((3000 * 300 + 300 * 1700 - 110 * 60) * 150, rel=1e-13)
        assert centre[2] == pytest.approx(75)


def test_a_solid_lies_in_its_shapes_own_axes() -> None:
    """A triangular prism, mitred: its centre of gravity by hand."""
    volume, centre = mass_of(solid_of(Bar(SQUARE, End(20.0), End(120.0, 1.0))))
    assert volume == pytest.approx(100 * (100 * 100 + 100**2 / 2))
    u = (100 * 100**2 / 2 + 100**3 / 3) / (100 * 100 + 100**2 / 2)
    s = 20 + (100**3 + 100 * 100**2 + 100**3 / 3) / 2 / (100 * 100 + 100**2 / 2)
    assert centre == pytest.approx((s, u, 50.0))


BAD_SHAPES = {
    "no length": block(0.0, 100.0, 215.0),
    "less than no length": block(-10.0, 100.0, 215.0),
    "a hair's length": block(1e-8, 100.0, 215.0),
    "no width": block(440.0, 0.0, 215.0),
    "two corners": Bar(((0.0, 0.0), (1.0, 1.0)), End(0.0), End(10.0)),
    "clockwise": Bar(SQUARE[::-1], End(0.0), End(10.0)),
    "a corner twice": Bar((*SQUARE, SQUARE[0]), End(0.0), End(10.0)),
    "two corners a hair apart": Bar((*SQUARE, (1e-8, 0.0)), End(0.0), End(10.0)),
    "crossing itself": Bar(
        ((0.0, 0.0), (100.0, 0.0), (0.0, 70.0), (100.0, 100.0)), End(0.0), End(10.0)
    ),
    "crossing itself, mitred": Bar(
        ((0.0, 0.0), (100.0, 0.0), (0.0, 70.0), (100.0, 100.0)), End(0.0), End(500.0, 1.0)
    ),
    "mitres that meet": Bar(SQUARE, End(0.0, 1.0), End(100.0)),
    "mitres that cross": Bar(SQUARE, End(0.0, 1.0), End(90.0)),
    "not a number": block(float("nan"), 100.0, 215.0),
    "no thickness": Slab(SQUARE, (), 0.0),
    "less than no thickness": Slab(SQUARE, (), -150.0),
    "a hole outside": Slab(SQUARE, (rectangle(10.0, 10.0, 200.0, 0.0),), 150.0),
    "a hole across the edge": Slab(SQUARE, (rectangle(50.0, 10.0, 80.0, 50.0),), 150.0),
    "two holes in one place": Slab(
        SQUARE, (rectangle(50.0, 50.0, 10.0, 10.0), rectangle(50.0, 50.0, 30.0, 30.0)), 150.0
    ),
    "a flat hole": Slab(SQUARE, (((10.0, 10.0), (20.0, 20.0), (30.0, 30.0)),), 150.0),
}


@pytest.mark.parametrize("shape", BAD_SHAPES.values(), ids=BAD_SHAPES.keys())
def test_a_shape_without_a_sound_solid_is_refused(shape: Bar | Slab) -> None:
    with pytest.raises(ShapeError):
        solid_of(shape)


def test_the_message_says_what_is_wrong() -> None:
    with pytest.raises(ShapeError, match=r"length is -10 mm"):
        solid_of(block(-10.0, 100.0, 215.0))


@pytest.mark.parametrize("heading", [0.0, 37.0, 90.0, 180.0, 270.0, 359.0])
def test_a_location_puts_points_where_the_placement_does(heading: float) -> None:
    place = Placement(1000.0, -250.5, 75.0, heading)
    motion = location_of(place).Transformation()
    moved = [
        sum(motion.Value(row, column) * value for column, value in enumerate((30, 40, 5, 1), 1))
        for row in (1, 2, 3)
    ]
    assert moved == pytest.approx(place.point(30.0, 40.0, 5.0), abs=1e-9)
    assert not motion.IsNegative()


def test_a_quarter_turn_is_exact() -> None:
    motion = location_of(Placement(1.0, 2.0, 3.0, 90.0)).Transformation()
    assert [motion.Value(1, j) for j in (1, 2, 3)] == [0.0, -1.0, 0.0]
    assert [motion.Value(2, j) for j in (1, 2, 3)] == [1.0, 0.0, 0.0]


def test_placing_changes_no_volume() -> None:
    solid = solid_of(Bar(GROOVED, End(0.0), End(600.0, sqrt(0.5))))
    moved = solid.Located(location_of(replace(Placement(heading_deg=37.0), x=5e4)))
    assert volume_of(moved) == pytest.approx(volume_of(solid), rel=1e-9)
