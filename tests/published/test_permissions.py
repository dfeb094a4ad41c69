"""May it be built. Highways Act 1980 s167, General Permitted Development Order 2015 Sch 2 Pt 2
Class A, planning portal's lean limits (read); Party Wall etc. Act 1996 s6 (read in practitioners'
quotations). Lengths in feet and yards are exact by definition."""

from __future__ import annotations

import math

import pytest

from parametric_wall.checks.check import check
from parametric_wall.checks.finding import Finding
from parametric_wall.job.read import loads
from parametric_wall.reference import highways_act, party_wall_act
from parametric_wall.reference.planning import enclosure_height_max
from parametric_wall.reference.tables import limit
from parametric_wall.setting_out.set_out import set_out

BASE = "[base]\nlevel_mm = 0"


def found(wall: str, site: str = "", support: str = BASE) -> dict[str, Finding]:
    spec = loads(
        'title = "may it"\ndesigned_by = "calculations of the engineer"\n[block]\n'
        f'size = "440x215x215"\n{support}\n[site]\n{site}\n[[walls]]\nname = "w"\n{wall}\n'
    )
    return {f.code: f for f in check(spec, set_out(spec))}


def straight(courses: int, base: int = 0) -> str:
    """Courses of 225, their first bed on a base so far above ground."""
    plan = '{ shape = "straight", length_mm = 3590 }'
    lifted = f"\nbase = {{ level_mm = {base} }}" if base else ""
    return f"plan = {plan}\nheight = {{ courses = {courses} }}{lifted}"


def planter() -> str:
    """Four courses of 225, filled to the top."""
    plan = '{ shape = "rectangle", length_mm = 2690, width_mm = 1790 }'
    return f"plan = {plan}\nheight = {{ courses = 4 }}\nfill = {{ below_coping_mm = 0 }}"


def test_four_yards_and_four_foot_six() -> None:
    near, above = highways_act.NEAR, highways_act.ABOVE
    assert (near, above) == pytest.approx((3657.6, 1371.6))


@pytest.mark.parametrize(
    ("away", "above", "asks"),
    [(3657, 1372, True), (3658, 1372, False), (3657, 1371, False), (0, 2000, True)],
)
def test_a_retaining_wall_near_a_street(away: float, above: float, asks: bool) -> None:
    assert highways_act.needs_approval(away, above) == asks
    site = f"street_distance_mm = {away}\nstreet_level_mm = {900 - above}"
    codes = found(planter(), site)
    assert ("street-retaining-wall" in codes) == asks
    assert "street-not-given" not in codes
    assert "street-retaining-wall" not in found(straight(4), site)


@pytest.mark.parametrize(
    ("site", "asked"),
    [
        ("", True),
        ("street_distance_mm = 3000", True),
        ("street_distance_mm = 3658", False),
        ("street_level_mm = 0", True),
    ],
)
def test_a_street_that_is_not_given_is_asked_for(site: str, asked: bool) -> None:
    assert ("street-not-given" in found(planter(), site)) == asked


def test_the_plane_at_45_degrees() -> None:
    """Founded 0.6 deep, 4.5 away: the plane is 5.1 deep at our trench, and 0.9 misses it."""
    assert party_wall_act.plane_depth(4500, 600) == 5100
    assert not party_wall_act.notice_within_6_m(4500, 600, 900)
    assert party_wall_act.notice_within_6_m(4500, 600, 5101)
    assert not party_wall_act.notice_within_6_m(6001, 600, 9000)


@pytest.mark.parametrize(
    ("away", "founded", "dug", "notice"),
    [(3000, 600, 601, True), (3000, 600, 600, False), (3001, 600, 601, False), (0, 0, 1, True)],
)
def test_digging_within_3_m_lower_than_his_foundation(away, founded, dug, notice) -> None:
    assert party_wall_act.notice_within_3_m(away, founded, dug) == notice


FOOTING = "[footing]\ndepth_mm = {depth}\nbelow_ground_mm = 50"


@pytest.mark.parametrize(
    ("site", "depth", "code"),
    [
        ("", 150, "neighbour-not-given"),
        ("neighbour_distance_mm = 2900\nneighbour_founded_mm = 150", 150, "party-wall-notice"),
        ("neighbour_distance_mm = 2900\nneighbour_founded_mm = 200", 150, None),
        ("neighbour_distance_mm = 2900", 150, "party-wall-notice"),
        ("neighbour_distance_mm = 4500\nneighbour_founded_mm = 600", 850, None),
        ("neighbour_distance_mm = 3001", 150, None),
    ],
)
def test_what_a_job_asks_of_a_neighbour(site: str, depth: int, code: str | None) -> None:
    codes = found(straight(2), site, FOOTING.format(depth=depth))
    about = codes.keys() & {"neighbour-not-given", "party-wall-notice"}
    assert about == ({code} if code else set())


def test_on_an_existing_base_nobody_is_dug_near() -> None:
    assert "neighbour-not-given" not in found(straight(2))


def test_one_metre_next_to_vehicles_and_two_elsewhere() -> None:
    assert enclosure_height_max(next_to_vehicles=True) == 1000
    assert enclosure_height_max(next_to_vehicles=False) == 2000


@pytest.mark.parametrize(
    ("highway", "finished", "grade"),
    [
        ("vehicles", 1000, None),
        ("vehicles", 1001, "look at this"),
        ("none", 1001, "worth knowing"),
        ("other", 2000, "worth knowing"),
        ("other", 2001, "look at this"),
        (None, 1000, None),
        (None, 1001, "look at this"),
        (None, 2001, "look at this"),
    ],
)
def test_planning_is_a_question(highway: str | None, finished: int, grade: str | None) -> None:
    site = "" if highway is None else f'highway = "{highway}"'
    said = found(straight(*divmod(finished, 225)), site).get("planning-height")
    assert (None if said is None else said.grade.value) == grade
    if said is not None:
        assert "planning office" in said.meaning.ask


def test_how_far_an_existing_wall_may_lean_before_advice_is_needed() -> None:
    """Planning portal: 1/2 brick 30, 1 brick 70, 1 1/2 brick 100."""
    assert [limit(f"lean_{row}") for row in ("half", "one", "one_and_half")] == [30, 70, 100]
    wall = straight(2) + '\nstart = { kind = "abutment" }'
    said = found(wall)["fixing-to-existing"].message
    assert "30 (1/2 brick), 70 (1 brick), 100 (1 1/2 brick)" in said


@pytest.mark.parametrize("nonsense", [-1.0, math.nan])
def test_nonsense_is_refused(nonsense: float) -> None:
    with pytest.raises(ValueError, match="distance"):
        highways_act.needs_approval(nonsense, 0)
    with pytest.raises(ValueError, match="above_boundary"):
        highways_act.needs_approval(0, math.nan)
    for function in (party_wall_act.notice_within_3_m, party_wall_act.notice_within_6_m):
        with pytest.raises(ValueError, match="distance"):
            function(nonsense, 0, 0)
        with pytest.raises(ValueError, match="founded"):
            function(0, nonsense, 0)
        with pytest.raises(ValueError, match="dug"):
            function(0, 0, nonsense)
