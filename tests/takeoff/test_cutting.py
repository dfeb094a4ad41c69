"""What is cut from what."""

from __future__ import annotations

import pytest

from parametric_wall.job.read import loads
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.cutting import cut_units
from parametric_wall.takeoff.quantities import quantities


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


def test_without_reuse_every_cut_piece_takes_a_unit() -> None:
    text = (
        'title = "halves"\n[block]\nsize = "440x100x140"\n[cutting]\nreuse_offcuts = false\n'
        '[[walls]]\nname = "w"\nplan = { shape = "straight", length_mm = 3590 }\n'
        "height = { courses = 4 }\n"
    )
    spec = loads(text)
    assert all(len(u.pieces) == 1 for u in cut_units(spec, set_out(spec)))


def test_the_units_are_as_many_as_the_bond_was_chosen_for() -> None:
    text = (
        'title = "certificate"\n[block]\nsize = "440x100x140"\n[[walls]]\nname = "w"\n'
        'plan = { shape = "rectangle", length_mm = 2345, width_mm = 1480 }\n'
        "height = { courses = 5 }\n"
    )
    spec = loads(text)
    laid = set_out(spec)
    whole = sum(p.kind == "block" and not p.cut for p in laid.walls[0].pieces)
    ((name, found),) = laid.certificates
    assert name == "440x100x140"
    assert whole + len(cut_units(spec, laid)) == found.blocks
    assert found.bound <= found.blocks
