"""Movement joints by the material of the units: how far apart, how wide."""

from __future__ import annotations

import math
from dataclasses import dataclass

from parametric_wall.reference.tables import table


@dataclass(frozen=True, slots=True)
class MovementRule:
    """The rule of one material.

    Attributes:
        spacing: greatest length without a joint, mm.
        from_corner: greatest distance of the first joint from a corner, mm.
        width: least width of a joint, mm.
        width_per_m: joint width for each metre of spacing, mm; 0 where the width is fixed.
        source: where it comes from.
        standing: how far it can be trusted.
    """

    spacing: float
    from_corner: float
    width: float
    width_per_m: float
    source: str
    standing: str


def movement_rule(unit: str) -> MovementRule:
    """The rule for a material, called as in the job file.

    BRE Digest 164 and council note GN24, as the table says.

    Args:
        unit: the material's name, a word without a unit.

    Raises:
        ValueError: the material has no rule.
    """
    rows = table("movement")
    if unit not in rows:
        msg = f"unit must be one of {', '.join(rows)}; not {unit}"
        raise ValueError(msg)
    row = rows[unit]
    return MovementRule(
        float(row["spacing_mm"]),
        float(row.get("from_corner_mm", row["spacing_mm"])),
        float(row.get("width_mm", 0.0)),
        float(row.get("width_per_m", 0.0)),
        row["source"],
        row["standing"],
    )


def joint_width_min(unit: str, spacing: float) -> float:
    """Least width of a movement joint.

    BRE Digest 164 as quoted by the council note and the brick association (read): clay 1.3 mm
    for each metre, rounded up to whole mm; others a fixed width.

    Args:
        unit: the material's name, a word without a unit.
        spacing: length of masonry that the joint serves, in mm.

    Returns:
        The width, in mm.

    Raises:
        ValueError: the material has no rule, or spacing is not more than 0.
    """
    rule = movement_rule(unit)
    if not spacing > 0:
        msg = f"spacing must be more than 0: {spacing}"
        raise ValueError(msg)
    return max(rule.width, float(math.ceil(round(rule.width_per_m * spacing / 1000, 6))))
