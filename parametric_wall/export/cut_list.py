"""The cut lists as CSV: unit by unit at the saw, in laying order at the wall, and by length."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from parametric_wall.setting_out.model import Piece
from parametric_wall.takeoff.cut_ends import mitred
from parametric_wall.takeoff.cut_lists import AlikeCuts, LaidCut
from parametric_wall.takeoff.cutting import CutUnit

PLACE = ("piece", "wall", "run", "course", "length_mm")
ENDS = ("left end", "right end")


def cut_list_csv(cuts: Iterable[CutUnit]) -> bytes:
    """A row a piece: the units to cut in order, and each piece's place in its unit.

    The first and the last piece of a unit keep a factory end; its ends are as they are
    laid, seen from the front.
    """
    head = ("unit", "cut unit", "place in unit", *PLACE, "mitred", "offcut_mm", "lost_mm", *ENDS)
    return _csv(
        head,
        (
            [
                *(cut.unit, cut.number, place, *_place(piece), "yes" if mitred(piece) else ""),
                *(f"{cut.offcut:.1f}", f"{cut.lost:.1f}", *ends),
            ]
            for cut in cuts
            for place, (piece, ends) in enumerate(zip(cut.pieces, cut.ends, strict=True), 1)
        ),
    )


def laying_csv(cuts: Iterable[LaidCut]) -> bytes:
    """A row a piece in laying order: what it comes from, and which of its ends is which."""
    rows = ([*_place(c.piece), c.unit, c.number, source(c), c.left, c.right] for c in cuts)
    return _csv((*PLACE, "unit", "cut unit", "from", *ENDS), rows)


def lengths_csv(groups: Iterable[AlikeCuts]) -> bytes:
    """A row a length: how many pieces, and which."""
    rows = (
        [g.unit, f"{g.length:.1f}", g.mitred, len(g.pieces), " ".join(c.piece.id for c in g.pieces)]
        for g in groups
    )
    return _csv(("unit", "length_mm", "mitred end", "count", "pieces"), rows)


def source(cut: LaidCut) -> str:
    """A unit that is cut now, or what was kept of an earlier one."""
    return f"unit {cut.number}" if cut.opens else f"offcut of unit {cut.number}"


def _place(piece: Piece) -> tuple[object, ...]:
    return (piece.id, piece.wall, piece.run, piece.course, f"{piece.length:.1f}")


def _csv(head: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows(rows)
    return out.getvalue().encode("utf-8")
