"""The cut list as CSV, for people at the cutting place."""

from __future__ import annotations

import csv
import io

from parametric_wall.takeoff.cutting import CutUnit, mitred


def cut_list_csv(cuts: tuple[CutUnit, ...]) -> bytes:
    """The cut list: a row a piece, the units to cut in order, and each piece's place in its unit.

    The first and the last piece of a unit keep a factory end.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    head = ("unit", "cut unit", "place in unit", "piece", "wall", "run", "course")
    writer.writerow([*head, "length_mm", "mitred", "offcut_mm"])
    for cut in cuts:
        for place, piece in enumerate(cut.pieces, 1):
            row = [piece.id, piece.wall, piece.run, piece.course, f"{piece.length:.1f}"]
            tail = ["yes" if mitred(piece) else "", f"{cut.offcut:.1f}"]
            writer.writerow([cut.unit, cut.number, place, *row, *tail])
    return out.getvalue().encode("utf-8")
