"""Blocks of mixed lengths are ordered by the pack: the length that runs out first rules.

Packs are counted here from the laid pieces themselves; 5 % waste of blocks is the
estimator's 63 ordered for 60 to the m2.
"""

import math
from collections import Counter
from pathlib import Path

import pytest

from parametric_wall.job.read import loads
from parametric_wall.order.line import OrderLine
from parametric_wall.order.materials import order_lines
from parametric_wall.setting_out.set_out import set_out

BORDER = Path(__file__).parents[2] / "examples" / "cottage-border.toml"
KG = 140 * 140 * 2000e-9
"""Of a mm of these blocks."""


def ordered(mix: str) -> tuple[Counter[float], list[OrderLine]]:
    """Whole blocks laid by length, and the lines of blocks; the example has no cut block."""
    spec = loads(BORDER.read_text("utf-8").replace("mix = [1, 2, 1]\n", mix))
    laid = set_out(spec)
    pieces = [p for w in laid.walls for p in w.pieces if p.kind == "block"]
    assert not any(p.cut for p in pieces)
    counted = Counter(p.length for p in pieces)
    return counted, [line for line in order_lines(spec, laid) if line.group == "blocks"]


def test_packs_hold_every_length_with_its_waste() -> None:
    laid, lines = ordered("mix = [1, 2, 1]\n")
    (line,) = (x for x in lines if x.key.startswith("block"))
    packs = max(math.ceil(laid[x] * 1.05 / m) for x, m in ((190, 1), (290, 2), (390, 1)))
    assert line.order == packs * 4
    assert line.net == sum(laid.values())
    assert line.pack_name == "pack of 1 x 190 + 2 x 290 + 1 x 390"
    assert line.mass_kg == pytest.approx(packs * (190 + 2 * 290 + 390) * KG)


def test_without_packs_every_length_is_a_line() -> None:
    laid, lines = ordered("")
    found = {x.key: (x.order, x.mass_kg) for x in lines if x.key.startswith("block")}
    for length, count in laid.items():
        order = math.ceil(count * 1.05)
        key = f"block {length:g}x140x140 of 190/290/390"
        assert found[key] == (order, pytest.approx(order * length * KG))
    assert len(found) == len(laid) == 3
