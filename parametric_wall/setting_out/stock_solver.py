"""The fewest units as a flow along their length, by integer programming.

A place is how far a unit has been cut, and an arc cuts one more piece there. A way
along arcs from the start is what one unit gives, so that the least flow that cuts
all pieces is the answer. Ways that come to one place share what follows, which keeps
the flow small even where there are very many ways.

Places are whole numbers of a grid. Where the grid admits the same ways as the true
lengths the answer is exact. Where no such grid is small enough, a problem that
admits more gives the bound, and one that admits less gives the units.
"""

from __future__ import annotations

import math
import time
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from parametric_wall.setting_out.stock_bounds import FACTORY_ENDS

GRIDS = ((1, 1), (1, 2), (1, 4), (1, 5), (1, 10), (1, 20), (1, 100))
"""Grids that lengths may keep to, mm as fractions."""
COARSE = (3000, 1000, 300)
"""Places in a unit where none of these is small enough."""
MANY = 30_000
"""Arcs beyond which a grid is too fine."""
SLACK = 1e-4
"""Taken off the solver's bound before it is rounded up: its sums are good to some 1e-6."""

Way = list[int]
"""Kinds of the pieces of one unit."""
_Place = tuple[int, int]
"""How far a unit is cut, and how many factory ends are still to be had there."""


@dataclass(frozen=True, slots=True)
class Kind:
    """Pieces alike.

    Attributes:
        size: length of one and what is lost beside it.
        end: whether each needs a factory end.
        count: how many.
    """

    size: int
    end: bool
    count: int


@dataclass(frozen=True, slots=True)
class _Flow:
    """Arcs from place to place, by number; 0 is the start.

    Attributes:
        tails: where each arc begins.
        heads: where it ends.
        cuts: the kind of the piece it cuts.
        bounds: whether no flow of true ways is smaller than its least flow.
    """

    tails: list[int]
    heads: list[int]
    cuts: list[int]
    bounds: bool = True


def solve(
    kinds: list[Kind], room: int, steps: int, between: tuple[int, int], seconds: float
) -> tuple[list[Way], int]:
    """Ways that cut all pieces, and how many are needed at the least.

    Args:
        kinds: the pieces, in steps.
        room: length of a unit and what is lost beside one piece, in steps.
        steps: how many make a mm.
        between: the least number of ways that could do, and a number that does.
        seconds: when to stop.

    Returns:
        The ways, none where none better were found, and the bound.
    """
    until = time.monotonic() + seconds
    least, enough = between
    ways: list[Way] = []
    flows = _flows(kinds, room, steps)
    for done, flow in enumerate(flows):
        share = (until - time.monotonic()) / (len(flows) - done)
        if share <= 0 or enough == least:
            break
        found, bound = _least_flow(flow, kinds, (least, enough), share)
        if flow.bounds:
            least = max(least, bound)
        if found and all(_fits(way, kinds, room) for way in found) and len(found) < enough:
            ways, enough = found, len(found)
    return ways, least


def _fits(way: Way, kinds: list[Kind], room: int) -> bool:
    """Whether one unit gives the pieces of a way, by their true lengths."""
    return sum(kinds[k].size for k in way) <= room


