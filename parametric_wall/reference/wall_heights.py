"""How high a garden wall may be by thickness and exposure zone: the public table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from parametric_wall.reference.tables import table

ZONES = (1, 2, 3, 4)
Kind = Literal["brick", "block"]


@dataclass(frozen=True, slots=True)
class HeightLimit:
    """One cell of the table.

    Attributes:
        row: the thickness that the table names.
        height: greatest height above ground, mm.
        standing: how far the figure can be trusted.
        sheltered: whether it is the figure for sheltered places.
    """

    row: str
    height: float
    standing: str
    sheltered: bool = False


def source() -> str:
    """Where the table comes from."""
    return str(table("wall_heights")["source"])


def height_limit(
    kind: Kind, thickness: float, zone: int, *, sheltered: bool = False
) -> HeightLimit | None:
    """Greatest height of a free-standing wall without piers.

    Public height table for garden walls, after BRE Good Building Guide 14 (standing by cell).

    Args:
        kind: which rows count: brick or block, a word without a unit.
        thickness: of the wall, in mm; between two rows the thinner one's limit counts.
        zone: exposure zone 1 to 4 from the table's map, a number without a unit.
        sheltered: whether the place is sheltered, without a unit; counts only where the
            table's sheltered figure is known (brick, zone 1).

    Returns:
        The limit, its height in mm; None where the wall is thinner than every row.

    Raises:
        ValueError: kind or zone is not one of the table's, or thickness is not more than 0.
    """
    if kind not in ("brick", "block") or zone not in ZONES:
        msg = f"kind must be brick or block, and zone one of {ZONES}; not {kind} and {zone}"
        raise ValueError(msg)
    if not thickness > 0:
        msg = f"thickness must be more than 0: {thickness}"
        raise ValueError(msg)
    rows = [row for row in table("wall_heights")[kind] if row["thickness_mm"] <= thickness]
    if not rows:
        return None
    row, cell = rows[-1], zone - 1
    if sheltered and zone == 1 and "sheltered_mm" in row:
        return HeightLimit(row["name"], float(row["sheltered_mm"]), "read", sheltered=True)
    return HeightLimit(row["name"], float(row["max_mm"][cell]), row["standing"][cell])
