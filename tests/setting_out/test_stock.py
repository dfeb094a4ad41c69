"""Pieces cut from units, against every way there is and against plain facts."""

from __future__ import annotations

import math
import random
import subprocess
import sys
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from unittest import mock

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parametric_wall.setting_out import stock_solver
from parametric_wall.setting_out.stock import Packing, Stock, _in_steps, pack
from parametric_wall.setting_out.stock_bounds import bounds
from parametric_wall.setting_out.stock_solver import Kind, solve

NEAR = Fraction(1e-6)
BLOCK = 440.0
MISSED = (100, 105, 120, 140, 170, 175, 180, 190, 215, 260)
"""Four blocks less 10 between pieces, which the cheap rules miss by one."""
OPEN = (100, 105, 125, 135, 140, 185, 220, 220)
"""Four blocks likewise, which the cheap rules find but the cheap bounds do not prove."""


class Cut:
    """Pieces to cut: lengths, unit, loss and ends."""

    def __init__(
        self, lengths: Sequence[float], unit: float, loss: float, ends: Sequence[bool]
    ) -> None:
        self.lengths, self.unit, self.loss, self.ends = list(lengths), unit, loss, list(ends)
        self.sizes = [Fraction(length) + Fraction(loss) for length in lengths]
        self.room = Fraction(unit) + Fraction(loss) + NEAR

    def __repr__(self) -> str:
        return f"Cut({self.lengths}, {self.unit}, {self.loss}, {self.ends})"

    def pack(self, seconds: float = 10.0) -> Packing:
        return pack(self.lengths, self.unit, self.loss, ends=self.ends, seconds=seconds)

    def without(self, i: int) -> Cut:
        lengths, ends = self.lengths[:], self.ends[:]
        del lengths[i], ends[i]
        return Cut(lengths, self.unit, self.loss, ends)

    def in_steps(self) -> Stock:
        order = sorted(range(len(self.lengths)), key=lambda i: -self.lengths[i])
        lengths, ends = [self.lengths[i] for i in order], [self.ends[i] for i in order]
        return _in_steps(lengths, self.unit, self.loss, ends)

    def fits(self, group: Sequence[int]) -> bool:
        used = sum(self.sizes[i] for i in group)
        return used <= self.room and sum(self.ends[i] for i in group) <= 2

    def fewest(self) -> int:
        """By trying every way to share the pieces out."""
        best = len(self.lengths)
        groups: list[list[int]] = []

        def share(i: int) -> None:
            nonlocal best
            if len(groups) >= best:
                return
            if i == len(self.lengths):
                best = len(groups)
                return
            for group in groups:
                group.append(i)
                if self.fits(group):
                    share(i + 1)
                group.pop()
            groups.append([i])
            share(i + 1)
            groups.pop()

        share(0)
        return best


def assert_sound(cut: Cut, packing: Packing) -> None:
    assert sorted(i for group in packing.units for i in group) == list(range(len(cut.lengths)))
    assert packing.bound <= len(packing.units)
    assert packing.proven is (packing.bound == len(packing.units))
    for group in packing.units:
        assert cut.fits(group)
        assert not any(cut.ends[i] for i in group[1:-1])
        inner = [cut.lengths[i] for i in group if not cut.ends[i]]
        assert inner == sorted(inner, reverse=True)


@st.composite
def cuts(draw: st.DrawFn, most: int = 7) -> Cut:
    """Halves of mm, parts that fill a unit to the last float, and any float."""
    unit = draw(st.sampled_from((440.0, 600.0, 96.7)))
    loss = draw(st.sampled_from((0.0, 3.5, 10.0, 0.1)))
    halves = st.integers(1, int(unit * 2)).map(lambda n: n / 2)
    parts = st.integers(1, 5).map(lambda n: (unit + loss) / n - loss)
    lengths = draw(st.lists(halves | parts | st.floats(unit / 10, unit), max_size=most))
    ends = draw(st.lists(st.booleans(), min_size=len(lengths), max_size=len(lengths)))
    return Cut(lengths, unit, loss, ends)


