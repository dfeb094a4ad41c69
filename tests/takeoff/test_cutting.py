"""What is cut from what."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parametric_wall.geometry import Placement, block
from parametric_wall.job.read import loads
from parametric_wall.setting_out.model import Piece
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.cutting import ALLOWANCE_MM, _pairs, cut_units
from parametric_wall.takeoff.quantities import quantities


def piece(length: float, number: int) -> Piece:
    shape = block(length, 100, 140)
    return Piece(f"w/r1/c01/{number}", "block", "w", 1, 1, shape, Placement(), True, length)


def fewest(lengths: list[int], unit: float) -> int:
    """Fewest units of any way of putting at most two pieces into one."""
    best = len(lengths)
    for order in permutations(lengths):
        used, i = 0, 0
        while i < len(order):
            fits = i + 1 < len(order) and order[i] + order[i + 1] + ALLOWANCE_MM <= unit
            i += 2 if fits else 1
            used += 1
        best = min(best, used)
    return best


@given(st.lists(st.integers(50, 430), min_size=1, max_size=6))
def test_no_other_pairing_needs_fewer_units(lengths: list[int]) -> None:
    pieces = sorted((piece(x, i) for i, x in enumerate(lengths)), key=lambda p: -p.length)
    groups = list(_pairs(pieces, 440))
    assert len(groups) == fewest(lengths, 440)
    assert sorted(p.id for g in groups for p in g) == sorted(p.id for p in pieces)
    assert all(sum(p.length for p in g) + ALLOWANCE_MM * (len(g) - 1) <= 440 for g in groups)


def test_two_halves_come_from_one_block() -> None:
    spec = loads(
        'title = "halves"\n[block]\nsize = "440x100x140"\n[[walls]]\nname = "w"\n'
        'plan = { shape = "straight", length_mm = 3590 }\nheight = { courses = 4 }\n'
    )
    laid = set_out(spec)
    units = cut_units(spec, laid)
    assert [[p.length for p in u.pieces] for u in units] == [[215, 215]] * 2
    blocks = quantities(spec, laid)[0]
    assert blocks.net == 8 + 7 + 8 + 7 + 2
    assert blocks.order == pytest.approx(34)  # 32 x 1.05 = 33.6


def test_mitred_copings_come_from_one_coping_each() -> None:
    spec = loads(
        'title = "mitres"\n[block]\nsize = "290x140x140"\n[coping]\nsize = "600x240x50"\n'
        '[[walls]]\nname = "w"\nheight = { courses = 2 }\n'
        'plan = { shape = "rectangle", length_mm = 1940, width_mm = 1040 }\n'
    )
    units = [u for u in cut_units(spec, set_out(spec)) if u.unit.startswith("coping")]
    assert all(len(u.pieces) == 1 for u in units)
    assert len(units) == 8
