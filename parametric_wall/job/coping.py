"""How a coping lies on the wall: its section, its bed and its overhangs.

The section is drawn in (u, z): u from the wall's front face to its back, z from
the top of the masonry. A flat slab bedded to a fall is rotated about its low
lower arris, not sheared; a weathered one is flat underneath.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from parametric_wall.errors import Fault
from parametric_wall.geometry import TOLERANCE, Point
from parametric_wall.job.model import Coping, Drip, Fall
from parametric_wall.reference import tables


@dataclass(frozen=True, slots=True)
class CopingLay:
    """A coping as laid on a wall of one thickness.

    Attributes:
        coping: as the job file has it.
        thickness: of the wall, mm.
        front: overhang at the front, to the lower arris, mm.
        back: overhang at the back, to the lower arris, mm.
        tilt: tangent of the slab's own rotation, positive when it falls to the
            front; 0 for a weathered or level coping.
        weathering: drop of the upper face over the full width, mm, positive
            when it falls to the front; 0 for a flat coping.
        clear: least distance from a coping joint to a perp below, mm.
        min_cut: shortest piece, mm.
    """

    coping: Coping
    thickness: float
    front: float
    back: float
    tilt: float
    weathering: float
    clear: float
    min_cut: float

    @property
    def shoulder(self) -> float:
        """Least short side of a mitred piece, mm: half a cut, so that no sliver stands there."""
        return self.min_cut / 2

    def front_edge(self, bed: float) -> float:
        """Level of the front lower arris, over a bed that is `bed` thick at its thin edge."""
        thin_edge = 0.0 if self.tilt >= 0 else self.thickness
        return bed - (self.front + thin_edge) * self.tilt

    def underside(self, u: float, bed: float) -> float:
        """Level of the slab's underside at u."""
        return self.front_edge(bed) + (self.front + u) * self.tilt

    def bed_section(self, bed: float) -> tuple[Point, ...]:
        """The bed on the wall: a wedge under a tilted slab."""
        t = self.thickness
        return ((0.0, 0.0), (t, 0.0), (t, self.underside(t, bed)), (0.0, self.underside(0.0, bed)))

    def section(self, bed: float) -> tuple[Point, ...]:
        """The coping's section, drips cut out."""
        return self._place(self._outline(), bed)

    def rise(self) -> float:
        """From the thin edge of the bed's top to the highest arris, mm."""
        return max(z for _, z in self.section(0.0))

    def reach(self) -> tuple[float, float]:
        """The least and the greatest u of the section, upper arrises included."""
        us = [u for u, _ in self.section(0.0)]
        return min(us), max(us)

    def grooves(self) -> tuple[float, ...]:
        """Where each drip begins, along the underside from the front lower arris, mm."""
        drip, width = self.coping.drip, self.coping.width_mm
        if drip is None:
            return ()
        at: list[float] = []
        if drip.sides != "back" and self.front > 0:
            at.append(drip.distance_mm)
        if drip.sides != "front" and self.back > 0:
            at.append(width - drip.distance_mm - drip.width_mm)
        return tuple(at)

    def _outline(self) -> tuple[Point, ...]:
        """The slab in its own axes, from its front lower arris, anticlockwise."""
        width, deep = self.coping.width_mm, self.coping.thickness_mm
        points: list[Point] = [(0.0, 0.0)]
        drip = self.coping.drip
        for p in self.grooves():
            assert drip is not None
            q = p + drip.width_mm
            points += [(p, 0.0), (p, drip.depth_mm), (q, drip.depth_mm), (q, 0.0)]
        low = deep - abs(self.weathering)
        front, back = (low, deep) if self.weathering > 0 else (deep, low)
        return (*points, (width, 0.0), (width, back), (0.0, front))

    def _place(self, outline: tuple[Point, ...], bed: float) -> tuple[Point, ...]:
        c = 1 / math.hypot(1, self.tilt)
        s = self.tilt * c
        z0 = self.front_edge(bed)
        return tuple((-self.front + p * c - q * s, z0 + p * s + q * c) for p, q in outline)


