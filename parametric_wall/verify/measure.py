"""The model itself, measured by the kernel that made it."""

from __future__ import annotations

from parametric_wall.solid.model import Instance, Model, WallModel
from parametric_wall.solid.placing import matrices
from parametric_wall.solid.shapes import mass_of
from parametric_wall.verify.measured import Laid, Measured, gather


def measure_model(model: Model) -> Measured:
    """The kernel's volume of each prototype, times its count, and where its pieces stand.

    Measuring each prototype once is exact: a placement turns and moves, and no more.

    Args:
        model: the solid model, mm.
    """
    standing: dict[str, list[tuple[WallModel, list[Instance]]]] = {}
    for wall in model.walls:
        of_wall: dict[str, list[Instance]] = {}
        for group in wall.groups:
            for piece in group.pieces:
                of_wall.setdefault(piece.prototype.name, []).append(piece)
        for name, pieces in of_wall.items():
            standing.setdefault(name, []).append((wall, pieces))
    laid = []
    for prototype in model.prototypes:
        volume, centre = mass_of(prototype.solid)
        for wall, pieces in standing.get(prototype.name, []):
            motions = matrices([wall.place])[0] @ matrices(piece.at for piece in pieces)
            ids = [piece.id for piece in pieces]
            laid.append(Laid(prototype.kind, volume, centre, prototype.mesh.vertices, ids, motions))
    return gather(laid)
