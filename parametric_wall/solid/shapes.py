"""From a shape, which is numbers, to a solid of the kernel. Nothing here is placed."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import dist

from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_MakeSolid,
    BRepBuilderAPI_Sewing,
)
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.BRepLib import BRepLib
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
from OCP.gp import gp_Pnt, gp_Trsf, gp_Vec
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_SHELL, TopAbs_SOLID
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS, TopoDS_Face, TopoDS_Shape, TopoDS_Solid, TopoDS_Wire

from parametric_wall.errors import WallError
from parametric_wall.geometry import (
    TOLERANCE,
    Bar,
    Placement,
    Point,
    Point3,
    Shape,
    Slab,
    direction,
    signed_area,
)

CORNERS_AT_LEAST = 3


class ShapeError(WallError, ValueError):
    """A shape of which no sound solid can be made."""


def solid_of(shape: Shape) -> TopoDS_Solid:
    """The kernel's solid of a shape, in the shape's own axes, in mm.

    Args:
        shape: a bar or a slab.

    Raises:
        ShapeError: an edge, a length or a thickness is nothing or less than nothing, an
            outline runs clockwise or crosses itself, or a hole leaves the outline.
    """
    if isinstance(shape, Slab):
        solid = _slab(shape)
    elif shape.start.per_u == 0.0 and shape.end.per_u == 0.0:
        solid = _straight_bar(shape)
    else:
        solid = _mitred_bar(shape)
    _prove(solid, shape)
    return solid


def volume_of(solid: TopoDS_Shape) -> float:
    """The kernel's own measure of a solid, in mm3."""
    return mass_of(solid)[0]


def mass_of(solid: TopoDS_Shape) -> tuple[float, Point3]:
    """The kernel's volume of a solid in mm3, and its centre of gravity in mm."""
    properties = GProp_GProps()
    # Without a precision the kernel now and then misses the centre by tenths of a mm.
    BRepGProp.VolumeProperties_s(solid, properties, TOLERANCE.kernel)
    centre = properties.CentreOfMass()
    return float(properties.Mass()), (centre.X(), centre.Y(), centre.Z())


def location_of(place: Placement) -> TopLoc_Location:
    """A placement as the kernel's location. It turns and moves, and never mirrors."""
    c, s = direction(place.heading_deg)
    motion = gp_Trsf()
    if (c, s) == (1.0, 0.0):
        motion.SetTranslation(gp_Vec(place.x, place.y, place.z))
    else:
        motion.SetValues(c, -s, 0, place.x, s, c, 0, place.y, 0, 0, 1, place.z)
    return TopLoc_Location(motion)


def _straight_bar(bar: Bar) -> TopoDS_Solid:
    _check_outline("section", bar.section)
    _check_length("length", bar.end.at - bar.start.at)
    start, _ = bar.corners()
    face = BRepBuilderAPI_MakeFace(_wire(start), True)
    return _prism(face, gp_Vec(bar.end.at - bar.start.at, 0, 0))


def _mitred_bar(bar: Bar) -> TopoDS_Solid:
    """A sewn polyhedron: two caps of as many corners as the section, and a face an edge."""
    _check_outline("section", bar.section)
    start, end = bar.corners()
    for near, far in zip(start, end, strict=True):
        _check_length(f"length at u = {near[1]:g}", far[0] - near[0])
    sewing = BRepBuilderAPI_Sewing(TOLERANCE.coincident)
    for corners in (start, end, *_sides(start, end)):
        face = BRepBuilderAPI_MakeFace(_wire(corners), True)
        if not face.IsDone():
            raise ShapeError("a face of the bar is not plane")
        sewing.Add(face.Face())
    sewing.Perform()
    sewn = sewing.SewedShape()
    if sewn.ShapeType() != TopAbs_SHELL:
        raise ShapeError("the faces of the bar do not close")
    solid = BRepBuilderAPI_MakeSolid(TopoDS.Shell_s(sewn)).Solid()
    BRepLib.OrientClosedSolid_s(solid)
    return solid


def _sides(
    start: Sequence[Point3], end: Sequence[Point3]
) -> list[tuple[Point3, Point3, Point3, Point3]]:
    near = list(pairwise((*start, start[0])))
    far = list(pairwise((*end, end[0])))
    return [(a, b, d, c) for (a, b), (c, d) in zip(near, far, strict=True)]


def _slab(slab: Slab) -> TopoDS_Solid:
    _check_outline("outline", slab.outline)
    _check_length("thickness", slab.thickness)
    face = BRepBuilderAPI_MakeFace(_wire(_level(slab.outline)), True)
    for hole in slab.holes:
        turned = hole if signed_area(hole) < 0 else hole[::-1]
        _check_outline("hole", turned[::-1])
        face.Add(_wire(_level(turned)))
    return _prism(face, gp_Vec(0, 0, slab.thickness))


def _level(points: Sequence[Point]) -> list[Point3]:
    return [(s, u, 0.0) for s, u in points]


def _wire(points: Sequence[Point3]) -> TopoDS_Wire:
    polygon = BRepBuilderAPI_MakePolygon()
    for point in points:
        polygon.Add(gp_Pnt(*point))
    polygon.Close()
    return polygon.Wire()


def _prism(face: BRepBuilderAPI_MakeFace, along: gp_Vec) -> TopoDS_Solid:
    if not face.IsDone():
        raise ShapeError("the outline encloses no face")
    flat: TopoDS_Face = face.Face()
    prism = BRepPrimAPI_MakePrism(flat, along).Shape()
    if prism.ShapeType() != TopAbs_SOLID:
        raise ShapeError("the swept outline is not a solid")
    solid = TopoDS.Solid_s(prism)
    BRepLib.OrientClosedSolid_s(solid)
    return solid


def _check_outline(what: str, points: Sequence[Point]) -> None:
    if len(points) < CORNERS_AT_LEAST:
        raise ShapeError(f"the {what} has {len(points)} corners; it needs three")
    for a, b in pairwise((*points, points[0])):
        if dist(a, b) <= TOLERANCE.coincident:
            raise ShapeError(f"the {what} has two corners in one place, at {a}")
    area = signed_area(tuple(points))
    if area <= TOLERANCE.coincident:
        raise ShapeError(f"the {what} has an area of {area:g} mm2: nothing, or clockwise")


def _check_length(what: str, length: float) -> None:
    if not length > TOLERANCE.coincident:
        raise ShapeError(f"the {what} is {length:g} mm: nothing, or less")


def _prove(solid: TopoDS_Solid, shape: Shape) -> None:
    """Refuse a solid that is unsound, or that is not the shape asked for."""
    if not BRepCheck_Analyzer(solid).IsValid():
        raise ShapeError("an outline crosses itself, or a hole leaves its outline")
    volume = volume_of(solid)
    if abs(volume - shape.volume) > TOLERANCE.kernel * shape.volume:
        raise ShapeError(f"the solid holds {volume:g} mm3 where the shape has {shape.volume:g}")