def slope(fall: Fall | None) -> float:
    """Tangent of the fall, positive to the front; 0 without one."""
    if fall is None:
        return 0.0
    if fall.deg is not None:
        tangent = math.tan(math.radians(fall.deg))
    else:
        assert fall.mm is not None
        assert fall.in_mm is not None
        tangent = fall.mm / fall.in_mm
    return tangent if fall.to == "front" else -tangent


def lay_coping(coping: Coping, thickness: float, path: str) -> tuple[CopingLay, list[Fault]]:
    """Lay a coping on a wall `thickness` mm thick; faults carry the dotted `path`."""
    tangent = slope(coping.fall)
    flat = coping.profile == "flat"
    tilt = tangent if flat else 0.0
    over = coping.width_mm / math.hypot(1, tilt) - thickness
    front, back = coping.overhang_front_mm, coping.overhang_back_mm
    faults = _overhang_faults(coping, thickness, over, path)
    front = front if front is not None else over - back if back is not None else over / 2
    back = over - front
    if min(front, back) < 0:
        faults.append(
            Fault(
                f"{path}.width_mm",
                f"{coping.width_mm:g}",
                f"the coping does not cover the wall of {thickness:g}: overhangs "
                f"{front:.1f} in front, {back:.1f} behind",
                "take a wider coping or another overhang",
            )
        )
    clear = coping.coping_clear_mm
    lay = CopingLay(
        coping,
        thickness,
        front,
        back,
        tilt,
        0.0 if flat else tangent * coping.width_mm,
        tables.limit("coping_clear") if clear is None else clear,
        coping.min_cut_mm or max(tables.limit("min_cut"), coping.length_mm / 4),
    )
    return lay, faults + _section_faults(lay, path)


def _overhang_faults(coping: Coping, thickness: float, over: float, path: str) -> list[Fault]:
    """Front and back overhang, where both are given, are what the coping is wider than the wall."""
    front, back = coping.overhang_front_mm, coping.overhang_back_mm
    if front is None or back is None or abs(front + back - over) <= TOLERANCE.cut:
        return []
    problem = (
        f"front and back overhang must add up to {over:.1f} "
        f"(coping {coping.width_mm:g} on a wall of {thickness:g})"
    )
    hint = "leave one of them out and it follows from the other"
    return [Fault(f"{path}.overhang_back_mm", f"{back:g}", problem, hint)]


def _section_faults(lay: CopingLay, path: str) -> list[Fault]:
    faults: list[Fault] = []
    deep = lay.coping.thickness_mm
    thin = deep - abs(lay.weathering)
    if thin <= deep / 10:
        faults.append(
            Fault(
                f"{path}.fall",
                f"{abs(lay.weathering):.1f} over the width",
                f"leaves only {thin:.1f} at the thin edge of a coping {deep:g} thick",
                "take a smaller fall or a thicker coping",
            )
        )
    if lay.coping.drip is not None:
        faults += _drip_faults(lay, lay.coping.drip, path, thin)
    if lay.min_cut > lay.coping.length_mm:
        faults.append(
            Fault(
                f"{path}.min_cut_mm",
                f"{lay.min_cut:g}",
                f"is more than a whole coping ({lay.coping.length_mm:g})",
            )
        )
    return faults


def _drip_faults(lay: CopingLay, drip: Drip, path: str, thin: float) -> list[Fault]:
    faults: list[Fault] = []
    if drip.depth_mm >= thin / 2:
        faults.append(
            Fault(
                f"{path}.drip.depth_mm",
                f"{drip.depth_mm:g}",
                f"must be less than half the coping at its thinnest ({thin / 2:.1f})",
            )
        )
    along = math.hypot(1, lay.tilt)
    sides = (("front", lay.front), ("back", lay.back))
    for side, overhang in sides:
        wanted = drip.sides in ("both", side) and overhang > 0
        if wanted and drip.distance_mm + drip.width_mm > overhang * along + TOLERANCE.coincident:
            faults.append(
                Fault(
                    f"{path}.drip.distance_mm",
                    f"{drip.distance_mm:g}",
                    f"the groove ends {drip.distance_mm + drip.width_mm:g} from the edge, over the "
                    f"wall: the {side} overhang is {overhang:.1f}",
                    'move the groove out, or give sides = "front" or "back"',
                )
            )
    return faults
