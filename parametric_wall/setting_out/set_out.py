"""Sets out a whole job: the one door to this room."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.copings import CopedRun, cope, coping_pieces
from parametric_wall.setting_out.corners import BondedRun, bond_runs
from parametric_wall.setting_out.courses import course_pieces
from parametric_wall.setting_out.fill import fill_pieces
from parametric_wall.setting_out.footing import footing_piece
from parametric_wall.setting_out.model import Piece, SettingOut, WallSetOut
from parametric_wall.setting_out.runs import runs_of


def set_out(spec: JobSpec) -> SettingOut:
    """Place every piece of every wall."""
    return SettingOut(spec.name, spec.job.title, tuple(_wall(w) for w in spec.walls))


def _wall(spec: WallSpec) -> WallSetOut:
    runs = runs_of(spec)
    bonded, unbonded = bond_runs(spec, runs)
    if unbonded:
        return WallSetOut(spec.name, spec.place, (), (), unbonded)
    coped = _coped(spec, bonded)
    pieces = tuple(_pieces(spec, bonded, coped))
    return WallSetOut(spec.name, spec.place, pieces, bonded, (), coped)


def _coped(spec: WallSpec, bonded: tuple[BondedRun, ...]) -> tuple[CopedRun, ...]:
    if spec.coping is None:
        return ()
    return tuple(cope(spec.coping, laid.run, laid.bond.courses[-1]) for laid in bonded)


def _pieces(
    spec: WallSpec, bonded: tuple[BondedRun, ...], coped: tuple[CopedRun, ...]
) -> Iterator[Piece]:
    """In laying order: from the footing up, and the fill last."""
    runs = tuple(laid.run for laid in bonded)
    footing = footing_piece(spec, runs)
    if footing is not None:
        yield footing
    yield from course_pieces(spec, bonded)
    yield from coping_pieces(spec, coped)
    yield from fill_pieces(spec, runs)