def _flows(kinds: list[Kind], room: int, steps: int) -> tuple[_Flow, ...]:
    """The flow that is exact, or else one for the bound and one for the units."""
    sizes = [k.size for k in kinds]
    exact = (_on_grid(sizes, room, steps * a, b) for a, b in GRIDS)
    grid = next((g for g in exact if g is not None), (sizes, room))
    flow = _flow(kinds, *grid)
    if flow is not None:
        return (flow,)
    pairs = (_around(kinds, room, max(1, room // places)) for places in COARSE)
    return next((pair for pair in pairs if pair), ())


def _around(kinds: list[Kind], room: int, step: int) -> tuple[_Flow, ...]:
    """On a grid of a step a flow that admits more than a unit gives, and one that admits less."""
    places = room // step
    more = _flow(kinds, [k.size // step for k in kinds], places)
    # A piece that comes to more than the unit when rounded up takes a whole one.
    less = _flow(kinds, [min(-(-k.size // step), places) for k in kinds], places, bounds=False)
    return () if more is None or less is None else (more, less)


def _on_grid(sizes: list[int], room: int, step: int, parts: int) -> tuple[list[int], int] | None:
    """Sizes and room on a grid of step / parts; None where that is not exact.

    On the grid a way is off by no more than its pieces are, and one more piece than
    fits is too many for either, so it is exact where the room is one place both ways.
    """
    places = [(2 * size * parts + step) // (2 * step) for size in sizes]
    off = max(abs(s * parts - p * step) for s, p in zip(sizes, places, strict=True))
    off *= room // min(sizes) + 1
    low, high = (room * parts - off) // step, (room * parts + off) // step
    return (places, low) if low == high and min(places) > 0 else None


def _flow(kinds: list[Kind], places: list[int], room: int, *, bounds: bool = True) -> _Flow | None:
    """Arcs kind by kind, factory ends first, then the longest; None where they are too many."""
    if min(places) < 1:
        return None
    ends = FACTORY_ENDS if any(k.end for k in kinds) else 0
    number: dict[_Place, int] = {(0, ends): 0}
    arcs: dict[tuple[int, int], int] = {}
    for kind in sorted(range(len(kinds)), key=lambda k: (not kinds[k].end, -places[k])):
        for place in list(number):
            tail = number[place]
            for ahead in _cuts_from(place, kinds[kind], places[kind], room):
                head = number.setdefault(ahead, len(number))
                arcs[tail, kind] = head
                tail = head
        if len(arcs) > MANY:
            return None
    return _Flow([t for t, _ in arcs], list(arcs.values()), [k for _, k in arcs], bounds)


def _cuts_from(place: _Place, kind: Kind, size: int, room: int) -> Iterator[_Place]:
    """The places that one, two ... pieces of a kind reach from a place."""
    at, ends = place
    for _ in range(kind.count):
        at, ends = at + size, ends - 1 if kind.end else 0
        if at > room or ends < 0:
            return
        yield at, ends


def _least_flow(
    flow: _Flow, kinds: list[Kind], between: tuple[int, int], seconds: float
) -> tuple[list[Way], int]:
    """The ways of the least flow that was found in time, and what none is smaller than."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp  # type: ignore[import-untyped]
    from scipy.sparse import csr_array  # type: ignore[import-untyped]

    tails, cuts = np.array(flow.tails), np.array(flow.cuts)
    counts = np.array([k.count for k in kinds])
    arcs, ones = np.arange(len(tails)), np.ones(len(tails))
    # A row for every place: what comes less what goes on; and one for every kind.
    places = max(flow.tails + flow.heads) + 1
    rows = np.concatenate([flow.heads, tails, places + cuts])
    entries = (np.concatenate([ones, -ones, ones]), (rows, np.tile(arcs, 3)))
    table = csr_array(entries, shape=(places + len(kinds), len(arcs)))
    low = np.concatenate([np.zeros(places), counts])
    high = np.full(len(low), np.inf)
    low[0], high[0] = -between[1], -between[0]
    result = milp(
        (tails == 0).astype(float),
        integrality=ones,
        bounds=Bounds(0, counts[cuts]),
        constraints=LinearConstraint(table, low, high),
        # Less than one unit apart is not apart.
        options={"time_limit": seconds, "mip_rel_gap": 0.99 / between[1]},
    )
    dual = result.mip_dual_bound
    bound = math.ceil(dual - SLACK) if dual is not None and math.isfinite(dual) else 0
    if result.x is None:
        return [], bound
    return _ways(flow, np.rint(result.x).astype(int).tolist(), kinds), bound


def _ways(flow: _Flow, amounts: list[int], kinds: list[Kind]) -> list[Way]:
    """A flow taken apart into ways, less the pieces that it cuts too many; none where too few."""
    onward: dict[int, list[int]] = defaultdict(list)
    for arc, (tail, amount) in enumerate(zip(flow.tails, amounts, strict=True)):
        onward[tail] += [arc] * amount
    wanted = [k.count for k in kinds]
    ways: list[Way] = []
    while onward[0]:
        place, way = 0, []
        while onward[place]:
            arc = onward[place].pop()
            place, kind = flow.heads[arc], flow.cuts[arc]
            if wanted[kind]:
                wanted[kind] -= 1
                way.append(kind)
        ways.append(way)
    return [] if any(wanted) else [way for way in ways if way]
