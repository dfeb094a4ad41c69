"""The record of the take-off: quantities, how good the bonds are, what is cut from what."""

from __future__ import annotations

from typing_extensions import TypedDict

from parametric_wall.export.bond_records import BondRecord, bond_records
from parametric_wall.export.cut_list import source
from parametric_wall.export.records import shown
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.cut_lists import by_length, in_laying_order
from parametric_wall.takeoff.cutting import CutUnit
from parametric_wall.takeoff.quantities import Quantity

PROVEN = "The bound is of the blocks bought, not of the criteria that come after."
WHERE_JOINTED = "It holds with the movement joints where they stand; elsewhere fewer might do."


class QuantityRecord(TypedDict):
    """One line of the take-off."""

    item: str
    unit: str
    net: float
    order: float | None
    rule: str


class CutRecord(TypedDict):
    """One unit that is cut and the pieces that come of it, in their order along it.

    The ends are left and right as a piece is laid, seen from the front.
    """

    unit: str
    number: int
    pieces: list[str]
    lengths_mm: list[float]
    ends: list[list[str]]
    lost_mm: float
    offcut_mm: float


class LaidCutRecord(TypedDict):
    """One cut piece in laying order; `opens` where the unit is cut for it."""

    piece: str
    length_mm: float
    unit: str
    number: int
    opens: bool
    source: str
    left: str
    right: str


class AlikeCutsRecord(TypedDict):
    """Cut pieces of one length and with the same mitres."""

    unit: str
    length_mm: float
    mitred: str
    count: int
    pieces: list[str]


class TakeOffRecord(TypedDict):
    """The file take-off.json."""

    job: str
    title: str
    quantities: list[QuantityRecord]
    bonds: list[BondRecord]
    bonds_note: str
    cuts: list[CutRecord]
    cuts_as_laid: list[LaidCutRecord]
    cuts_by_length: list[AlikeCutsRecord]


def bonds_note(laid: SettingOut) -> str:
    """For what the certificates of the bonds hold, and for what they do not."""
    jointed = any(bonded.run.joint for wall in laid.walls for bonded in wall.bonded)
    return f"{PROVEN} {WHERE_JOINTED}" if jointed else PROVEN


def take_off_record(
    spec: JobSpec, laid: SettingOut, lines: tuple[Quantity, ...], cuts: tuple[CutUnit, ...]
) -> TakeOffRecord:
    """The take-off of a job."""
    as_laid = in_laying_order(laid, cuts)
    return {
        "job": spec.name,
        "title": spec.job.title,
        "quantities": [
            {"item": q.item, "unit": q.unit, "net": q.net, "order": q.order, "rule": q.rule}
            for q in lines
        ],
        "bonds": bond_records(laid),
        "bonds_note": bonds_note(laid),
        "cuts": [
            {
                "unit": c.unit,
                "number": c.number,
                "pieces": [p.id for p in c.pieces],
                "lengths_mm": [shown(p.length) for p in c.pieces],
                "ends": [list(ends) for ends in c.ends],
                "lost_mm": shown(c.lost),
                "offcut_mm": shown(c.offcut),
            }
            for c in cuts
        ],
        "cuts_as_laid": [
            {
                "piece": c.piece.id,
                "length_mm": shown(c.piece.length),
                "unit": c.unit,
                "number": c.number,
                "opens": c.opens,
                "source": source(c),
                "left": c.left,
                "right": c.right,
            }
            for c in as_laid
        ],
        "cuts_by_length": [
            {
                "unit": g.unit,
                "length_mm": g.length,
                "mitred": g.mitred,
                "count": len(g.pieces),
                "pieces": [c.piece.id for c in g.pieces],
            }
            for g in by_length(as_laid)
        ],
    }
