"""What setting out gives: every piece with its shape and its place, as plain data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from parametric_wall.geometry import Placement, Shape

if TYPE_CHECKING:
    from parametric_wall.setting_out.copings import CopedRun
    from parametric_wall.setting_out.corners import BondedRun, Certificate, Unbonded
    from parametric_wall.setting_out.packs import Mixture

Kind = Literal[
    "footing",
    "block",
    "bed",
    "perp",
    "filler",
    "weep",
    "coping bed",
    "coping joint",
    "coping",
    "drainage",
    "soil",
]
"""What a piece is. A weep is a perp left open: it has a place and no material."""

VOIDS: frozenset[Kind] = frozenset({"weep"})


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of the wall.

    Attributes:
        id: stable id, wall/run/course/place, for instance ``herbs/r1/c03/07``.
        kind: what it is.
        wall: the wall's name.
        run: 1 and up; 0 where the piece belongs to no single run (the footing).
        course: 0 the footing, 1 and up the courses, the number after the last
            for the copings and their bed.
        shape: in the piece's own axes, mm.
        at: where those axes stand, mm.
        cut: whether it was cut from a larger unit.
        length: what is to be measured on the unit, over all, mm.
    """

    id: str
    kind: Kind
    wall: str
    run: int
    course: int
    shape: Shape
    at: Placement
    cut: bool = False
    length: float = 0.0

    @property
    def volume(self) -> float:
        """mm3."""
        return self.shape.volume


@dataclass(frozen=True, slots=True)
class WallSetOut:
    """One wall set out: its pieces in laying order, in the wall's own axes.

    Attributes:
        name: the wall's name.
        place: where the wall's axes stand on the site.
        pieces: every piece, voids included; none where a run cannot be bonded.
        bonded: the bond of every run.
        unbonded: the runs that no legal bond fills.
        coped: the copings of every run; none without copings.
    """

    name: str
    place: Placement
    pieces: tuple[Piece, ...]
    bonded: tuple[BondedRun, ...] = ()
    unbonded: tuple[Unbonded, ...] = ()
    coped: tuple[CopedRun, ...] = ()


@dataclass(frozen=True, slots=True)
class SettingOut:
    """A whole job set out.

    Attributes:
        name: the job file's own name; the names of the written files.
        title: what the job is called.
        walls: in the order of the job file.
        certificates: for every size of block, how good the choice of bonds is.
        mixtures: of every family of mixed lengths, what is taken of each.
    """

    name: str
    title: str
    walls: tuple[WallSetOut, ...]
    certificates: tuple[tuple[str, Certificate], ...] = ()
    mixtures: tuple[Mixture, ...] = ()
