"""Plans of placed pieces: each a symbol of its size, the cut ones marked and measured.

What is said of a leg stands on the side its front looks to, unless another leg lies
between: then behind it, where that is free.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from parametric_wall.drawings.placing.beside import Side
from parametric_wall.drawings.plans.wall_plan import OPPOSITE, outward_side
from parametric_wall.drawings.sheet import Point
from parametric_wall.drawings.view import Hatch, Region, Symbol, Use
from parametric_wall.geometry import Bar, Placement
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import Kind, Piece

LAYER_OF: dict[Kind, str] = {
    "block": "blocks",
    "perp": "mortar",
    "filler": "fillers",
    "coping": "copings",
    "coping joint": "mortar",
}
"""The kinds of pieces that plans draw."""


def corners_of(piece: Piece) -> tuple[Point, ...]:
    """The outline of a piece from above in the wall's axes: front left, front right, and back."""
    return tuple(piece.at.point(s, u)[:2] for s, u in piece.shape.plan())


def short_id(piece: Piece) -> str:
    """Its id without the wall's name, which the view has."""
    return piece.id.removeprefix(f"{piece.wall}/")


def drawn_pieces(pieces: Iterable[Piece]) -> tuple[tuple[Symbol, ...], tuple[Use, ...]]:
    """Symbols of all sizes of pieces, and every piece as one of them in its place."""
    symbols: dict[str, Symbol] = {}
    uses = []
    for piece in pieces:
        symbol = _symbol(piece)
        symbols.setdefault(symbol.name, symbol)
        at = (piece.at.x, piece.at.y)
        uses.append(Use(LAYER_OF[piece.kind], symbol.name, at, piece.at.heading_deg))
    return tuple(symbols[name] for name in sorted(symbols)), tuple(uses)


def _symbol(piece: Piece) -> Symbol:
    shape = piece.shape
    assert isinstance(shape, Bar)
    outline = shape.plan()
    us, ss = [u for _, u in outline], [s for s, _ in outline]
    kind = piece.kind.replace(" ", "-") + ("-cut" if piece.cut else "")
    mitres = "".join(
        f"-{side}-{'in' if end.per_u * hand > 0 else 'out'}"
        for side, end, hand in (("left", shape.start, 1), ("right", shape.end, -1))
        if end.per_u
    )
    size = f"{_figure(max(ss) - min(ss))}x{_figure(max(us) - min(us))}"
    hatch: Hatch = "cut" if piece.cut else "none"
    return Symbol(f"{kind}-{size}{mitres}", (Region(LAYER_OF[piece.kind], outline, hatch),))


def _figure(value: float) -> str:
    """A length in a name, which takes no point."""
    return f"{value:.2f}".rstrip("0").rstrip(".").replace(".", "_")


def sides_of(spec: WallSpec, seen: Sequence[int]) -> dict[int, Side]:
    """On which side of a plan each leg is written about, by its number.

    Args:
        spec: the wall.
        seen: indices of the legs that the plan has.
    """
    places = spec.path.placements()
    bodies = {i: _box(places[i], spec.path.lengths[i], spec.thickness) for i in seen}
    found = {}
    for i in seen:
        side = outward_side(places[i].heading_deg)
        others = [body for j, body in bodies.items() if j != i]
        if _hidden(bodies[i], side, others) and not _hidden(bodies[i], OPPOSITE[side], others):
            side = OPPOSITE[side]
        found[spec.path.numbers[i]] = side
    return found


Box = tuple[float, float, float, float]


def _box(place: Placement, length: float, thickness: float) -> Box:
    (x0, y0, _), (x1, y1, _) = place.point(0.0, 0.0), place.point(length, thickness)
    return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)


def _hidden(body: Box, side: Side, others: Sequence[Box]) -> bool:
    """Whether another leg lies before this one as seen from a side."""
    x0, y0, x1, y1 = body

    def before(other: Box) -> bool:
        a0, b0, a1, b1 = other
        if side in ("below", "above"):
            return a0 < x1 and a1 > x0 and (b0 < y0 if side == "below" else b1 > y1)
        return b0 < y1 and b1 > y0 and (a0 < x0 if side == "left" else a1 > x1)

    return any(before(other) for other in others)
