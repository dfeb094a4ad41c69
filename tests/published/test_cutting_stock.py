"""Published optima of one-dimensional cutting and packing.

Encyclopaedia page on the cutting-stock problem: 13 widths from rolls of 5600, 73 rolls;
first-fit decreasing needs 82 (computed).
Issue 15 of coin-or/prtpy: ten pieces in bins of 60, three bins.
OR-Library, file binpack1: the twenty problems of class u120, "A hybrid grouping genetic
algorithm for bin packing", Journal of Heuristics 2 (1996) 5-30. The file gives the fewest
bins that were known; u120_08 and u120_19 need one fewer (computed by an arc-flow).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from parametric_wall.setting_out import stock
from parametric_wall.setting_out.stock import Packing, pack

BINPACK1 = Path(__file__).parents[1] / "data" / "or-library-binpack1.txt"
FEWEST_KNOWN = (48, 49, 46, 49, 50, 48, 48, 49, 51, 46, 52, 49, 48, 49, 50, 48, 52, 52, 49, 50)
FEWEST = {"u120_08": 50, "u120_19": 49}
"""Where the file's own number is not the least."""

ROLL = 5600
WIDTHS = {
    1380: 22,
    1520: 25,
    1560: 12,
    1710: 14,
    1820: 18,
    1880: 18,
    1930: 20,
    2000: 10,
    2050: 12,
    2100: 14,
    2140: 16,
    2150: 18,
    2200: 20,
}
ROLLS = [float(width) for width, count in WIDTHS.items() for _ in range(count)]


def problems() -> dict[str, tuple[int, int, list[float]]]:
    """Capacity, fewest known and pieces of each problem of the file."""
    lines = BINPACK1.read_text(encoding="utf-8").splitlines()
    words = iter(" ".join(line for line in lines if not line.startswith("#")).split())
    found = {}
    for _ in range(int(next(words))):
        name, capacity, count, known = (next(words) for _ in range(4))
        pieces = [float(next(words)) for _ in range(int(count))]
        found[name] = int(capacity), int(known), pieces
    assert not list(words)
    return found


BINPACK = problems()


def assert_packed(packing: Packing, pieces: list[float], unit: float) -> None:
    assert sorted(i for group in packing.units for i in group) == list(range(len(pieces)))
    assert all(sum(pieces[i] for i in group) <= unit for group in packing.units)


def first_fit_decreasing(pieces: list[float], unit: float) -> int:
    falling = sorted(pieces, reverse=True)
    return len(stock._first_fit(stock._in_steps(falling, unit, 0, [False] * len(pieces))))


def test_seventy_three_rolls() -> None:
    assert sum(ROLLS) == 407160
    packing = pack(ROLLS, ROLL, 0)
    assert_packed(packing, ROLLS, ROLL)
    assert (len(packing.units), packing.bound) == (73, 73)
    assert 1 - sum(ROLLS) / (73 * ROLL) == pytest.approx(0.00401, abs=5e-6)


def test_first_fit_decreasing_needs_eighty_two_rolls() -> None:
    assert first_fit_decreasing(ROLLS, ROLL) == 82


def test_three_bins_of_sixty() -> None:
    pieces = [44.0, 6, 24, 6, 24, 8, 22, 8, 17, 21]
    packing = pack(pieces, 60, 0)
    assert_packed(packing, pieces, 60)
    assert (len(packing.units), packing.bound) == (3, 3)


def test_the_file_is_the_one_that_was_published() -> None:
    assert list(BINPACK) == [f"u120_{k:02}" for k in range(20)]
    assert tuple(known for _, known, _ in BINPACK.values()) == FEWEST_KNOWN
    for capacity, _, pieces in BINPACK.values():
        assert capacity == 150
        assert len(pieces) == 120
        assert 20 <= min(pieces) <= max(pieces) <= 100
    assert sum(BINPACK["u120_00"][2]) == 7078


def test_first_fit_decreasing_needs_one_bin_more() -> None:
    assert first_fit_decreasing(BINPACK["u120_00"][2], 150) == 49


@pytest.mark.parametrize("name", BINPACK)
def test_never_more_bins_than_were_known(name: str) -> None:
    capacity, known, pieces = BINPACK[name]
    packing = pack(pieces, capacity, 0, seconds=60)
    assert_packed(packing, pieces, capacity)
    assert packing.proven
    assert len(packing.units) <= known
    assert len(packing.units) == FEWEST.get(name, known)


@pytest.mark.parametrize("name", ["u120_08", "u120_19"])
@pytest.mark.parametrize("kerf", [0.5, 3.0])
def test_a_kerf_is_a_longer_piece_from_a_longer_unit(name: str, kerf: float) -> None:
    capacity, _, pieces = BINPACK[name]
    packing = pack([p - kerf for p in pieces], capacity - kerf, kerf, seconds=60)
    assert_packed(packing, pieces, capacity)
    assert (len(packing.units), packing.bound) == (FEWEST[name], FEWEST[name])
