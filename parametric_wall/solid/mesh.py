"""A solid as triangles. Every face of a wall is plane, so that nothing is lost."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from OCP.BRep import BRep_Tool
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.TopAbs import TopAbs_FACE, TopAbs_REVERSED, TopAbs_VERTEX
from OCP.TopExp import TopExp, TopExp_Explorer
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS, TopoDS_Face, TopoDS_Shape, TopoDS_Solid
from OCP.TopTools import TopTools_IndexedMapOfShape

from parametric_wall.geometry import TOLERANCE

Floats = NDArray[np.float64]
Indices = NDArray[np.int32]

DEFLECTION = 1.0
"""mm and radians. Without meaning for plane faces; the kernel asks for it."""


@dataclass(frozen=True, slots=True, eq=False)
class Mesh:
    """A closed surface of triangles.

    Attributes:
        vertices: (n, 3), mm, each corner once.
        triangles: (m, 3), rows of `vertices`, anticlockwise seen from outside.
    """

    vertices: Floats
    triangles: Indices

    @property
    def corners(self) -> Floats:
        """(m, 3, 3): the three corners of every triangle, mm."""
        return self.vertices[self.triangles]

    @property
    def volume(self) -> float:
        """mm3, by the divergence theorem about the first vertex."""
        a, b, c = np.moveaxis(self.corners - self.vertices[0], 1, 0)
        return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)

    @property
    def area(self) -> float:
        """mm2."""
        return float(np.linalg.norm(_cross(self.corners), axis=1).sum() / 2)


def mesh_of(solid: TopoDS_Solid) -> Mesh:
    """The triangles of a plane-faced solid, in its own axes, in mm.

    Args:
        solid: a solid of the kernel, with its faces turned outward.

    Raises:
        ValueError: a face is curved.
    """
    BRepMesh_IncrementalMesh(solid, DEFLECTION, False, DEFLECTION, False)
    points: list[tuple[float, float, float]] = []
    triangles: list[tuple[int, int, int]] = []
    faces = TopExp_Explorer(solid, TopAbs_FACE)
    while faces.More():
        _add_face(TopoDS.Face_s(faces.Current()), points, triangles)
        faces.Next()
    return _weld(np.array(points), np.array(triangles, dtype=np.int32), corners_of(solid))


def corners_of(solid: TopoDS_Shape) -> Floats:
    """(n, 3): every corner of a solid once, mm."""
    found = TopTools_IndexedMapOfShape()
    TopExp.MapShapes_s(solid, TopAbs_VERTEX, found)
    points = [BRep_Tool.Pnt_s(TopoDS.Vertex_s(found(i))) for i in range(1, found.Extent() + 1)]
    return np.array([(p.X(), p.Y(), p.Z()) for p in points])


def flat(mesh: Mesh) -> tuple[Floats, Floats, Indices]:
    """Vertices parted where faces meet at an edge, so that each has one normal.

    Args:
        mesh: a closed mesh, mm.

    Returns:
        Positions (k, 3) in mm, unit normals (k, 3), and triangles (m, 3) of their rows.
    """
    normals = _cross(mesh.corners)
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    # Two triangles of one face differ in the last digit; rounded, they share vertices.
    normals = np.repeat(np.round(normals, 9) + 0.0, 3, axis=0)
    rows = np.column_stack((mesh.triangles.ravel(), normals))
    unique, where = np.unique(rows, axis=0, return_inverse=True)
    positions = mesh.vertices[unique[:, 0].astype(np.int32)]
    return positions, unique[:, 1:], where.reshape(-1, 3).astype(np.int32)


def _cross(corners: Floats) -> Floats:
    a, b, c = np.moveaxis(corners, 1, 0)
    return np.cross(b - a, c - a)


def _add_face(
    face: TopoDS_Face,
    points: list[tuple[float, float, float]],
    triangles: list[tuple[int, int, int]],
) -> None:
    location = TopLoc_Location()
    surface = BRep_Tool.Triangulation_s(face, location)
    motion, first = location.Transformation(), len(points) - 1
    for i in range(1, surface.NbNodes() + 1):
        node = surface.Node(i).Transformed(motion)
        points.append((node.X(), node.Y(), node.Z()))
    turned = face.Orientation() == TopAbs_REVERSED
    for i in range(1, surface.NbTriangles() + 1):
        a, b, c = (first + n for n in surface.Triangle(i).Get())
        triangles.append((a, c, b) if turned else (a, b, c))


def _weld(points: Floats, triangles: Indices, corners: Floats) -> Mesh:
    """One vertex a corner of the solid: each face brought its own copies."""
    apart = np.linalg.norm(points[:, None, :] - corners[None, :, :], axis=2)
    nearest = apart.argmin(axis=1)
    if apart.min(axis=1).max() > TOLERANCE.coincident:
        raise ValueError("a face of the solid is not plane")
    return Mesh(corners, nearest[triangles].astype(np.int32))
