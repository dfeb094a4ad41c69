"""The model as a CadQuery assembly, for a designer's own script.

Only this module needs CadQuery, and only when it is called: CadQuery takes twice as
long to load as the kernel below it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from parametric_wall.solid.colours import TINTS
from parametric_wall.solid.model import Model
from parametric_wall.solid.shapes import location_of

if TYPE_CHECKING:
    import cadquery as cq


def assembly_of(model: Model) -> cq.Assembly:
    """Every piece named by its id, in its wall and its course, coloured by kind.

    The parts share their shapes with the model, and with one another. A piece is found
    by its id with ``dict(assembly.traverse())[id]``.

    Args:
        model: the solid model, mm.
    """
    import cadquery as cq

    shapes = {p.name: cq.Shape.cast(p.solid) for p in model.prototypes}
    colours = {kind: [cq.Color(*rgb) for rgb in tints] for kind, tints in TINTS.items()}
    whole = cq.Assembly(name=model.title or model.name)
    for wall in model.walls:
        standing = cq.Assembly(name=wall.name, loc=cq.Location(location_of(wall.place)))
        for group in wall.groups:
            laid = cq.Assembly(name=group.name)
            for piece in group.pieces:
                laid.add(
                    shapes[piece.prototype.name],
                    name=piece.id,
                    loc=cq.Location(location_of(piece.at)),
                    color=colours[piece.prototype.kind][piece.tint],
                )
            standing.add(laid)
        whole.add(standing)
    return whole
