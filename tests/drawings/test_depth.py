"""The painting order: the nearer later, also where no middle point would sort it."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from helpers_still import Rays, painted

from parametric_wall import load, set_out
from parametric_wall.drawings.still.axonometric import still
from parametric_wall.drawings.still.depth import Body, cuboid, in_front, painting_order
from parametric_wall.drawings.still.projection import DIMETRIC, ISOMETRIC, Projection

BOTH = pytest.mark.parametrize("projection", [DIMETRIC, ISOMETRIC, DIMETRIC.mirrored()])
ROOT = Path(__file__).parents[2]


@BOTH
def test_a_long_wall_before_a_short_one_behind_its_far_end(projection: Projection) -> None:
    """Middle by middle the long one is further away at one end than what it hides."""
    long_ = cuboid((0, 0, 0), (20_000, 100, 900), projection)
    for x in (0, 10_000, 19_500):
        short = cuboid((x, 150, 0), (x + 500, 250, 900), projection)
        order = painting_order([long_, short], projection.towards)
        assert order == [1, 0]


@BOTH
def test_what_stands_on_another_is_painted_after_it(projection: Projection) -> None:
    low = cuboid((0, 0, 0), (1000, 1000, 500), projection)
    high = cuboid((0, 900, 500), (1000, 1000, 600), projection)
    towards = projection.towards
    assert painting_order([high, low], towards) == [1, 0]
    assert (in_front(high, low, towards), in_front(low, high, towards)) == (1, -1)


def test_boxes_on_a_grid_in_any_order() -> None:
    """Of two boxes that touch, the one to the front, to the right or on top comes later."""
    cells = [(x, y, z) for x in range(4) for y in range(4) for z in range(3)]
    random.Random(3).shuffle(cells)
    boxes = [cuboid(c, (c[0] + 1, c[1] + 1, c[2] + 1), ISOMETRIC) for c in scaled(cells)]
    place = {cells[i]: n for n, i in enumerate(painting_order(boxes, ISOMETRIC.towards))}
    for x, y, z in cells:
        for later in ((x + 1, y, z), (x, y - 1, z), (x, y, z + 1)):
            assert place.get(later, len(cells)) > place[x, y, z]


def scaled(cells: list[tuple[int, int, int]]) -> list[tuple[float, float, float]]:
    return [(float(x), float(y), float(z)) for x, y, z in cells]


def test_what_is_settled_is_kept() -> None:
    apart: list[Body] = [
        cuboid((x, 0, 0), (x + 100, 100, 100), DIMETRIC) for x in (0, 5000, 10_000, 15_000)
    ]
    settled = [(3, 0), (0, 2)]
    order = painting_order(apart, DIMETRIC.towards, settled)
    assert sorted(order) == [0, 1, 2, 3]
    assert all(order.index(a) < order.index(b) for a, b in settled)


def test_a_ring_is_painted_all_the_same() -> None:
    boxes = [cuboid((x, 0, 0), (x + 100, 100, 100), DIMETRIC) for x in (0, 5000, 10_000)]
    assert sorted(painting_order(boxes, DIMETRIC.towards, [(0, 1), (1, 2), (2, 0)])) == [0, 1, 2]


@pytest.mark.cad
def test_the_rays_find_a_wrong_order() -> None:
    """A picture painted from the front to the back is found out by many of its rays."""
    spec = load(ROOT / "examples" / "herb-planter.toml")
    laid = set_out(spec)
    right = still(laid, spec)
    wrong = replace(right, marks=tuple(reversed(right.marks)))
    rays, good, bad = Rays(laid, right), painted(right), painted(wrong)
    low, high = good.boxes[:, :2].min(axis=0), good.boxes[:, 2:].max(axis=0)
    points = np.random.default_rng(1).uniform(low, high, (200, 2))
    missed = [sum(rays.hit(p) not in shown.at(p) for p in points) for shown in (good, bad)]
    assert missed[0] <= 4
    assert missed[1] > 60
