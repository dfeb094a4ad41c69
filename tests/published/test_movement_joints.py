"""Movement joints in long runs: council building-control note GN24 (blockwork garden walls, at most
6 m between joints; ties at 300 vertical on either side). The counts are computed from it."""

from __future__ import annotations

import pytest

from parametric_wall.job.read import loads
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import WallSetOut
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.closed_form import measure
from parametric_wall.takeoff.quantities import quantities


def straight(length: float, courses: int = 2, movement: str = "spacing_mm = 6000") -> JobSpec:
    return loads(
        f'title = "t"\n[block]\nsize = "440x100x215"\n[movement]\n{movement}\n'
        f'[[walls]]\nname = "w"\nplan = {{ shape = "straight", length_mm = {length} }}\n'
        f"height = {{ courses = {courses} }}\n"
    )


def panel_lengths(wall: WallSetOut) -> list[float]:
    return [laid.run.length for laid in wall.bonded]


@pytest.mark.parametrize(
    ("length", "joints"),
    [(5990, 0), (6000, 0), (6010, 1), (7400, 1), (12_000, 1), (12_010, 2), (18_000, 2)],
)
def test_how_many_joints_a_run_has(length: float, joints: int) -> None:
    spec = straight(length)
    lengths = panel_lengths(set_out(spec).walls[0])
    assert measure(spec.walls[0]).between == joints
    assert len(lengths) == joints + 1
    assert max(lengths) <= 6000
    assert sum(lengths) + 10 * joints == pytest.approx(length)


@pytest.mark.parametrize("width", [10, 16])
def test_a_run_of_12_m_has_two_panels_and_one_joint(width: float) -> None:
    spec = straight(12_000, movement=f"spacing_mm = 6000\nwidth_mm = {width}")
    assert sum(panel_lengths(set_out(spec).walls[0])) == pytest.approx(12_000 - width)


@pytest.mark.parametrize("side", ["left", "right"])
def test_from_a_corner_a_run_is_measured_along_its_outer_face(side: str) -> None:
    """The second leg is 12.00 m outside and shorter, or longer, inside: it has one joint."""
    spec = loads(
        'title = "t"\n[block]\nsize = "440x100x215"\n[movement]\nspacing_mm = 6000\n[[walls]]\n'
        f'name = "w"\nheight = {{ courses = 2 }}\nplan = {{ shape = "legs", legs = [{{ length_mm '
        f'= 2240, turn = "{side}" }}, {{ length_mm = 12000 }}] }}\n'
    )
    names = [laid.run.name for laid in set_out(spec).walls[0].bonded]
    assert names == ["r1", "r2a", "r2b"]


@pytest.mark.parametrize(("courses", "ties"), [(1, 1), (2, 2), (4, 3), (5, 4)])
def test_ties_at_300_vertical_hold_either_side(courses: int, ties: int) -> None:
    """Courses of 225: 225, 450, 900 and 1125 mm of joint.

    A slip tie goes across the joint, fast in one side and sleeved in the other: one a level
    (common practice).
    """
    spec = straight(7400, courses)
    rows = {q.item: q.net for q in quantities(spec, set_out(spec))}
    assert rows["slip ties"] == ties


def test_no_ties_where_none_are_wished_for() -> None:
    spec = straight(7400, movement='spacing_mm = 6000\nties = "none"')
    assert "slip ties" not in {q.item for q in quantities(spec, set_out(spec))}
