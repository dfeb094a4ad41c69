"""Prototypes shared, pieces grouped, names and colours."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from dataclasses import replace

import pytest
from helpers_pieces import long_wall, sample, straight_wall

from parametric_wall.geometry import Bar, End, Placement, Slab, block, rectangle
from parametric_wall.setting_out.model import VOIDS, Piece, SettingOut, WallSetOut
from parametric_wall.solid.colours import TINTS
from parametric_wall.solid.model import LAYERS, model_of, size_name
from parametric_wall.solid.shapes import ShapeError, volume_of

pytestmark = pytest.mark.cad


def job(*pieces: Piece) -> SettingOut:
    return SettingOut("job", "Job", (WallSetOut("w", Placement(), pieces),))


def one(piece_id: str, shape: Bar | Slab, kind: str = "block", course: int = 1) -> Piece:
    return Piece(piece_id, kind, "w", 1, course, shape, Placement())  # type: ignore[arg-type]


def test_one_prototype_a_distinct_shape_however_many_pieces() -> None:
    small, large = model_of(long_wall(4)), model_of(long_wall(60))
    lengths = {p.name for p in large.prototypes} ^ {p.name for p in small.prototypes}
    assert len(small.prototypes) == len(large.prototypes) == 9
    assert large.count > 10 * small.count
    # What differs are the sizes that follow the wall's length.
    assert all(name.startswith(("footing", "bed", "coping")) for name in lengths)


def test_every_piece_of_material_is_there_once_under_its_id() -> None:
    laid = sample()
    asked = [p.id for w in laid.walls for p in w.pieces if p.kind not in VOIDS]
    found = [piece.id for _, _, piece in model_of(laid).placed()]
    assert Counter(found) == Counter(asked)
    assert model_of(laid).count == len(asked)


def test_an_opening_is_kept_apart() -> None:
    model = model_of(sample())
    voids = [v for wall in model.walls for group in wall.groups for v in group.voids]
    assert [v.prototype.kind for v in voids] == ["weep"]
    assert all(p.kind != "weep" for p in model.prototypes)


def test_groups_stand_on_one_another() -> None:
    names = [group.name for group in model_of(sample()).walls[0].groups]
    assert names == [
        "kräuter: footing",
        "kräuter: course 1",
        "kräuter: course 2",
        "kräuter: course 3",
        "kräuter: copings",
    ]


def test_courses_are_in_the_order_of_their_numbers_past_nine() -> None:
    layers = [group.layer for group in model_of(long_wall(2, 12)).walls[0].groups]
    assert layers == ["footing", *(f"course {n}" for n in range(1, 13)), "copings"]


def test_fill_is_its_own_group_whatever_its_course() -> None:
    soil = one("w/soil", Slab(rectangle(900.0, 900.0), (), 300.0), "soil", course=0)
    groups = model_of(job(one("w/1", block(440.0, 100.0, 215.0)), soil)).walls[0].groups
    assert [group.layer for group in groups] == ["course 1", "fill"]


def test_every_kind_has_a_layer_and_a_colour() -> None:
    assert LAYERS.keys() == TINTS.keys()
    assert all(0.0 <= value <= 1.0 for tints in TINTS.values() for rgb in tints for value in rgb)


@pytest.mark.parametrize(
    ("shape", "kind", "name"),
    [
        (block(440.0, 100.0, 215.0), "block", "block 440x100x215"),
        (block(212.25, 100.0, 215.0), "block", "block 212.2x100x215"),
        (Bar(rectangle(220.0, 65.0), End(0.0), End(600.0, 1.0)), "coping",
         "coping 820x220x65 mitred at the end"),
        (Bar(rectangle(220.0, 65.0), End(0.0, -1.0), End(600.0, 1.0)), "coping",
         "coping 1040x220x65 mitred at the start and end"),
        (Slab(rectangle(3000.0, 300.0), (), 150.0), "footing", "footing 3000x300x150"),
    ],
)  # fmt: skip
def test_names_give_kind_and_size(shape: Bar | Slab, kind: str, name: str) -> None:
    assert size_name(kind, shape) == name  # type: ignore[arg-type]


def test_two_shapes_of_one_size_have_two_names() -> None:
    left = Bar(rectangle(220.0, 65.0), End(0.0), End(600.0, 1.0))
    right = Bar(rectangle(220.0, 65.0), End(0.0), End(820.0, -1.0))
    model = model_of(job(one("w/1", left), one("w/2", right)))
    first, second = (p.name for p in model.prototypes)
    assert second == f"{first} (2)"


def test_one_shape_of_two_kinds_is_two_prototypes() -> None:
    shape = block(10.0, 100.0, 215.0)
    model = model_of(job(one("w/1", shape, "perp"), one("w/2", shape, "filler")))
    assert [p.kind for p in model.prototypes] == ["perp", "filler"]


def test_pieces_with_one_id_are_refused() -> None:
    shape = block(440.0, 100.0, 215.0)
    with pytest.raises(ValueError, match="one id: w/1"):
        model_of(job(one("w/1", shape), one("w/1", shape)))


def test_a_bad_shape_is_named_by_its_piece() -> None:
    with pytest.raises(ShapeError, match="w/7: the length"):
        model_of(job(one("w/7", block(0.0, 100.0, 215.0))))


def test_a_wall_without_pieces_is_a_wall_without_groups() -> None:
    empty = WallSetOut("nothing", Placement(), ())
    model = model_of(SettingOut("job", "Job", (empty, straight_wall())))
    assert [len(wall.groups) for wall in model.walls] == [0, 5]


def test_prototypes_are_in_the_order_of_first_use() -> None:
    kinds = [p.kind for p in model_of(replace(sample(), walls=(straight_wall(),))).prototypes]
    assert kinds[:4] == ["footing", "bed", "block", "perp"]


def test_the_volume_is_that_of_the_pieces() -> None:
    laid = sample()
    asked = sum(p.volume for w in laid.walls for p in w.pieces if p.kind not in VOIDS)
    found = sum(volume_of(piece.prototype.solid) for _, _, piece in model_of(laid).placed())
    assert found == pytest.approx(asked, rel=1e-9)


TINTS_OF_SAMPLE = """
from helpers_pieces import sample
from parametric_wall.solid.model import model_of
print([piece.tint for _, _, piece in model_of(sample()).placed()])
"""


def test_tints_vary_and_are_the_same_in_every_process() -> None:
    def tints(seed: str) -> str:
        return subprocess.run(
            [sys.executable, "-c", TINTS_OF_SAMPLE],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(sys.path)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout

    first = tints("1")
    assert first == tints("2")
    assert {"0", "1", "2", "3"} <= set(first)
