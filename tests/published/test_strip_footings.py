"""Strip footings. NHBC Standards 4.3.8 for steps (read); Approved Document A 2E2, 2E4 and Table 10,
NHBC Standards 4.2 Table 4 (from memory); volumes and weights computed."""

from __future__ import annotations

import math
import tomllib
from importlib.resources import files

import pytest
from shapely import box, unary_union

from parametric_wall.checks.check import calculations, check
from parametric_wall.checks.footing import wall_load
from parametric_wall.job.read import loads
from parametric_wall.reference.strip_footings import (
    depth_min,
    overlap_min,
    thickness_min,
    trench_fill_overlap_min,
    width_min,
)
from parametric_wall.setting_out.set_out import set_out

GROUNDS = {
    "medium dense sand or gravel": (250, 300, 400, 500, 600, 650),
    "stiff clay": (250, 300, 400, 500, 600, 650),
    "firm clay": (300, 350, 450, 600, 750, 850),
    "loose sand": (400, 600, None, None, None, None),
    "soft clay or silt": (450, 650, None, None, None, None),
    "peat or very soft": (None,) * 6,
}
"""Approved Document A, Table 10, for not more than 20, 30, ... 70 kN/m: from memory."""


@pytest.mark.parametrize("ground", GROUNDS)
def test_least_widths_by_ground_and_load(ground: str) -> None:
    for load, width in zip((20, 30, 40, 50, 60, 70), GROUNDS[ground], strict=True):
        assert width_min(ground, load, 140) == width
        assert width_min(ground, load - 9.9, 140) == width
    assert width_min(ground, 70.1, 140) is None


def test_on_rock_the_walls_own_width_does() -> None:
    assert width_min("rock", 70, 140) == 140


def test_the_table_of_widths_says_that_it_is_from_memory() -> None:
    text = files("parametric_wall.reference").joinpath("data", "footing_widths.toml").read_text()
    assert tomllib.loads(text)["standing"] == "from memory"


@pytest.mark.parametrize(
    ("projection", "thickness"), [(0, 150), (105, 150), (150, 150), (151, 151), (300, 300)]
)
def test_as_thick_as_it_projects_and_not_under_150(projection, thickness) -> None:
    """Approved Document A 2E2(d), from memory."""
    assert thickness_min(projection) == thickness


@pytest.mark.parametrize(
    ("step", "thickness", "overlap"),
    [(150, 225, 300), (225, 225, 450), (200, 250, 400), (100, 450, 450), (100, 900, 500)],
)
def test_overlap_at_a_step(step: float, thickness: float, overlap: float) -> None:
    """NHBC 4.3.8, Table 3; textbooks' 2T (450 for the first) is another rule."""
    assert overlap_min(step, thickness) == overlap


@pytest.mark.parametrize(("step", "overlap"), [(300, 1000), (500, 1000), (600, 1200)])
def test_overlap_of_trench_fill(step: float, overlap: float) -> None:
    assert trench_fill_overlap_min(step) == overlap


def test_a_step_is_not_higher_than_the_footing_is_thick() -> None:
    with pytest.raises(ValueError, match="must not be more than the thickness"):
        overlap_min(200, 150)


def test_volume_of_a_stepped_footing() -> None:
    """B 455, T 250, L 7.20 m, three steps of 200: V = B (T L + n O S) = 0.92820 m3. Here the
    concrete is joined up level by level: each reaches back by the overlap over the one below
    it, and lies one step higher."""
    broad, thick, length, count, step = 455, 250, 7200, 3, 200
    overlap, part = overlap_min(step, thick), length / (count + 1)
    levels = [
        box(i * part - (overlap if i else 0), i * step, (i + 1) * part, i * step + thick)
        for i in range(count + 1)
    ]
    assert broad * unary_union(levels).area / 1e9 == pytest.approx(0.92820, rel=1e-9)


@pytest.mark.parametrize(
    ("shrinkable", "depth"), [("no", 450), ("low", 750), ("medium", 900), ("high", 1000)]
)
def test_depth_against_frost_and_shrinking_clay(shrinkable: str, depth: float) -> None:
    """From memory."""
    assert depth_min(shrinkable) == depth


