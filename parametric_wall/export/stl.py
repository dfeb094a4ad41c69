"""Binary STL, mm: every piece a closed body of its own, without names or colours.

Its numbers have 24 bits, which at 450 m leave 0.03 mm: a wall far from the site's origin
is moved to its own, and the header says by how much.
"""

from __future__ import annotations

import numpy as np

from parametric_wall.errors import OutputError
from parametric_wall.geometry import Point3
from parametric_wall.solid.mesh import Mesh
from parametric_wall.solid.model import NOTHING, Instance, Model, WallModel
from parametric_wall.solid.placing import matrices, place_points

FAR = 100_000.0
"""mm. Nearer than this, a coordinate is good to 0.004 mm."""
WHOLE = 1000.0
"""mm. The origin is moved by whole metres, which a person can type."""
HEADER_BYTES = 80
FACET = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def stl_bytes(model: Model) -> bytes:
    """The model as a binary STL file, in mm, relative to `origin_of` the model.

    Args:
        model: the solid model, mm.

    Raises:
        OutputError: the model has no piece.
    """
    if not model.prototypes:
        raise OutputError(NOTHING)
    origin = origin_of(model)
    parts = [
        _facets(pieces, wall, origin)
        for wall in model.walls
        for pieces in _by_prototype(wall)
    ]  # fmt: skip
    facets = np.concatenate(parts)
    moved = " ".join(f"{value:.0f}" for value in origin)
    header = f"mm, z up, origin at {moved}".encode("ascii").ljust(HEADER_BYTES)
    return header + len(facets).to_bytes(4, "little") + facets.tobytes()


def origin_of(model: Model) -> Point3:
    """Where the file's origin lies on the site, mm: nothing, unless a wall is far away."""
    places = [wall.place for wall in model.walls]
    if all(abs(p.x) < FAR and abs(p.y) < FAR and abs(p.z) < FAR for p in places):
        return (0.0, 0.0, 0.0)
    first = places[0]
    return (
        round(first.x / WHOLE) * WHOLE,
        round(first.y / WHOLE) * WHOLE,
        round(first.z / WHOLE) * WHOLE,
    )


def _by_prototype(wall: WallModel) -> list[list[Instance]]:
    found: dict[str, list[Instance]] = {}
    for group in wall.groups:
        for piece in group.pieces:
            found.setdefault(piece.prototype.name, []).append(piece)
    return list(found.values())


def _facets(pieces: list[Instance], wall: WallModel, origin: Point3) -> np.ndarray:
    mesh: Mesh = pieces[0].prototype.mesh
    motions = matrices([wall.place])[0] @ matrices(piece.at for piece in pieces)
    motions[:, :3, 3] -= origin
    corners = place_points(motions, mesh.vertices)[:, mesh.triangles]
    a, b, c = np.moveaxis(mesh.corners, 1, 0)
    normals = np.cross(b - a, c - a)
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    facets = np.zeros((len(pieces), len(mesh.triangles)), FACET)
    facets["corners"] = corners
    facets["normal"] = np.einsum("nij,kj->nki", motions[:, :3, :3], normals)
    return facets.ravel()
