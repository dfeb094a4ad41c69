"""The soil of a job file: what is refused, where it stands, and what may stand there."""

from __future__ import annotations

import pytest

from parametric_wall.errors import Fault, JobError
from parametric_wall.job.read import loads

HEAD = 'title = "Low wall"\nblock = { size = "440x140x140" }\n'
OPEN = '[[walls]]\nname = "{name}"\nplan = {{ shape = "straight", length_mm = 3590 }}\n'
CLOSED = (
    '[[walls]]\nname = "{name}"\nplan = {{ shape = "rectangle", length_mm = 1940, '
    "width_mm = 1040 }}\n"
)
COURSES = "height = { courses = 3 }\n"


def job(soil: str, plan: str = OPEN, more: str = "") -> str:
    return f"{HEAD}{plan.format(name='w')}{COURSES}{more}soil = {{ {soil} }}\n"


def only(text: str) -> Fault:
    with pytest.raises(JobError) as raised:
        loads(text)
    (fault,) = raised.value.faults
    return fault


def test_soil_behind_an_open_wall_is_held_back() -> None:
    spec = loads(job("retained_mm = 300")).walls[0]
    assert spec.holds_soil
    assert spec.retained == spec.soil_top == 300


@pytest.mark.parametrize("soil", ["friction_deg = 30", "retained_mm = 0"])
def test_without_a_height_nothing_is_held_back(soil: str) -> None:
    spec = loads(job(soil)).walls[0]
    assert not spec.holds_soil
    assert spec.retained == 0


@pytest.mark.parametrize(
    ("soil", "key", "value", "allowed"),
    [
        ("retained_mm = -1", "retained_mm", "-1", "from 0 to 3000"),
        ("weight_kN_m3 = 0", "weight_kN_m3", "0", "from 11 to 25"),
        ("friction_deg = 0", "friction_deg", "0", "from 10 to 50"),
        ("friction_deg = 90", "friction_deg", "90", "from 10 to 50"),
        ("slope_deg = -5", "slope_deg", "-5", "from 0 to 45"),
        ("surcharge_kPa = -2", "surcharge_kPa", "-2", "from 0 to 50"),
        ("water_mm = -1", "water_mm", "-1", "from 0 to 5000"),
        ("drainage_strip_mm = -1", "drainage_strip_mm", "-1", "from 0 to 1000"),
    ],
)
def test_a_figure_out_of_its_range(soil: str, key: str, value: str, allowed: str) -> None:
    fault = only(job(soil))
    assert (fault.path, fault.value) == (f"walls.0.soil.{key}", value)
    assert fault.problem == f"must be {allowed}"


def test_a_soil_that_no_table_has() -> None:
    fault = only(job('kind = "mud"'))
    assert (fault.path, fault.value) == ("walls.0.soil.kind", '"mud"')
    assert "topsoil" in fault.problem


# tan 32 over 1.25 is the tangent of 26.56 (computed); of 25, assumed for topsoil, of 20.46.
@pytest.mark.parametrize(
    ("soil", "most"),
    [("friction_deg = 32, slope_deg = 32", 26.6), ("slope_deg = 21", 20.5)],
)
def test_a_slope_that_slips_by_itself(soil: str, most: float) -> None:
    fault = only(job(f"retained_mm = 300, {soil}"))
    assert fault.path == "walls.0.soil.slope_deg"
    assert f"must be from 0 to less than {most}" in fault.problem
    assert fault.hint


def test_a_slope_that_stands_is_taken() -> None:
    assert loads(job("retained_mm = 300, slope_deg = 20")).walls[0].soil.slope_deg == 20


def test_water_above_the_soil() -> None:
    """The footing's underside lies 200 down: 500 of soil above it."""
    fault = only(job("retained_mm = 300, water_mm = 501"))
    assert (fault.path, fault.value) == ("walls.0.soil.water_mm", "501")
    assert fault.problem.startswith("must be from 0 to 500")
    assert "underside of the footing" in fault.hint
    assert loads(job("retained_mm = 300, water_mm = 500")).walls[0].holds_soil


def test_water_on_an_existing_base_counts_from_its_top() -> None:
    base = "base = { level_mm = -100 }\n"
    assert loads(job("retained_mm = 300, water_mm = 400", more=base)).walls[0].holds_soil
    fault = only(job("retained_mm = 300, water_mm = 401", more=base))
    assert fault.problem.startswith("must be from 0 to 400")


def test_soil_above_the_top_of_the_wall() -> None:
    """Three courses of 150, begun 50 below ground, end at 400."""
    assert loads(job("retained_mm = 400")).walls[0].retained == 400
    fault = only(job("retained_mm = 401"))
    assert (fault.path, fault.value) == ("walls.0.soil.retained_mm", "401")
    assert fault.problem == "must be from 0 to 400, the top of the blocks"
    assert fault.hint


def test_a_planter_has_its_soil_from_its_fill() -> None:
    fault = only(job("retained_mm = 300", CLOSED, "fill = {}\n"))
    assert fault.path == "walls.0.soil.retained_mm"
    assert "fill and retained_mm" in fault.problem
    fault = only(job("retained_mm = 300", CLOSED))
    assert (fault.path, fault.hint) == ("walls.0.soil.retained_mm", "give fill for a planter")


def test_fill_in_an_open_plan_names_the_other_way() -> None:
    fault = only(f"{HEAD}{OPEN.format(name='w')}{COURSES}fill = {{}}\n")
    assert fault.path == "walls.0.fill"
    assert "soil.retained_mm" in fault.hint


def test_a_fault_of_the_jobs_own_soil_is_told_once() -> None:
    walls = "".join(OPEN.format(name=name) + COURSES for name in ("a", "b"))
    fault = only(f"{HEAD}soil = {{ slope_deg = 30 }}\n{walls}")
    assert fault.path == "soil.slope_deg"


def test_a_walls_own_soil_replaces_the_jobs() -> None:
    spec = loads(f"{HEAD}soil = {{ friction_deg = 35 }}\n{job('retained_mm = 300')[len(HEAD) :]}")
    assert spec.walls[0].soil.friction == 25


def test_a_faulty_job_still_tells_of_its_walls_soil() -> None:
    with pytest.raises(JobError) as raised:
        loads(job("retained_mm = 900") + OPEN.format(name="b") + "height = { courses = 0 }\n")
    assert [f.path for f in raised.value.faults] == [
        "walls.1.height.courses",
        "walls.0.soil.retained_mm",
    ]