def test_nonsense_is_refused() -> None:
    for bad in (-1.0, math.nan):
        with pytest.raises(ValueError, match="projection"):
            thickness_min(bad)
        with pytest.raises(ValueError, match="step"):
            overlap_min(bad, 225)
        with pytest.raises(ValueError, match="step"):
            trench_fill_overlap_min(bad)
        with pytest.raises(ValueError, match="load"):
            width_min("firm clay", bad, 140)
        with pytest.raises(ValueError, match="wall"):
            width_min("firm clay", 20, bad)
    with pytest.raises(ValueError, match="ground must be one of"):
        width_min("mud", 20, 140)
    with pytest.raises(ValueError, match="shrinkable must be one of"):
        depth_min("some")


def job(courses: int = 2, more: str = "", footing: str = "spread_mm = 105\ndepth_mm = 150"):
    return loads(
        f'title = "footing"\n[block]\nsize = "440x140x140"\n[footing]\n{footing}\n{more}\n'
        '[[walls]]\nname = "w"\nplan = { shape = "straight", length_mm = 3590 }\n'
        f"height = {{ courses = {courses} }}\n"
    )


def codes(spec) -> dict[str, object]:
    return {f.code: f for f in check(spec, set_out(spec))}


def test_a_wall_of_215_and_1_2_m_weighs_about_5_2_a_metre() -> None:
    """Computed at 20 kN/m3: 0.215 x 1.2 x 20 = 5.16, so that the table's first column rules."""
    spec = loads(
        'title = "w"\n[block]\nlength_mm = 440\nwidth_mm = 215\nheight_mm = 190\n'
        'density_kg_m3 = 2039\n[base]\nlevel_mm = 0\n[[walls]]\nname = "w"\n'
        'plan = { shape = "straight", length_mm = 3590 }\nheight = { courses = 6 }\n'
    ).walls[0]
    assert spec.gauge.masonry == 1200
    assert wall_load(spec) == pytest.approx(5.16, rel=0.01)
    assert wall_load(spec) < 20


def test_weights_and_pressure_of_a_plain_wall() -> None:
    """Blocks 0.14 x 0.28 x 2000 x 9.81, beds 0.14 x 0.02 x 23, footing 0.35 x 0.15 x 24;
    the pressure is their sum over 0.35. Standard weights from memory (BS EN 1991-1-1)."""
    (found,) = calculations(job())
    values = {f.name: f.value for f in found.steps}
    assert values["blocks and perps"] == pytest.approx(0.769104)
    assert values["beds"] == pytest.approx(0.0644)
    assert values["footing"] == pytest.approx(1.26)
    assert values["pressure on the ground"] == pytest.approx((0.769104 + 0.0644 + 1.26) / 0.35)


@pytest.mark.parametrize(
    ("ground", "code"),
    [
        ("", "ground-not-given"),
        ('[ground]\nkind = "rock"', None),
        ('[ground]\nkind = "firm clay"', None),
        ('[ground]\nkind = "loose sand"', "footing-narrow"),
        ('[ground]\nkind = "soft clay or silt"', "footing-narrow"),
        ('[ground]\nkind = "peat or very soft"', "weak-ground"),
    ],
)
def test_a_footing_of_350_on_every_ground(ground: str, code: str | None) -> None:
    about = codes(job(more=ground)).keys() & {"ground-not-given", "footing-narrow", "weak-ground"}
    assert about == ({code} if code else set())


@pytest.mark.parametrize(
    ("clay", "depth", "shallow"),
    [("no", 400, False), ("no", 399, True), ("low", 699, True), ("high", 950, False)],
)
def test_a_shallow_footing_is_a_remark_under_a_low_wall(clay, depth, shallow) -> None:
    """The first course starts 50 below ground."""
    ground = f'[ground]\nshrinkable = "{clay}"'
    said = codes(job(2, ground, f"spread_mm = 105\ndepth_mm = {depth}")).get("shallow-footing")
    assert (said is not None) == shallow
    if said is not None:
        assert (said.grade, said.standing) == ("worth knowing", "from memory")


def test_under_a_high_wall_it_is_to_be_looked_at() -> None:
    assert codes(job(8))["shallow-footing"].grade == "look at this"


@pytest.mark.parametrize(("level", "high"), [(0, False), (151, True)])
def test_a_base_does_up_to_about_600(level: int, high: bool) -> None:
    """Common practice: three courses of 150 finish at 450."""
    spec = loads(
        f'title = "b"\n[block]\nsize = "440x140x140"\n[base]\nlevel_mm = {level}\n[[walls]]\n'
        'name = "w"\nplan = { shape = "straight", length_mm = 3590 }\nheight = { courses = 3 }\n'
    )
    found = codes(spec)
    assert "existing-base" in found
    assert ("base-under-high-wall" in found) == high
    assert calculations(spec) == ()
