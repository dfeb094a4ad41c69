"""A STEP file, read back with the kernel and measured.

The kernel's own translation of an assembly looks, for every occurrence, through all
occurrences of the same product and all of the same parent, to find out which way round
the relation was written. A wall has thousands of one block, so that time grows with the
square. Here the kernel parses the file and translates each product's solid once, and the
placements are followed through the file's own entities, each looked at once.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from OCP.IFSelect import IFSelect_RetDone
from OCP.StepBasic import StepBasic_ProductDefinition
from OCP.STEPControl import STEPControl_Reader
from OCP.StepGeom import StepGeom_Axis2Placement3d
from OCP.StepRepr import (
    StepRepr_NextAssemblyUsageOccurrence,
    StepRepr_ShapeRepresentationRelationshipWithTransformation,
)
from OCP.StepShape import (
    StepShape_AdvancedBrepShapeRepresentation,
    StepShape_ContextDependentShapeRepresentation,
    StepShape_ShapeDefinitionRepresentation,
)
from OCP.TColStd import TColStd_SequenceOfAsciiString
from OCP.TopAbs import TopAbs_SOLID
from OCP.TopoDS import TopoDS_Shape

from parametric_wall.errors import OutputError
from parametric_wall.setting_out.model import Kind
from parametric_wall.solid import kernel
from parametric_wall.solid.mesh import corners_of
from parametric_wall.solid.placing import Floats
from parametric_wall.solid.shapes import mass_of
from parametric_wall.verify.measured import KINDS, Laid, Measured, gather

_KIND = re.compile(rf"({'|'.join(sorted(KINDS, key=len, reverse=True))}) \d")


@dataclass(slots=True, eq=False)
class _File:
    """A parsed file: its entities, and the relations among them that matter here."""

    reader: STEPControl_Reader
    entities: list[Any]
    shapes: dict[Any, Any] = field(default_factory=dict)
    """The representation of each product definition."""
    children: dict[Any, list[tuple[str, Any, Floats]]] = field(default_factory=dict)
    """Of each assembly, the occurrence's name, the product definition and its place."""
    occurrences: int = 0


@dataclass(frozen=True, slots=True, eq=False)
class _Link:
    """One occurrence as it is written."""

    name: str
    parent: Any
    child: Any
    own: tuple[float, ...]
    """The axes of the child that come to lie on `outer`."""
    outer: tuple[float, ...]


def measure_step(path: Path) -> Measured:
    """Read a STEP file back, every occurrence of it, and measure it.

    Args:
        path: a file as this package writes it, in mm.

    Raises:
        OutputError: it cannot be read, is not in mm, or its assembly does not hang together.
    """
    with kernel.quiet():
        file = _read(path)
        places = _placed(file)
        numbers = {entity: i for i, entity in enumerate(file.entities, start=1)}
        laid = []
        for product, found in places.items():
            solid = _solid(file, numbers, product)
            volume, centre = mass_of(solid)
            ids = [name for name, _ in found]
            motions = np.array([motion for _, motion in found])
            laid.append(Laid(_kind(product), volume, centre, corners_of(solid), ids, motions))
    return gather(laid)


def _read(path: Path) -> _File:
    reader = STEPControl_Reader()
    # The kernel's parser takes a missing file for an empty one.
    if not path.is_file() or reader.ReadFile(str(path)) != IFSelect_RetDone:
        raise OutputError(f"{path}: not a STEP file that can be read")
    _check_units(path, reader)
    model = reader.WS().Model()
    # Held in a list, an entity keeps its Python object: it can be a key, and compared.
    file = _File(reader, [model.Value(i) for i in range(1, model.NbEntities() + 1)])
    relations = []
    for entity in file.entities:
        if isinstance(entity, StepShape_ShapeDefinitionRepresentation):
            product = entity.Definition().PropertyDefinition().Definition().Value()
            file.shapes[product] = entity.UsedRepresentation()
        elif isinstance(entity, StepShape_ContextDependentShapeRepresentation):
            relations.append(entity)
        elif isinstance(entity, StepRepr_NextAssemblyUsageOccurrence):
            file.occurrences += 1
    _hang_together(path, file, [_link(file, relation) for relation in relations])
    return file


def _check_units(path: Path, reader: STEPControl_Reader) -> None:
    lengths, angles, solid_angles = (TColStd_SequenceOfAsciiString() for _ in range(3))
    reader.FileUnits(lengths, angles, solid_angles)
    names = sorted({length.ToCString() for length in lengths})
    if names != ["millimetre"]:
        raise OutputError(f"{path}: lengths in {', '.join(names) or 'no unit'}, not in mm")


