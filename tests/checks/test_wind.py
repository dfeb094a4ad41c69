"""What is found of the wind on a wall, and that planters are left alone."""

from __future__ import annotations

import pytest

from parametric_wall.checks.calculation import Calculation
from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.checks.wind import wind_calculations, wind_findings
from parametric_wall.errors import JobError
from parametric_wall.job.read import loads

WIND = "[wind]\npeak_pressure_Pa = 500\n"
STRAIGHT = '{ shape = "straight", length_mm = 12000 }'


def job(courses: int, wind: str = WIND, plan: str = STRAIGHT, more: str = "", width: int = 215):
    return loads(
        f'title = "wind"\n[block]\nlength_mm = 440\nwidth_mm = {width}\nheight_mm = 190\n'
        f"density_kg_m3 = 2038.735984\n[base]\nlevel_mm = 0\n{wind}[[walls]]\n"
        f'name = "w"\nplan = {plan}\nheight = {{ courses = {courses} }}\n{more}\n'
    )


def found(*args, **kwargs) -> list[Finding]:
    spec = job(*args, **kwargs)
    return list(wind_findings(spec.walls[0], spec.job))


def calculated(*args, **kwargs) -> Calculation:
    spec = job(*args, **kwargs)
    (said,) = wind_calculations(spec.walls[0], spec.job)
    return said


def test_without_a_wind_nothing_is_worked_out_and_that_is_said() -> None:
    spec = job(3, wind="")
    assert wind_calculations(spec.walls[0], spec.job) == ()
    (said,) = found(3, wind="")
    assert (said.code, said.grade) == ("wind-not-given", Grade.KNOW)
    assert "basic_velocity_m_s" in said.message
    assert "peak_pressure_Pa" in said.message


@pytest.mark.parametrize("wind", ["", WIND])
def test_the_soil_of_a_planter_braces_its_walls(wind: str) -> None:
    plan = '{ shape = "rectangle", length_mm = 3000, width_mm = 1500 }'
    spec = job(3, wind, plan, "fill = {}")
    assert list(wind_findings(spec.walls[0], spec.job)) == []
    assert wind_calculations(spec.walls[0], spec.job) == ()


def test_a_wall_past_its_limit_names_zones_and_what_would_pass() -> None:
    """The worked wall: A 1.836, B 1.134, C 0.918 over 0.661."""
    (said,) = found(6)
    assert (said.code, said.grade) == ("wind-past-limit", Grade.LOOK)
    assert said.value == pytest.approx(1.836 / 0.661, rel=1e-3)
    for words in ("2.78 in zone A", "1.72 in zone B", "1.39 in zone C", "0.00-0.36 m"):
        assert words in said.message
    assert "zone D" not in said.message
    # 3 courses: 1.5 x 0.5 x 3.4 x 0.6^2 / 2 = 0.459 against (0.1733 / 2.7 + 0.0108) 7.704 = 0.578;
    # 4 courses: 0.816 against 0.606. Returns leave 2.1 x 0.54 = 1.134 in A.
    assert "with 3 courses" in said.message
    assert "returns" not in said.message


@pytest.mark.parametrize(("thick", "code"), [(375, "wind-past-limit"), (380, "wind-on-bond")])
def test_the_thickness_named_is_the_least_that_passes(thick: int, code: str) -> None:
    """Against 1.836 in A a wall of 375 has (0.15 / 2.7 + 0.0216) 23.44 = 1.808, of 380 1.857."""
    assert "380 thick" in found(6)[0].message
    assert found(6, width=thick)[0].code == code


def test_returns_are_named_where_they_are_enough() -> None:
    """4 courses: 0.24 x 3.4 = 0.816 at a free end and 0.504 with a return, against 0.606."""
    (said,) = found(4)
    assert said.code == "wind-past-limit"
    assert "returns as long as it is high" in said.message
    corner = '{ shape = "legs", legs = [{ length_mm = 900, turn = "left" }, { length_mm = 900 }] }'
    assert found(4, plan=corner)[0].code == "wind-on-bond"


def test_a_wall_held_by_its_bond_alone_is_named() -> None:
    """3 courses: 0.459 in A against 0.9 x 2.58 x 0.1075 = 0.2496 of its weight."""
    (said,) = found(3)
    assert (said.code, said.grade) == ("wind-on-bond", Grade.LOOK)
    assert said.value == pytest.approx(0.459 / 0.249615, rel=1e-4)


def test_a_low_thick_wall_is_left_alone() -> None:
    """1 course: 0.051 in A against 0.0832 of its weight."""
    assert found(1) == []


