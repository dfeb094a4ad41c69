"""What must hold of the wind on every free-standing wall."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric_wall.checks.wind_section import Reading, readings
from parametric_wall.checks.wind_zones import pressed
from parametric_wall.job.model import Job
from parametric_wall.job.resolve import WallSpec, resolve
from parametric_wall.reference.en1991_1_4 import ZONES, cp_net
from parametric_wall.setting_out.runs import runs_of

LENGTHS = st.integers(150, 2000).map(lambda n: n * 10)
SHORT = st.integers(45, 149).map(lambda n: n * 10)
"""Two legs as short as these would meet; one straight wall may be."""
FREE = ("straight", "L", "U", "rectangle")


@st.composite
def free_walls(draw: st.DrawFn) -> dict[str, Any]:
    """A free-standing wall and its wind, as the tables of a job file."""
    shape = draw(st.sampled_from(FREE))
    a, b, c = draw(LENGTHS), draw(LENGTHS), draw(LENGTHS)
    plan: dict[str, Any] = {"shape": "straight", "length_mm": draw(SHORT | LENGTHS)}
    if shape == "rectangle":
        plan = {"shape": "rectangle", "length_mm": a, "width_mm": b}
    elif shape != "straight":
        turn = draw(st.sampled_from(("left", "right")))
        legs: list[dict[str, Any]] = [{"length_mm": n, "turn": turn} for n in (a, b)]
        legs = legs[:1] if shape == "L" else legs
        plan = {"shape": "legs", "legs": [*legs, {"length_mm": c}]}
    support = {"footing": {"spread_mm": 150, "depth_mm": 200, "below_ground_mm": 50}}
    wall = {"name": "w", "plan": plan, "height": {"courses": draw(st.integers(1, 8))}}
    if draw(st.booleans()):
        wall["dpc"] = {"under_course": draw(st.integers(1, wall["height"]["courses"]))}
    return {
        "title": "drawn",
        "block": {
            "length_mm": 440,
            "width_mm": draw(st.integers(9, 40)) * 10,
            "height_mm": 190,
            "density_kg_m3": draw(st.sampled_from((600, 2000, 2300))),
        },
        **(
            support
            if draw(st.booleans())
            else {"base": {"level_mm": draw(st.integers(-1, 1)) * 50}}
        ),
        "masonry": {"mortar": draw(st.sampled_from(("M12", "M4", "M2")))},
        "wind": {
            "basic_velocity_m_s": draw(st.integers(15, 40)),
            "altitude_m": draw(st.integers(0, 400)),
            "terrain": draw(st.sampled_from(("0", "I", "II", "III", "IV"))),
            "solidity": draw(st.sampled_from((0.8, 0.93, 1.0))),
        },
        "walls": [wall],
    }


def read(job: dict[str, Any]) -> tuple[WallSpec, tuple[Reading, ...]]:
    spec = resolve(Job.model_validate(job))
    assert spec.job.wind is not None
    return spec.walls[0], readings(spec.walls[0], spec.job.wind, spec.job.masonry)


def at(found: tuple[Reading, ...], place: float) -> Reading:
    return next(r for r in found if place <= r.zone.before + r.zone.end)


def never_better(job: dict[str, Any], more: dict[str, Any]) -> None:
    (spec, less), (_, harder) = read(job), read(more)
    length = sum(spec.path.lengths)
    for part in range(1, 60, 2):
        a, b = at(less, part / 60 * length), at(harder, part / 60 * length)
        assert b.overturning >= a.overturning * (1 - 1e-9)
        assert b.bending >= a.bending * (1 - 1e-9)
        assert b.governing >= a.governing * (1 - 1e-9)


@given(job=free_walls(), key=st.sampled_from(("basic_velocity_m_s", "altitude_m")))
@settings(max_examples=40, deadline=None)
def test_more_wind_never_helps(job: dict[str, Any], key: str) -> None:
    never_better(job, job | {"wind": job["wind"] | {key: job["wind"][key] + 7}})


@given(job=free_walls(), pa=st.integers(100, 1500))
@settings(max_examples=20, deadline=None)
def test_more_pressure_never_helps(job: dict[str, Any], pa: int) -> None:
    never_better(*(job | {"wind": {"peak_pressure_Pa": p}} for p in (pa, pa + 50)))


@given(job=free_walls())
@settings(max_examples=60, deadline=None)
def test_more_height_never_helps(job: dict[str, Any]) -> None:
    (wall,) = job["walls"]
    taller = wall | {"height": {"courses": wall["height"]["courses"] + 1}}
    never_better(job, job | {"walls": [taller]})


@given(job=free_walls(), more=st.integers(1, 10))
@settings(max_examples=60, deadline=None)
def test_more_thickness_never_harms(job: dict[str, Any], more: int) -> None:
    """The outer face, which the zones are measured along, stays as it is."""
    thicker = job | {"block": job["block"] | {"width_mm": job["block"]["width_mm"] + 2 * more}}
    never_better(thicker, job)


@given(
    l=st.floats(0.3, 40),
    h=st.floats(0.2, 3),
    lr=st.floats(0, 4),
    more=st.floats(0, 2),
    phi=st.floats(0.8, 1),
)
def test_a_longer_return_never_worsens_the_worst_zone(l, h, lr, more, phi) -> None:  # noqa: E741
    """Zone A is the worst. Of short walls Table 7.9 has more in B and C with a return."""
    a, b = (max(cp_net(z, l, h, r, phi) for z in ZONES) for r in (lr, lr + more))
    assert b <= a + 1e-12
    if l / h >= 5:
        for zone in ZONES:
            assert cp_net(zone, l, h, lr + more, phi) <= cp_net(zone, l, h, lr, phi) + 1e-12


@given(zone=st.sampled_from(ZONES), l=st.floats(0.5, 30), lr=st.floats(0, 2), phi=st.floats(0.8, 1))
def test_coefficients_are_continuous(zone, l, lr, phi) -> None:  # noqa: E741
    """The steepest row rises by 0.6 over 2 in l/h, a return by 1.3 over h, a hole by 2.2 in 0.2."""
    step = 1e-6
    here = cp_net(zone, l, 1, lr, phi)
    assert cp_net(zone, l + step, 1, lr, phi) == pytest.approx(here, abs=0.31 * step)
    assert cp_net(zone, l, 1, lr + step, phi) == pytest.approx(here, abs=1.31 * step)
    assert cp_net(zone, l, 1, lr, max(0.8, phi - step)) == pytest.approx(here, abs=11.1 * step)


@given(job=free_walls(), height=st.integers(5, 300))
@settings(max_examples=60, deadline=None)
def test_zones_cover_every_run_once(job: dict[str, Any], height: int) -> None:
    spec, _ = read(job)
    zones = pressed(spec, height * 10.0, 1.0)
    before = 0.0
    for run in runs_of(spec):
        own = [z for z in zones if z.run == run.name]
        assert own[0].start == 0
        assert own[-1].end == run.length
        assert all(a.end == b.start for a, b in itertools.pairwise(own))
        assert all(z.end > z.start and z.before == before for z in own)
        before += run.length
    assert len({z.run for z in zones}) == len(runs_of(spec))


@given(job=free_walls())
@settings(max_examples=40, deadline=None)
def test_a_mirror_image_is_pressed_as_the_wall_is(job: dict[str, Any]) -> None:
    (wall,) = job["walls"]
    body = "right" if wall.get("body", "left") == "left" else "left"
    plan = wall["plan"]
    if plan["shape"] == "legs":
        other = {"left": "right", "right": "left"}
        legs = [g | ({"turn": other[g["turn"]]} if "turn" in g else {}) for g in plan["legs"]]
        plan = plan | {"legs": legs}
    _, here = read(job)
    _, there = read(job | {"walls": [wall | {"plan": plan, "body": body}]})

    def rows(found: tuple[Reading, ...]) -> list[tuple[str, float, float]]:
        return sorted(
            (r.zone.zone, round(r.zone.end - r.zone.start, 6), round(r.governing, 9)) for r in found
        )

    assert rows(here) == rows(there)


@given(
    width=st.integers(90, 400), courses=st.integers(1, 8), pa=st.integers(50, 1500), l=st.just(9000)
)
@settings(max_examples=40, deadline=None)
def test_worked_in_newtons_and_millimetres_it_is_the_same(width, courses, pa, l) -> None:  # noqa: E741
    """On a base, without a coping, in zone A: 1 Pa is 1e-6 N/mm2, 1 kg/m3 9.81e-9 N/mm3."""
    wall = {"name": "w", "plan": {"shape": "straight", "length_mm": l}}
    _, (first, *_) = read(
        {
            "title": "units",
            "block": {"length_mm": 440, "width_mm": width, "height_mm": 190},
            "base": {"level_mm": 0},
            "wind": {"peak_pressure_Pa": pa},
            "walls": [wall | {"height": {"courses": courses}}],
        }
    )
    tall = 200 * courses
    turned = 1.5 * pa * 1e-6 * first.zone.cp * tall**2 / 2
    held = 0.9 * 2000 * 9.81e-9 * width * tall * width / 2
    assert first.overturning == pytest.approx(turned / held)