def _link(file: _File, relation: StepShape_ContextDependentShapeRepresentation) -> _Link:
    """One occurrence: what stands in what, and where."""
    occurrence = relation.RepresentedProductRelation().Definition().Value()
    parent = occurrence.RelatingProductDefinition()
    child = occurrence.RelatedProductDefinition()
    name = occurrence.Name().ToCString()
    between = relation.RepresentationRelation()
    if not isinstance(between, StepRepr_ShapeRepresentationRelationshipWithTransformation):
        raise OutputError(f"{name}: placed by no transformation")
    transformation = between.TransformationOperator().ItemDefinedTransformation()
    first, second = _axes(transformation.TransformItem1()), _axes(transformation.TransformItem2())
    ends = (file.shapes.get(child), file.shapes.get(parent))
    if (between.Rep1(), between.Rep2()) == ends:
        return _Link(name, parent, child, first, second)
    if (between.Rep2(), between.Rep1()) == ends:
        return _Link(name, parent, child, second, first)
    raise OutputError(f"{name}: its place is not between its product and its assembly")


def _axes(placement: StepGeom_Axis2Placement3d) -> tuple[float, ...]:
    """Origin, z axis and x direction, as they are written."""
    origin = placement.Location()
    z = placement.Axis() if placement.HasAxis() else None
    x = placement.RefDirection() if placement.HasRefDirection() else None
    return (
        *(origin.CoordinatesValue(i) for i in (1, 2, 3)),
        *((z.DirectionRatiosValue(i) for i in (1, 2, 3)) if z else (0.0, 0.0, 1.0)),
        *((x.DirectionRatiosValue(i) for i in (1, 2, 3)) if x else (1.0, 0.0, 0.0)),
    )


def _matrices(axes: Sequence[tuple[float, ...]]) -> Floats:
    """(n, 4, 4): z as written, x made square to it, and y to both."""
    values = np.array(axes, dtype=np.float64).reshape(-1, 3, 3)
    origin, z, x = values[:, 0], values[:, 1], values[:, 2]
    z = z / np.linalg.norm(z, axis=1)[:, None]
    x = x - np.einsum("ij,ij->i", x, z)[:, None] * z
    x = x / np.linalg.norm(x, axis=1)[:, None]
    result = np.tile(np.eye(4), (len(values), 1, 1))
    result[:, :3, :] = np.stack((x, np.cross(z, x), z, origin), axis=2)
    return result


def _hang_together(path: Path, file: _File, links: list[_Link]) -> None:
    """Sort the occurrences by the assembly they stand in."""
    if not links or len(links) != file.occurrences:
        raise OutputError(f"{path}: {file.occurrences} occurrences and {len(links)} places")
    own, outer = _matrices([link.own for link in links]), _matrices([link.outer for link in links])
    motions = outer @ np.linalg.inv(own)
    for link, motion in zip(links, motions, strict=True):
        file.children.setdefault(link.parent, []).append((link.name, link.child, motion))


def _placed(file: _File) -> dict[Any, list[tuple[str, Floats]]]:
    """Of each product with a solid, its occurrences: name, and place on the site."""
    below = {child for found in file.children.values() for _, child, _ in found}
    places: dict[Any, list[tuple[str, Floats]]] = {}
    waiting = [(top, np.eye(4)) for top in file.children if top not in below]
    while waiting:
        assembly, outer = waiting.pop()
        for name, child, motion in file.children[assembly]:
            if child in file.children:
                waiting.append((child, outer @ motion))
            else:
                places.setdefault(child, []).append((name, outer @ motion))
    return places


def _solid(file: _File, numbers: dict[Any, int], product: Any) -> TopoDS_Shape:
    """The kernel's solid of one product, in its own axes."""
    shape = file.shapes.get(product)
    if not isinstance(shape, StepShape_AdvancedBrepShapeRepresentation):
        raise OutputError(f"{_name(product)}: a product without a solid")
    file.reader.ClearShapes()
    if not file.reader.TransferOne(numbers[shape]):
        raise OutputError(f"{_name(product)}: the kernel could not translate it")
    solid = file.reader.OneShape()
    if solid.ShapeType() != TopAbs_SOLID:
        raise OutputError(f"{_name(product)}: not one solid")
    return solid


def _name(product: StepBasic_ProductDefinition) -> str:
    return str(product.Formation().OfProduct().Name().ToCString())


def _kind(product: StepBasic_ProductDefinition) -> Kind:
    name = _name(product)
    found = _KIND.match(name)
    kind = next((kind for kind in KINDS if found and kind == found[1]), None)
    if kind is None:
        raise OutputError(f"{name}: a product of no known kind")
    return kind