def test_a_damp_proof_course_takes_no_tension() -> None:
    """Over it only the weight holds: 5 courses of 1 m, 0.75 x 3.4 x 1 / 2 = 1.275."""
    said = calculated(6, more="dpc = { under_course = 2 }")
    uses = {u.name: u for u in said.uses if u.where.endswith("0.00-0.36 m, zone A")}
    weight = 20 * 0.215 * 1.0
    over = uses["overturning on the damp-proof course"]
    assert over.effect == pytest.approx(1.275)
    assert over.resistance == pytest.approx(0.9 * weight * 0.1075)
    # Without tension the section stays whole up to a third of that.
    bent = uses["bending of the damp-proof course"]
    assert bent.resistance == pytest.approx(0.9 * weight * 0.215 / 6)
    assert "damp-proof course" in found(6, more="dpc = { under_course = 2 }")[0].message


def test_under_the_first_course_it_is_the_base_joint() -> None:
    said = calculated(3, more="dpc = { under_course = 1 }")
    assert {u.name for u in said.uses} == {
        "overturning on the damp-proof course",
        "bending of the damp-proof course",
    }


def test_the_footing_weighs_and_widens() -> None:
    """0.5 wide, 0.15 deep, 0.05 of wall below ground; 1.15 in the wind."""
    spec = loads(
        'title = "wind"\n[block]\nlength_mm = 440\nwidth_mm = 200\nheight_mm = 190\n'
        f"density_kg_m3 = 2038.735984\n{WIND}[footing]\nspread_mm = 150\n[[walls]]\n"
        f'name = "w"\nplan = {STRAIGHT}\nheight = {{ courses = 6 }}\n'
    )
    (said,) = wind_calculations(spec.walls[0], spec.job)
    use = next(u for u in said.uses if "footing" in u.name)
    weight = 20 * 0.2 * 1.2 + 24 * 0.5 * 0.15
    assert use.resistance == pytest.approx(0.9 * weight * 0.25)
    assert use.effect == pytest.approx(1.5 * 0.5 * 3.4 * 1.15 * (1.15 / 2 + 0.2))


def test_a_coping_off_the_middle_holds_less() -> None:
    coping = (
        "[coping]\nlength_mm = 600\nwidth_mm = 315\nthickness_mm = 50\noverhang_front_mm = {}\n"
    )
    middle, off = (calculated(3, wind=WIND + coping.format(n)) for n in (50, 20))
    lost = 0.9 * 2200 * 9.81 / 1e6 * 0.315 * 0.05 * 30
    for a, b in zip(middle.uses, off.uses, strict=True):
        assert b.effect == pytest.approx(a.effect)
        assert a.resistance - b.resistance == pytest.approx(lost)


def test_an_existing_wall_is_taken_as_a_free_end() -> None:
    """It may be lower than this one."""
    plain, met = (calculated(3, more=m) for m in ("", 'start = { kind = "abutment" }'))
    assert plain.uses == met.uses


def test_what_nobody_gave_is_called_assumed() -> None:
    assumed = {
        f.name for f in calculated(3, "[wind]\nbasic_velocity_m_s = 22\n").given if f.assumed
    }
    assert {"altitude", "roughness length", "masonry in bending"} <= assumed
    told = '[masonry]\nunit = "concrete block"\nmortar = "M4"\ncontrol = 2\n'
    full = '[wind]\nbasic_velocity_m_s = 22\naltitude_m = 80\nterrain = "II"\n'
    assert not [f for f in calculated(3, full + told).given if f.assumed]


@pytest.mark.parametrize(
    "wind",
    [
        "[wind]\n",
        "[wind]\nbasic_velocity_m_s = 22\npeak_pressure_Pa = 500\n",
        "[wind]\nbasic_velocity_m_s = -22\n",
        "[wind]\npeak_pressure_Pa = 0\n",
        "[wind]\npeak_pressure_Pa = 500\naltitude_m = 80\n",
        '[wind]\npeak_pressure_Pa = 500\nterrain = "II"\n',
        "[wind]\npeak_pressure_Pa = 500\nsolidity = 0.7\n",
        "[wind]\npeak_pressure_Pa = 500\nsolidity = 1.1\n",
        '[wind]\nbasic_velocity_m_s = 22\nterrain = "V"\n',
    ],
)
def test_a_wind_that_cannot_be_is_refused(wind: str) -> None:
    with pytest.raises(JobError):
        job(3, wind)
