"""Axonometric axes against ISO 5456-3 and against Gauss's theorem.

ISO 5456-3:1996, Technical drawings, Projection methods, Axonometric representations (from
memory): isometric, x and y at 30 degrees to the horizontal, one scale on all three axes;
dimetric, axes at 7 and 42 degrees, the one at 42 at half the scale of the others; z upright.

C. F. Gauss, the fundamental theorem of axonometry (from memory): three axes on paper, taken
as complex numbers, are a view square to the paper exactly where their squares add up to
nothing. Isometric is one; dimetric with the standard's whole degrees is one but for their
rounding (7 degrees 11 minutes and 41 degrees 25 minutes would be exact).
"""

from __future__ import annotations

import cmath
import math

import pytest

from parametric_wall.drawings.still.projection import DIMETRIC, ISOMETRIC, Projection

STANDARD = [
    (ISOMETRIC, "isometric", (30.0, 30.0), (1.0, 1.0, 1.0)),
    (DIMETRIC, "dimetric", (7.0, 42.0), (1.0, 0.5, 1.0)),
]


def axes(projection: Projection) -> list[complex]:
    """One mm along each axis, on paper."""
    units = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    return [complex(*projection.paper(unit)) for unit in units]


@pytest.mark.parametrize(("projection", "name", "angles", "scales"), STANDARD)
@pytest.mark.parametrize("mirrored", [False, True])
def test_axes_lie_as_the_standard_draws_them(
    projection: Projection,
    name: str,
    angles: tuple[float, float],
    scales: tuple[float, ...],
    mirrored: bool,
) -> None:
    shown = projection.mirrored() if mirrored else projection
    x, y, z = axes(shown)
    assert shown.name == name
    assert [abs(axis) for axis in (x, y, z)] == pytest.approx(scales)
    to_the_horizontal = [math.degrees(math.atan2(abs(a.imag), abs(a.real))) for a in (x, y)]
    assert to_the_horizontal == pytest.approx(angles)
    assert cmath.phase(z) == pytest.approx(math.pi / 2)
    # To the right along the face, away up the paper; right-handed from the front right.
    assert (x.real > 0, y.imag > 0) == (True, True)
    assert (x.imag < 0, y.real > 0) == (not mirrored, not mirrored)


@pytest.mark.parametrize(("projection", "most"), [(ISOMETRIC, 1e-12), (DIMETRIC, 0.03)])
def test_gauss(projection: Projection, most: float) -> None:
    assert abs(sum(axis * axis for axis in axes(projection))) < most


@pytest.mark.parametrize("projection", [ISOMETRIC, DIMETRIC, DIMETRIC.mirrored()])
def test_who_looks_stands_in_front_and_above_and_sees_a_ray_as_a_point(
    projection: Projection,
) -> None:
    ray = projection.towards
    assert projection.paper(ray) == pytest.approx((0.0, 0.0), abs=1e-12)
    assert math.hypot(*ray) == pytest.approx(1.0)
    assert (ray[1] < 0, ray[2] > 0) == (True, True)


def test_isometric_looks_down_at_the_angle_of_a_cubes_diagonal() -> None:
    """35 degrees 16 minutes: the body diagonal of a cube (from memory)."""
    down = math.degrees(math.asin(ISOMETRIC.towards[2]))
    assert down == pytest.approx(35 + 16 / 60, abs=0.01)
