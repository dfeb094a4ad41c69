"""Bed joints in bending: BS EN 1996-1-1 6.3.1 and BS 5628-1 36.5.3, MR = (fkx / gm + gd) Z.

The rule as quoted in letters to The Structural Engineer. The strengths (UK national annex,
Table NA.6) and partial factors (Table NA.1) are from memory: confirm. The wall of the worked
example was computed by hand from them.
"""

from __future__ import annotations

import pytest

from parametric_wall.checks.wind import wind_calculations
from parametric_wall.job.read import loads
from parametric_wall.reference import en1996_flexure as en1996

MORTARS = ("M12", "M6", "M4", "M2")


@pytest.mark.parametrize(
    ("unit", "t", "absorption", "expected"),
    [
        ("clay", 215, 6.9, (0.7, 0.5, 0.5, 0.4)),
        ("clay", 215, 7, (0.5, 0.4, 0.4, 0.35)),
        ("clay", 102.5, 12, (0.5, 0.4, 0.4, 0.35)),
        ("clay", 215, 12.1, (0.4, 0.3, 0.3, 0.25)),
        ("clay", 215, None, (0.4, 0.3, 0.3, 0.25)),
        ("calcium silicate", 215, None, (0.3, 0.3, 0.3, 0.2)),
        ("concrete brick", 215, None, (0.3, 0.3, 0.3, 0.2)),
        ("concrete block", 90, None, (0.25, 0.25, 0.25, 0.2)),
        ("concrete block", 100, None, (0.25, 0.25, 0.25, 0.2)),
        ("concrete block", 175, None, (0.2, 0.2, 0.2, 0.15)),
        ("concrete block", 250, None, (0.15, 0.15, 0.15, 0.1)),
        ("concrete block", 300, None, (0.15, 0.15, 0.15, 0.1)),
    ],
)
def test_flexural_strengths_from_memory(unit, t, absorption, expected) -> None:
    got = tuple(en1996.fxk1(unit, mortar, t, absorption) for mortar in MORTARS)
    assert got == pytest.approx(expected)


def test_partial_factors_from_memory() -> None:
    assert (en1996.gamma_M(1), en1996.gamma_M(2)) == (2.3, 2.7)


def test_the_worked_wall_by_its_clauses() -> None:
    strength = en1996.fxk1("concrete block", "M4", 215)
    assert strength == pytest.approx(0.1733, abs=5e-5)
    design = en1996.fd(strength, 2.7, 0.9 * 5.16 / 215)
    assert design == pytest.approx(0.0858, abs=5e-5)
    assert en1996.Z(215) == pytest.approx(7.704e6, abs=500)
    assert en1996.MRd(design, en1996.Z(215)) == pytest.approx(0.661, abs=5e-4)


WALL = """
title = "worked"
[block]
length_mm = 440
width_mm = 215
height_mm = 190
density_kg_m3 = 2038.735984
[base]
level_mm = 0
[wind]
peak_pressure_Pa = 500
[masonry]
mortar = "M4"
control = 2
[[walls]]
name = "w"
plan = { shape = "straight", length_mm = 12000 }
height = { courses = 6 }
"""


def test_the_worked_wall_from_its_job_file() -> None:
    """0.215 thick, 1.2 high, 20 kN/m3, 0.5 kPa: only zone D passes, and by bond alone."""
    spec = loads(WALL)
    (said,) = wind_calculations(spec.walls[0], spec.job)
    steps = {f.symbol or f.name: f.value for f in said.steps}
    assert steps["N"] == pytest.approx(5.16, abs=5e-6)
    assert steps["gd"] == pytest.approx(0.0216, abs=5e-5)
    assert steps["fd"] == pytest.approx(0.0858, abs=5e-5)
    assert steps["MRd"] == pytest.approx(0.661, abs=5e-4)
    effects = {"A": 1.836, "B": 1.134, "C": 0.918, "D": 0.648}
    assert len(said.uses) == 2 * 7
    for use in said.uses:
        assert use.effect == pytest.approx(effects[use.where[-1]], abs=5e-4)
        resists = 0.4992 if use.name.startswith("overturning") else 0.661
        assert use.resistance == pytest.approx(resists, abs=5e-4)
        assert (use.ratio <= 1) == (use.where[-1] == "D" and use.name.startswith("bending"))


@pytest.mark.parametrize(
    "call",
    [
        lambda: en1996.fxk1("concrete block", "M4", 0),
        lambda: en1996.fxk1("concrete block", "M4", float("nan")),
        lambda: en1996.fxk1("clay", "M4", 215, -1),
        lambda: en1996.fxk1("clay", "M1", 215),  # type: ignore[arg-type]
        lambda: en1996.fxk1("straw", "M4", 215),  # type: ignore[arg-type]
        lambda: en1996.fd(-0.1, 2.7, 0.02),
        lambda: en1996.fd(0.1, 0, 0.02),
        lambda: en1996.fd(0.1, 2.7, -0.02),
        lambda: en1996.Z(0),
        lambda: en1996.Z(-215),
        lambda: en1996.MRd(-0.1, 1e6),
        lambda: en1996.MRd(0.1, 0),
    ],
)
def test_nonsense_is_refused(call) -> None:
    with pytest.raises(ValueError, match="must"):
        call()


def test_there_is_no_third_class_of_control() -> None:
    with pytest.raises(ValueError, match="1 or 2"):
        en1996.gamma_M(3)
