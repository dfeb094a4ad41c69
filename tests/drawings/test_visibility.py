"""What is painted uppermost is what a ray meets first.

The rays hit the kernel's solids of the same pieces, so neither the rows nor the painting
order of the picture are taken on trust.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from helpers_still import GROUND, Painted, Rays, painted
from hypothesis import HealthCheck, given, settings
from strategies import jobs, laid_out

from parametric_wall import load, loads, set_out
from parametric_wall.drawings.still.axonometric import still
from parametric_wall.drawings.still.projection import DIMETRIC, ISOMETRIC, Projection
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import SettingOut

pytestmark = pytest.mark.cad

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
EDGE = 0.03
"""mm on paper: nearer than this to an edge, either side of it is right."""


def compared(spec: JobSpec, laid: SettingOut, projection: Projection, rays: int) -> None:
    picture = still(laid, spec, width_mm=400, height_mm=400, projection=projection)
    cast, shown = Rays(laid, picture), painted(picture)
    # Over the walls themselves, where something hides something.
    x0, y0 = shown.boxes[:, :2].min(axis=0)
    x1, y1 = shown.boxes[:, 2:].max(axis=0)
    points = np.random.default_rng(7).uniform((x0, y0), (x1, y1), (rays, 2))
    plain = [p for p in points if agrees(cast, shown, p)]
    assert len(plain) > rays / 2
    seen = {name for p in plain for name in shown.at(p)}
    assert len(seen - {GROUND}) > 3


def agrees(cast: Rays, shown: Painted, point: np.ndarray) -> bool:
    """Hold one point against its ray; False where it is too near an edge to tell."""
    steps = [(dx, dy) for dx in (-EDGE, EDGE) for dy in (-EDGE, EDGE)]
    hit = cast.hit(point)
    if any(cast.hit(point + step) != hit for step in steps):
        return False
    there = shown.at(point)
    if any("/existing/" in name for name in there):
        return False
    assert hit in there, f"{point}: a ray meets {hit}, painted is {there[:3]}"
    return True


@pytest.mark.parametrize("projection", [DIMETRIC, ISOMETRIC], ids=lambda p: p.name)
@pytest.mark.parametrize("job", EXAMPLES, ids=lambda job: job.stem)
def test_every_example(job: Path, projection: Projection) -> None:
    spec = load(job)
    compared(spec, set_out(spec), projection, 600)


@settings(
    max_examples=20,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(jobs())
def test_jobs_as_they_come(table: dict[str, Any]) -> None:
    spec, laid = laid_out(table)
    compared(spec, laid, DIMETRIC, 300)


SEVERAL = """
title = "three walls askew"
block = { size = "440x140x140" }
coping = { size = "600x240x50", fall = { to = "back", mm = 6, in_mm = 240 } }
[[walls]]
name = "low"
plan = { shape = "legs", legs = [{ length_mm = 2690, turn = "left" }, { length_mm = 1790 }] }
height = { courses = 2 }
[[walls]]
name = "high"
place = { x_mm = 200, y_mm = 700, heading_deg = 33 }
plan = { shape = "straight", length_mm = 1790 }
height = { courses = 6 }
[[walls]]
name = "middle"
place = { x_mm = 1000, y_mm = -1500, heading_deg = 280 }
plan = { shape = "rectangle", length_mm = 1490, width_mm = 1190 }
height = { courses = 4 }
"""
RAISED = """
title = "on a base over ground"
block = { size = "290x140x140" }
coping = { size = "600x240x50" }
base = { level_mm = 120 }
[[walls]]
name = "raised"
plan = { shape = "rectangle", length_mm = 1940, width_mm = 1040 }
height = { courses = 3 }
fill = { base_level_mm = 0, drainage_mm = 100, below_coping_mm = 60 }
"""


@pytest.mark.parametrize("text", [SEVERAL, RAISED], ids=["several", "raised"])
def test_walls_askew_of_several_heights_and_on_a_base(text: str) -> None:
    spec = loads(text)
    compared(spec, set_out(spec), DIMETRIC, 1500)
