"""Sets out a whole job: the one door to this room."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.choose import Chosen, choose
from parametric_wall.setting_out.copings import CopedRun, cope, coping_pieces
from parametric_wall.setting_out.corners import BondedRun
from parametric_wall.setting_out.courses import course_pieces
from parametric_wall.setting_out.fill import fill_pieces
from parametric_wall.setting_out.footing import footing_piece
from parametric_wall.setting_out.model import Piece, SettingOut, WallSetOut
from parametric_wall.setting_out.runs import runs_of


def set_out(spec: JobSpec) -> SettingOut:
    """Place every piece of every wall."""
    chosen = choose(spec)
    walls = tuple(_wall(w, c) for w, c in zip(spec.walls, chosen.walls, strict=True))
    return SettingOut(spec.name, spec.job.title, walls, chosen.certificates, chosen.mixtures)


def _wall(spec: WallSpec, chosen: Chosen) -> WallSetOut:
    if chosen.unbonded:
        return WallSetOut(spec.name, spec.place, (), (), chosen.unbonded)
    coped = _coped(spec, chosen.bonded)
    pieces = tuple(_pieces(spec, chosen.bonded, coped))
    return WallSetOut(spec.name, spec.place, pieces, chosen.bonded, (), coped)


def _coped(spec: WallSpec, bonded: tuple[BondedRun, ...]) -> tuple[CopedRun, ...]:
    if spec.coping is None:
        return ()
    moving = spec.joints.perp_mm
    return tuple(cope(spec.coping, laid.run, laid.bond.courses[-1], moving) for laid in bonded)


def _pieces(
    spec: WallSpec, bonded: tuple[BondedRun, ...], coped: tuple[CopedRun, ...]
) -> Iterator[Piece]:
    """In laying order: from the footing up, and the fill last."""
    runs = runs_of(spec)  # Undivided: movement joints end on the footing.
    footing = footing_piece(spec, runs)
    if footing is not None:
        yield footing
    yield from course_pieces(spec, bonded)
    yield from coping_pieces(spec, coped)
    yield from fill_pieces(spec, runs)
