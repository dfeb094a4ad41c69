"""Strip footings of plain concrete: thickness, width, depth, steps. Lengths in mm, loads kN/m."""

from __future__ import annotations

from parametric_wall.reference.tables import table


def thickness_min(projection: float) -> float:
    """Least thickness of a strip footing.

    Approved Document A, 2E2(d) and Diagram 20 (from memory, confirm).

    Args:
        projection: of the footing beyond the wall's face, in mm.

    Returns:
        The greater of the projection and 150, in mm.

    Raises:
        ValueError: projection is negative or not a number.
    """
    if not projection >= 0:
        msg = f"projection must not be less than 0: {projection}"
        raise ValueError(msg)
    return max(projection, 150.0)


def width_min(ground: str, load: float, wall: float) -> float | None:
    """Least width of a strip footing.

    Approved Document A, Table 10 (from memory, confirm).

    Args:
        ground: kind of ground, as in the job file; a word without a unit.
        load: of the wall on the footing, in kN/m.
        wall: thickness of the wall, in mm.

    Returns:
        The width, in mm; None where the ground or the load is outside the table.

    Raises:
        ValueError: the ground is not known, or load or wall is not more than 0.
    """
    rows = table("footing_widths")
    known = rows["ground"]
    if ground not in known:
        msg = f"ground must be one of {', '.join(known)}; not {ground}"
        raise ValueError(msg)
    for name, value in (("load", load), ("wall", wall)):
        if not value > 0:
            msg = f"{name} must be more than 0: {value}"
            raise ValueError(msg)
    widths = known[ground]["width_mm"]
    if widths == "wall":
        return wall
    fits = (w for most, w in zip(rows["load_kN_m"], widths, strict=False) if load <= most)
    width = next(fits, None)
    return None if width is None else float(width)


def overlap_min(step: float, thickness: float) -> float:
    """Least overlap of a strip footing at a step.

    NHBC Standards 4.3.8, Table 3 (read); Approved Document A, Diagram 21.

    Args:
        step: height of the step, in mm.
        thickness: of the footing, in mm.

    Returns:
        The greatest of twice the step, the thickness (500 of it at the most) and 300, in mm.

    Raises:
        ValueError: step or thickness is not more than 0, or the step is more than the thickness.
    """
    _step(step)
    if not thickness >= step:
        msg = f"a step of {step} must not be more than the thickness of {thickness}"
        raise ValueError(msg)
    return max(2 * step, min(thickness, 500.0), 300.0)


def trench_fill_overlap_min(step: float) -> float:
    """Least overlap of a trench-fill footing at a step.

    NHBC Standards 4.3.8, Table 3 (read).

    Args:
        step: height of the step, in mm.

    Returns:
        The greater of twice the step and 1000, in mm.

    Raises:
        ValueError: step is not more than 0.
    """
    return max(2 * _step(step), 1000.0)


def _step(step: float) -> float:
    if not step > 0:
        msg = f"step must be more than 0: {step}"
        raise ValueError(msg)
    return step


def depth_min(shrinkable: str) -> float:
    """Least depth of a footing's underside below ground: frost, and clay that shrinks.

    Approved Document A, 2E4; NHBC Standards 4.2, Table 4, away from trees (from memory, confirm).

    Args:
        shrinkable: no, low, medium or high; a word without a unit.

    Returns:
        450 for frost; 750, 900 or 1000 in shrinkable clay, in mm.

    Raises:
        ValueError: shrinkable is none of these.
    """
    depths = {"no": 450.0, "low": 750.0, "medium": 900.0, "high": 1000.0}
    if shrinkable not in depths:
        msg = f"shrinkable must be one of {', '.join(depths)}; not {shrinkable}"
        raise ValueError(msg)
    return depths[shrinkable]
