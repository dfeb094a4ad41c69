"""Blocks of mixed lengths are ordered by the pack: the length that runs out first rules.

Packs are counted here from the laid pieces themselves; 5 % waste of blocks is the
estimator's 63 ordered for 60 to the m2.
"""

import math
from collections import Counter
from pathlib import Path

import pytest

from parametric_wall.checks.check import check
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


def test_a_mix_that_is_not_kept_is_found() -> None:
    """Of 102 blocks to a pack, 100 of the shortest: most of what is bought is left over."""
    spec = loads(HARD_MIX)
    codes = {f.code: f for f in check(spec, set_out(spec))}
    said = codes["mix-not-kept"]
    assert said.value > said.limit == 20
    assert "asked 98%/1%/1%" in said.message
    assert said.meaning.standing == "common practice"


HARD_MIX = """
title = "t"
[block]
lengths_mm = [190, 290, 390]
mix = [100, 1, 1]
width_mm = 140
height_mm = 140
[[walls]]
name = "w"
plan = { shape = "straight", length_mm = 5190 }
height = { courses = 4 }
"""