# Against every way there is


@settings(max_examples=200, deadline=None)
@given(cuts())
def test_as_few_units_as_the_best_of_all_ways(cut: Cut) -> None:
    packing = cut.pack()
    assert_sound(cut, packing)
    assert packing.proven
    assert len(packing.units) == cut.fewest()


@settings(max_examples=60, deadline=None)
@given(cuts().filter(lambda cut: len(cut.lengths) > 1))
def test_the_solver_alone_finds_the_best_of_all_ways(cut: Cut) -> None:
    stock, fewest = cut.in_steps(), cut.fewest()
    kinds = [Kind(*k, n) for k, n in Counter(zip(stock.sizes, stock.ends, strict=True)).items()]
    ways, bound = solve(kinds, stock.room, stock.steps, (1, len(cut.lengths) + 1), 30)
    assert (len(ways), bound) == (fewest, fewest)
    assert Counter(k for way in ways for k in way) == {k: x.count for k, x in enumerate(kinds)}
    for way in ways:
        assert sum(kinds[k].size for k in way) <= stock.room
        assert sum(kinds[k].end for k in way) <= 2


@settings(max_examples=60, deadline=None)
@given(cuts().filter(lambda cut: len(cut.lengths) > 1), st.integers(10, 40))
def test_a_coarse_grid_never_bounds_too_high_nor_cuts_too_much(cut: Cut, places: int) -> None:
    stock, fewest = cut.in_steps(), cut.fewest()
    kinds = [Kind(*k, 1) for k in zip(stock.sizes, stock.ends, strict=True)]
    between = (1, len(kinds) + 1)
    pair = stock_solver._around(kinds, stock.room, stock.room // places)
    assert bool(pair) is (min(stock.sizes) >= stock.room // places)
    if not pair:  # A piece shorter than a step.
        return
    more, less = pair
    assert stock_solver._least_flow(more, kinds, between, 30)[1] <= fewest
    ways, _ = stock_solver._least_flow(less, kinds, between, 30)
    assert len(ways) >= fewest
    assert all(stock_solver._fits(way, kinds, stock.room) for way in ways)
    with mock.patch.object(stock_solver, "_flows", return_value=pair):
        ways, bound = solve(kinds, stock.room, stock.steps, between, 30)
    assert bound <= fewest <= len(ways)
    assert all(sum(kinds[k].size for k in way) <= stock.room for way in ways)
    assert all(sum(kinds[k].end for k in way) <= 2 for way in ways)
    assert sorted(k for way in ways for k in way) == list(range(len(kinds)))


@settings(max_examples=200, deadline=None)
@given(cuts().filter(lambda cut: cut.lengths != []))
def test_no_bound_is_above_the_best_of_all_ways(cut: Cut) -> None:
    stock = cut.in_steps()
    found = list(bounds(stock.sizes, stock.ends, stock.room, stock.common))
    assert max(found) <= cut.fewest()


# Against itself


@settings(max_examples=60, deadline=None)
@given(cuts(most=14))
def test_unsolved_it_is_sound_and_solved_no_worse(cut: Cut) -> None:
    cheap, solved = cut.pack(seconds=0), cut.pack()
    assert_sound(cut, cheap)
    assert_sound(cut, solved)
    assert cheap.bound <= solved.bound <= len(solved.units) <= len(cheap.units)


@settings(max_examples=60, deadline=None)
@given(cuts(most=14), st.sampled_from((0.5, 7.0)))
def test_more_loss_never_needs_fewer_units(cut: Cut, more: float) -> None:
    less, lossy = cut.pack(), Cut(cut.lengths, cut.unit, cut.loss + more, cut.ends).pack()
    assert less.proven
    assert lossy.proven
    assert len(less.units) <= len(lossy.units)


@settings(max_examples=60, deadline=None)
@given(cuts(most=14).filter(lambda cut: cut.lengths != []), st.data())
def test_one_piece_less_never_needs_more_units(cut: Cut, data: st.DataObject) -> None:
    gone = data.draw(st.integers(0, len(cut.lengths) - 1))
    all_, fewer = cut.pack(), cut.without(gone).pack()
    assert all_.proven
    assert fewer.proven
    assert len(all_.units) - 1 <= len(fewer.units) <= len(all_.units)


@settings(max_examples=40, deadline=None)
@given(cuts(most=14), st.randoms(use_true_random=False))
def test_the_same_answer_each_time_and_as_few_in_any_order(cut: Cut, rng: random.Random) -> None:
    packing = cut.pack()
    assert cut.pack() == packing
    order = list(range(len(cut.lengths)))
    rng.shuffle(order)
    other = pack(
        [cut.lengths[i] for i in order], cut.unit, cut.loss, ends=[cut.ends[i] for i in order]
    )
    assert len(other.units) == len(packing.units)


# Facts


def test_nothing_to_cut_takes_no_unit() -> None:
    assert pack([], BLOCK, 10) == Packing((), 0)
    assert pack([], BLOCK, 10).proven


def test_two_halves_fill_a_block_and_a_hair_more_does_not() -> None:
    assert pack([215, 215], BLOCK, 10).units == ((0, 1),)
    assert pack([215, 215.001], BLOCK, 10).units == ((0,), (1,))
    assert pack([215, 215], BLOCK, 10.001).units == ((0,), (1,))


def test_no_bound_takes_a_half_for_more_than_a_half() -> None:
    stock = Cut([215] * 4 + [100], BLOCK, 10, [False] * 5).in_steps()
    assert max(bounds(stock.sizes, stock.ends, stock.room, stock.common)) == 3


def test_what_is_lost_after_the_last_piece_may_be_less_than_a_kerf() -> None:
    # 3 x 144 + 2 x 3 = 438: the 2 mm left are no third kerf.
    assert pack([144] * 3, BLOCK, 3).units == ((0, 1, 2),)


@pytest.mark.parametrize("parts", range(1, 12))
@pytest.mark.parametrize("loss", [0, 0.1, 3, 10])
def test_equal_parts_that_fill_a_unit_to_the_last_float(parts: int, loss: float) -> None:
    length = (BLOCK + loss) / parts - loss
    packing = pack([length] * (3 * parts), BLOCK, loss)
    assert len(packing.units) == packing.bound == 3
    if parts > 1:
        assert pack([length + 1e-3] * parts, BLOCK, loss).bound == 2


def test_a_piece_as_long_as_the_unit_takes_one() -> None:
    assert pack([BLOCK, BLOCK], BLOCK, 10, ends=[True, False]).units == ((0,), (1,))


def test_two_factory_ends_to_a_unit_and_they_stand_at_its_ends() -> None:
    lengths, ends = [100, 60, 50, 40, 30], [False, True, False, True, False]
    (group,) = pack(lengths, BLOCK, 10, ends=ends).units
    assert (group[0], group[-1]) == (1, 3)
    assert sorted(group[1:-1]) == [0, 2, 4]


def test_three_short_pieces_that_show_need_two_units() -> None:
    assert len(pack([50] * 3, BLOCK, 10).units) == 1
    packing = pack([50] * 3, BLOCK, 10, ends=[True] * 3, seconds=0)
    assert len(packing.units) == packing.bound == 2


def test_showing_pieces_too_long_to_share_bound_their_number() -> None:
    # Ten ends could share five units, but no two of these fit one.
    packing = pack([220] * 10, BLOCK, 10, ends=[True] * 10, seconds=0)
    assert len(packing.units) == packing.bound == 10


@pytest.mark.parametrize(
    ("lengths", "blocks"),
    [
        ((400, 350, 290, 240, 220), 5),
        ((430, 420, 390, 380, 330, 160, 150, 120), 7),
        ((430, 420, 190, 190, 180, 140, 120), 5),
    ],
    ids=["no three from a block", "what long pieces leave no room for", "parts of a block"],
)
def test_one_cheap_bound_alone_is_enough(lengths: tuple[int, ...], blocks: int) -> None:
    assert sum(lengths) + 10 * len(lengths) <= (blocks - 1) * (BLOCK + 10)
    packing = pack(lengths, BLOCK, 10, seconds=0)
    assert len(packing.units) == packing.bound == blocks
    assert Cut(lengths, BLOCK, 10, [False] * len(lengths)).fewest() == blocks


def test_three_units_though_two_have_more_than_enough_length() -> None:
    """Lengths come to 259 of the 264 that two units have."""
    lengths = [44.0] * 2 + [33.0] * 3 + [12.0] * 6
    halves = [
        (a, b, c)
        for a in range(3)
        for b in range(4)
        for c in range(7)
        if 44 * a + 33 * b + 12 * c <= 132 and 44 * (2 - a) + 33 * (3 - b) + 12 * (6 - c) <= 132
    ]
    assert halves == []
    packing = pack(lengths, 132, 0, seconds=0)
    assert len(packing.units) == packing.bound == 3


@pytest.mark.parametrize(
    ("lengths", "shown"),
    [
        ((285, 200, 170, 80, 50, 35), (0, 1, 2, 5)),
        ((250, 170, 145, 115, 65, 50), (2, 3, 4, 5)),
        ((285, 125, 120, 95, 90), (2, 3, 4)),
    ],
    ids=["the tightest unit", "the fullest unit", "the ends first"],
)
def test_two_blocks_by_one_cheap_rule_alone(
    lengths: tuple[int, ...], shown: tuple[int, ...]
) -> None:
    ends = [i in shown for i in range(len(lengths))]
    packing = pack(lengths, BLOCK, 10, ends=ends, seconds=0)
    assert len(packing.units) == packing.bound == 2


def test_what_the_cheap_rules_miss_and_what_they_cannot_prove() -> None:
    assert len(pack(MISSED, BLOCK, 10, seconds=0).units) == 5
    assert len(pack(MISSED, BLOCK, 10).units) == pack(MISSED, BLOCK, 10).bound == 4
    cheap, solved = pack(OPEN, BLOCK, 10, seconds=0), pack(OPEN, BLOCK, 10)
    assert (len(cheap.units), cheap.bound) == (4, 3)
    assert (len(solved.units), solved.bound) == (4, 4)
    assert Cut(OPEN, BLOCK, 10, [False] * 8).fewest() == 4


def test_halves_tenths_and_odd_floats_are_exact_without_a_coarse_grid() -> None:
    rng = random.Random(5)
    for draw in (
        lambda: rng.randrange(200, 680) / 2,
        lambda: rng.randrange(1000, 3400) / 10,
        lambda: rng.uniform(100, 340),
    ):
        lengths = [draw() for _ in range(12)]
        stock = Cut(lengths, BLOCK, 3, [False] * 12).in_steps()
        kinds = [Kind(size, False, 1) for size in stock.sizes]
        assert len(stock_solver._flows(kinds, stock.room, stock.steps)) == 1


def test_a_unit_shorter_than_a_grid_is_exact_too() -> None:
    stock = Cut([0.1] * 3, 0.2, 0, [False] * 3).in_steps()
    kinds = [Kind(stock.sizes[0], False, 3)]
    assert len(stock_solver._flows(kinds, stock.room, stock.steps)) == 1
    assert solve(kinds, stock.room, stock.steps, (1, 4), 30) == ([[0, 0], [0]], 2)


@pytest.mark.parametrize(
    ("seed", "arcs", "cheap", "exact"), [(79, 850, (14, 13), 13), (16, 450, (15, 14), 15)]
)
def test_too_many_ways_are_solved_on_a_coarse_grid(
    seed: int, arcs: int, cheap: tuple[int, int], exact: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    rng = random.Random(seed)
    lengths = [rng.uniform(90, 330) for _ in range(30)]
    cut = Cut(lengths, BLOCK, 3, [i % 5 == 0 for i in range(30)])
    first = cut.pack(seconds=0)
    assert (len(first.units), first.bound) == cheap
    for many, coarse, flows in ((30_000, (), 1), (arcs, (1000, 500), 2)):
        monkeypatch.setattr(stock_solver, "MANY", many)
        monkeypatch.setattr(stock_solver, "COARSE", coarse)
        stock = cut.in_steps()
        kinds = [Kind(*like, 1) for like in zip(stock.sizes, stock.ends, strict=True)]
        assert len(stock_solver._flows(kinds, stock.room, stock.steps)) == flows
        packing = cut.pack(seconds=60)
        assert_sound(cut, packing)
        assert (len(packing.units), packing.bound) == (exact, exact)


def test_where_every_grid_is_too_fine_the_cheap_answer_stands(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(stock_solver, "MANY", 2)
    packing = pack(MISSED, BLOCK, 10)
    assert packing == pack(MISSED, BLOCK, 10, seconds=0)
    assert not packing.proven


@pytest.mark.parametrize("pieces", [MISSED, OPEN])
@pytest.mark.parametrize("seconds", [0, 1e-9, 1e-4])
def test_out_of_time_the_answer_is_sound(pieces: tuple[float, ...], seconds: float) -> None:
    cut = Cut(pieces, BLOCK, 10, [False] * len(pieces))
    packing = cut.pack(seconds)
    assert_sound(cut, packing)
    assert packing.bound <= 4 <= len(packing.units)


@pytest.mark.parametrize(
    ("lengths", "problem"),
    [
        ([100, 441], "piece 1: 441 mm is longer than the unit"),
        ([100, 100, 440.00001], "piece 2"),
        ([0, 100], "piece 0: 0 mm is no length"),
        ([100, -1], "piece 1: -1 mm is no length"),
        ([100, math.nan], "piece 1: nan mm is no length"),
        ([math.inf], "piece 0: inf mm is no length"),
    ],
)
def test_a_piece_that_cannot_be_cut_is_named(lengths: list[float], problem: str) -> None:
    with pytest.raises(ValueError, match=problem):
        pack(lengths, BLOCK, 10)


@pytest.mark.parametrize(
    ("unit", "loss"), [(0, 0), (-440, 0), (math.nan, 0), (math.inf, 0), (440, -1), (440, math.nan)]
)
def test_a_unit_that_makes_no_sense(unit: float, loss: float) -> None:
    with pytest.raises(ValueError, match="makes no sense"):
        pack([100], unit, loss)


def test_an_end_for_every_piece() -> None:
    with pytest.raises(ValueError, match="2 pieces, but 1 ends"):
        pack([100, 100], BLOCK, 10, ends=[True])


LOADS = """
import sys
from parametric_wall.setting_out.stock import pack
before = {"numpy", "scipy"} & set(sys.modules)
packing = pack(%s)
print(packing.proven, sorted(before), sorted({"numpy", "scipy"} & set(sys.modules)))
"""


@pytest.mark.parametrize(
    ("arguments", "loaded"),
    [
        ("[215, 215, 105, 325, 140, 140, 140] * 3, 440, 10", "[]"),
        (f"{list(OPEN)}, 440, 10", "['numpy', 'scipy']"),
    ],
    ids=["cheap", "solved"],
)
def test_only_what_has_to_be_solved_waits_for_the_solver(arguments: str, loaded: str) -> None:
    command = [sys.executable, "-c", LOADS % arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout == f"True [] {loaded}\n"
