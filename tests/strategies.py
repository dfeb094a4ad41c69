"""Jobs as hypothesis draws them: every kind of plan, end, coping and bond."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume
from hypothesis import strategies as st

from parametric_wall.errors import JobError
from parametric_wall.job.read import validate
from parametric_wall.job.resolve import JobSpec, WallSpec, resolve
from parametric_wall.setting_out.model import SettingOut, WallSetOut
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.closed_form import closed_form
from parametric_wall.takeoff.components import COMPONENTS
from parametric_wall.takeoff.counted import counted, trench, voids

LOOSE = (190.1, 240, 290, 390.7)
"""Lengths that keep to no module."""
FAMILIES = ((190, 290, 390), (200, 300, 400), (215, 290, 440), (250, 290, 330), (190, 390), LOOSE)
BLOCKS = ("215x102.5x65", "290x140x140", "390x90x190", "440x100x140", "440x140x140", "440x100x215")


@st.composite
def copings(draw: st.DrawFn, thickness: float) -> dict[str, Any]:
    over = draw(st.sampled_from((60, 80, 101)))
    width = round(thickness + over)
    flat = draw(st.booleans())
    fall = {"to": draw(st.sampled_from(("front", "back"))), "mm": 5, "in_mm": width}
    coping: dict[str, Any] = {
        "length_mm": draw(st.sampled_from((450, 600, 900))),
        "width_mm": width,
        "thickness_mm": draw(st.sampled_from((45, 60))),
        "overhang_front_mm": over / 2 - draw(st.sampled_from((0, 10))),
        "overhang_end_mm": draw(st.sampled_from((0, 30))),
        "corner": draw(st.sampled_from(("mitred", "run through"))),
        "profile": "flat" if flat else "weathered",
    }
    if not flat or draw(st.booleans()):
        coping["fall"] = fall
    if draw(st.booleans()):
        coping["drip"] = {"width_mm": 8, "depth_mm": 6, "distance_mm": 10}
    return coping


def ends() -> st.SearchStrategy[dict[str, Any]]:
    return st.sampled_from(
        (
            {"kind": "stop"},
            {"kind": "abutment", "joint": "mortar"},
            {"kind": "abutment", "joint": "movement"},
        )
    )


def lengths(least: int = 900) -> st.SearchStrategy[int]:
    return st.integers(least // 5, 800).map(lambda n: n * 5)


@st.composite
def plans(draw: st.DrawFn, body: str) -> dict[str, Any]:
    """A plan in which no leg comes near another."""
    shape = draw(st.sampled_from(("straight", "rectangle", "L", "Z", "U out", "U in", "nook")))
    inward, outward = ("left", "right") if body == "left" else ("right", "left")
    if shape == "straight":
        return {"shape": "straight", "length_mm": draw(lengths(500))}
    if shape == "rectangle":
        return {"shape": "rectangle", "length_mm": draw(lengths()), "width_mm": draw(lengths())}
    turns = {"L": [inward], "Z": [inward, outward], "U out": [outward] * 2, "U in": [inward] * 2}
    if shape in turns:
        legs: list[dict[str, Any]] = [
            {"length_mm": draw(lengths()), "turn": t} for t in turns[shape]
        ]
        return {"shape": "legs", "legs": [*legs, {"length_mm": draw(lengths())}]}
    a, b, c, d = (draw(lengths()) for _ in range(4))
    sides = ((a + c, inward), (b, inward), (c, outward), (d, inward), (a, inward), (b + d, inward))
    closed = [{"length_mm": length, "turn": turn} for length, turn in sides]
    return {"shape": "legs", "closed": True, "legs": closed}


def movements() -> st.SearchStrategy[dict[str, Any]]:
    """Joints so near each other that most of the plans drawn have some."""
    return st.fixed_dictionaries(
        {"spacing_mm": st.integers(300, 600).map(lambda n: n * 5)},
        optional={
            "width_mm": st.sampled_from((8, 10, 16)),
            "ties": st.sampled_from(("slip ties", "none")),
        },
    )


@st.composite
def mixed_lengths(draw: st.DrawFn, table: dict[str, Any]) -> None:
    """Gives a drawn job a block of mixed lengths, of the same width and height."""
    width, height = map(float, table["block"]["size"].split("x")[1:])
    lengths = list(draw(st.sampled_from(FAMILIES)))
    table["block"] = {"lengths_mm": lengths, "width_mm": width, "height_mm": height}
    if draw(st.booleans()):
        packed = st.integers(1, 3)
        table["block"]["mix"] = draw(st.lists(packed, min_size=len(lengths), max_size=len(lengths)))
    table["bond"] = {
        "most_alike": draw(st.integers(1, 3)),
        "seed": draw(st.integers(0, 3)),
        "adjust": draw(st.booleans()),
    }


@st.composite
def jobs(draw: st.DrawFn, *, mixed: bool = False) -> dict[str, Any]:
    """A job of one wall, as the tables of its file. It may have no legal bond.

    With `mixed`, now and then its block has several lengths.
    """
    block = draw(st.sampled_from(BLOCKS))
    body = draw(st.sampled_from(("left", "right")))
    plan = draw(plans(body))
    closed = plan["shape"] == "rectangle" or plan.get("closed", False)
    wall: dict[str, Any] = {
        "name": "wall",
        "body": body,
        "plan": plan,
        "height": {"courses": draw(st.integers(1, 5))},
    }
    if closed and draw(st.booleans()):
        wall["fill"] = {"base_level_mm": draw(st.sampled_from((-120, 0))), "drainage_mm": 20}
        wall["fill"]["below_coping_mm"] = 10
        wall["height"]["courses"] += 2
        wall["weeps"] = {"kind": "open perps", "spacing_mm": 700}
    if not closed:
        wall |= {"start": draw(ends()), "end": draw(ends())}
    job: dict[str, Any] = {
        "title": "drawn",
        "block": {"size": block},
        "bond": {
            "wish": draw(st.sampled_from(("half", "third", "quarter"))),
            "third": draw(st.sampled_from(("raking", "to and fro"))),
        },
        "footing": {
            "spread_mm": draw(st.sampled_from((0, 75, 150, 400))),
            "depth_mm": 150,
            "below_ground_mm": draw(st.sampled_from((0, 50))),
        },
        "walls": [wall],
    }
    if draw(st.integers(0, 2)) == 2:
        job["movement"] = draw(movements())
    if draw(st.integers(0, 4)):
        job["coping"] = draw(copings(float(block.split("x")[1])))
    if mixed and draw(st.integers(0, 2)) == 2:
        draw(mixed_lengths(job))
    return job


def laid_out(table: dict[str, Any]) -> tuple[JobSpec, SettingOut]:
    """A drawn job, where it can be resolved, bonded and coped."""
    try:
        spec = resolve(validate(table))
    except JobError:
        assume(False)
    laid = set_out(spec)
    assume(not laid.walls[0].unbonded)
    assume(all(run.lengths for run in laid.walls[0].coped))
    return spec, laid


def the_closed_form_meets_the_count(spec: WallSpec, wall: WallSetOut) -> None:
    """Every component of a wall, from the job alone and added up over its pieces."""
    closed, count = closed_form(spec), counted(wall)
    for component in COMPONENTS:
        by_count = sum(count.get(kind, 0.0) for kind in component.kinds)
        if not component.kinds:
            by_count = trench(spec, wall)
        if component.name == "blocks and perps":
            by_count += voids(wall)
        assert by_count == pytest.approx(closed.get(component.name, 0.0), rel=1e-9, abs=1e-3)
