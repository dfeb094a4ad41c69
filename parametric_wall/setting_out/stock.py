"""Which pieces are cut from which unit, so that the fewest units are bought. Pure numbers, mm.

A unit holds some pieces where their lengths, and what is lost between each two of
them, come to no more than its own. With what is lost added to every piece and once
to the unit this is the packing of bins. Cheap rules pack first and cheap bounds say
whether fewer could do; only where the two do not meet is the matter solved.

Every length is taken as the exact fraction that its float is, and all of them as
whole numbers of one small step, so that nothing here is rounded.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from parametric_wall.geometry import TOLERANCE
from parametric_wall.setting_out.stock_bounds import FACTORY_ENDS, bounds
from parametric_wall.setting_out.stock_solver import Kind, solve

Group = list[int]
"""Pieces cut from one unit, as places in a list with the longest first."""

TRIES = 250
"""Fillings looked at for each unit before the best so far is taken."""


@dataclass(frozen=True, slots=True)
class Packing:
    """Which pieces come from which unit.

    Attributes:
        units: for each unit the indices of its pieces in their order along it: one
            that needs a factory end first or last, the others the longest first.
        bound: no way needs fewer units than this.
    """

    units: tuple[tuple[int, ...], ...]
    bound: int

    @property
    def proven(self) -> bool:
        """Whether no way needs fewer units."""
        return len(self.units) == self.bound


@dataclass(frozen=True, slots=True)
class Stock:
    """Pieces to cut, in whole steps, the longest first.

    Attributes:
        sizes: length of each piece and what is lost beside it.
        ends: whether it needs a factory end.
        room: length of a unit and what is lost beside one piece, down to a common step.
        steps: how many make a mm.
        common: steps that make a common one, the longest that every size is a multiple of.
    """

    sizes: list[int]
    ends: list[bool]
    room: int
    steps: int
    common: int


def pack(
    lengths: Sequence[float],
    unit: float,
    loss: float,
    *,
    ends: Sequence[bool] | None = None,
    seconds: float = 10.0,
) -> Packing:
    """Cut the pieces from the fewest units that can be found, and say how few it could be.

    Args:
        lengths: of the pieces, mm.
        unit: length of a unit, mm.
        loss: lost between two neighbouring pieces of a unit, mm.
        ends: whether each piece needs a factory end; by default none does.
        seconds: for solving what the cheap rules leave open; with 0 it stays open.

    Raises:
        ValueError: where a piece is longer than the unit, or a number makes no sense.
    """
    wanted = [False] * len(lengths) if ends is None else [bool(e) for e in ends]
    _check(lengths, unit, loss, wanted)
    if not wanted:
        return Packing((), 0)
    order = sorted(range(len(wanted)), key=lambda i: (-lengths[i], not wanted[i]))
    stock = _in_steps([lengths[i] for i in order], unit, loss, [wanted[i] for i in order])
    if stock.sizes[0] > stock.room:
        i = order[0]
        raise ValueError(f"piece {i}: {lengths[i]} mm is longer than the unit, {unit} mm")
    groups, bound = _cheaply(stock)
    if len(groups) > bound and seconds > 0:
        groups, bound = _solved(stock, groups, bound, seconds)
    units = sorted(tuple(order[k] for k in _along(stock, group)) for group in groups)
    return Packing(tuple(units), bound)


def _check(lengths: Sequence[float], unit: float, loss: float, ends: list[bool]) -> None:
    if not 0 < unit < math.inf or not 0 <= loss < math.inf:
        raise ValueError(f"a unit of {unit} mm with {loss} mm lost makes no sense")
    if len(ends) != len(lengths):
        raise ValueError(f"{len(lengths)} pieces, but {len(ends)} ends")
    for i, length in enumerate(lengths):
        if not 0 < length < math.inf:
            raise ValueError(f"piece {i}: {length} mm is no length")


def _in_steps(lengths: list[float], unit: float, loss: float, ends: list[bool]) -> Stock:
    """The same lengths in whole steps: a float is a whole number over a power of two."""
    whole, kerf, near = (float(x).as_integer_ratio() for x in (unit, loss, TOLERANCE.coincident))
    ratios = [float(x).as_integer_ratio() for x in lengths]
    steps = max(whole[1], kerf[1], *(d for _, d in ratios))
    lost = kerf[0] * (steps // kerf[1])
    sizes = [n * (steps // d) + lost for n, d in ratios]
    room = whole[0] * (steps // whole[1]) + lost + near[0] * steps // near[1]
    common = math.gcd(*sizes)
    return Stock(sizes, ends, room - room % common, steps, common)


def _along(stock: Stock, group: Group) -> Group:
    """The pieces of one unit, with those that need a factory end at its ends."""
    shown = [k for k in group if stock.ends[k]]
    inner = [k for k in group if not stock.ends[k]]
    return shown[:1] + inner + shown[1:]


def _cheaply(stock: Stock) -> tuple[list[Group], int]:
    """The best of the cheap rules and the best of the cheap bounds, until they meet."""
    best = _first_fit(stock)
    bound = 0
    for needed in bounds(stock.sizes, stock.ends, stock.room, stock.common):
        bound = max(bound, needed)
        if len(best) == bound:
            return best, bound
    rules: tuple[Callable[[Stock], list[Group]], ...] = (_best_fit, _fullest, _ends_first)
    for rule in rules:
        best = min(best, rule(stock), key=len)
        if len(best) == bound:
            break
    return best, bound


# Rules


class _Units:
    """Units that pieces are put into one by one."""

    def __init__(self, room: int) -> None:
        self.room = room
        self.groups: list[Group] = []
        self.rooms: list[int] = []
        self.shown: list[int] = []

    def admits(self, at: int, size: int, end: bool) -> bool:
        """Whether a piece can still come from a unit."""
        return size <= self.rooms[at] and not (end and self.shown[at] == FACTORY_ENDS)

    def put(self, at: int, k: int, size: int, end: bool) -> None:
        """Cut a piece from a unit, a new one where there is none yet."""
        if at == len(self.groups):
            self.groups.append([])
            self.rooms.append(self.room)
            self.shown.append(0)
        self.groups[at].append(k)
        self.rooms[at] -= size
        self.shown[at] += end


def _first_fit(stock: Stock) -> list[Group]:
    """The longest piece first, each from the first unit that admits it."""
    units = _Units(stock.room)
    last, at = (0, False), 0
    for k, like in enumerate(zip(stock.sizes, stock.ends, strict=True)):
        if like != last:  # What does not admit a piece admits none like it later.
            last, at = like, 0
        while at < len(units.groups) and not units.admits(at, *like):
            at += 1
        units.put(at, k, *like)
    return units.groups


def _best_fit(stock: Stock) -> list[Group]:
    """The longest piece first, each from the unit with the least room that admits it."""
    units = _Units(stock.room)
    last, at = (0, False), 0
    for k, like in enumerate(zip(stock.sizes, stock.ends, strict=True)):
        if like != last or not units.admits(at, *like):
            admit = [(r, u) for u, r in enumerate(units.rooms) if units.admits(u, *like)]
            last, at = like, min(admit)[1] if admit else len(units.groups)
        units.put(at, k, *like)
    return units.groups


def _fullest(stock: Stock) -> list[Group]:
    """One unit after the other, each with the longest piece left and what fills it best."""
    return _fill(stock, list(range(len(stock.sizes))))


def _ends_first(stock: Stock) -> list[Group]:
    """As the fullest, but begun with the pieces that need a factory end."""
    places = range(len(stock.sizes))
    return _fill(stock, sorted(places, key=lambda k: not stock.ends[k]))


def _fill(stock: Stock, order: list[int]) -> list[Group]:
    groups = []
    left = order
    while left:
        group = _filling(stock, left)
        groups.append(group)
        taken = set(group)
        left = [k for k in left if k not in taken]
    return groups


def _filling(stock: Stock, left: list[int]) -> Group:
    """The first piece left, and those of the others that leave the least of its unit."""
    sizes, ends = stock.sizes, stock.ends
    best: Group = []
    least, tries = stock.room + 1, TRIES
    smallest = min(sizes[k] for k in left)

    def look(at: int, room: int, shown: int, group: Group) -> None:
        nonlocal best, least, tries
        tries -= 1
        if room < least:
            best, least = group, room
        before = (0, False)
        for i in range(at, len(left)):
            if least == 0 or tries <= 0 or room < smallest:
                return
            k = left[i]
            like = (sizes[k], ends[k])
            if like == before or like[0] > room or (like[1] and shown == FACTORY_ENDS):
                continue
            before = like
            look(i + 1, room - like[0], shown + like[1], [*group, k])

    first = left[0]
    look(1, stock.room - sizes[first], int(ends[first]), [first])
    return best


# Solving


def _solved(
    stock: Stock, groups: list[Group], bound: int, seconds: float
) -> tuple[list[Group], int]:
    """What the solver makes of it, where it is better."""
    like: dict[tuple[int, bool], Group] = {}
    for k, key in enumerate(zip(stock.sizes, stock.ends, strict=True)):
        like.setdefault(key, []).append(k)
    kinds = [Kind(size, end, len(places)) for (size, end), places in like.items()]
    between = (bound, len(groups))
    ways, bound = solve(kinds, stock.room, stock.steps, between, seconds)
    if ways:
        places = [iter(p) for p in like.values()]
        groups = [sorted(next(places[kind]) for kind in way) for way in ways]
    return groups, bound
