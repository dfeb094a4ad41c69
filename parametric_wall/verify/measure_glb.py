"""A glTF file, read back with trimesh, and measured in its own unit, which is the metre."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from parametric_wall.errors import OutputError
from parametric_wall.geometry import Point3
from parametric_wall.setting_out.model import Kind
from parametric_wall.solid.placing import Floats, place_points
from parametric_wall.units import MM3_PER_M3, MM_PER_M
from parametric_wall.verify.measured import KINDS, Laid, Measured, gather
from parametric_wall.verify.rounding import rounding_length, rounding_volume

if TYPE_CHECKING:
    import trimesh

TO_SITE = np.array(
    [
        [MM_PER_M, 0.0, 0.0, 0.0],
        [0.0, 0.0, -MM_PER_M, 0.0],
        [0.0, MM_PER_M, 0.0, 0.0],
        [0.0, 0.0, 0.0, 1.0],
    ]
)
"""From the file's axes, m with y up, to the site's, mm with z up."""
SCALE_DIGITS = 12
"""Decimals to which two nodes scale a volume alike; a turn leaves some 1e-16."""


@dataclass(frozen=True, slots=True)
class GlbMeasured:
    """What a file holds.

    Attributes:
        measured: by kind and by piece, turned to z up and to mm. Where pieces are merged,
            `pieces` holds the merged bodies, and the counts are those the file states.
        rounding: mm3 by kind, by which 24-bit coordinates may have changed the volume.
        displacement: mm by which they may have moved a corner.
        shifts: mm by which they may have moved each piece's centre of gravity, by id: where
            a piece is long and thin, by more than a corner.
        lower: the lower corner of the box about everything, as in the file: m, y up.
        upper: its upper corner.
    """

    measured: Measured
    rounding: dict[Kind, float]
    displacement: float
    shifts: dict[str, float]
    lower: Point3
    upper: Point3


@dataclass(frozen=True, slots=True, eq=False)
class _Placed:
    """One mesh of the file, and the nodes that show it with one scale."""

    mesh: trimesh.Trimesh
    kind: Kind
    nodes: list[str]
    pieces: int
    """As the file states them: more than there are nodes where pieces are merged."""
    motions: Floats
    """(n, 4, 4), from the mesh's own axes to the file's: m, y up."""
    scale: float
    """What a volume is multiplied by; 1 in every file of this package."""

    @property
    def largest(self) -> float:
        """The largest coordinate of the mesh, without its sign, m."""
        return float(np.abs(self.mesh.vertices).max())


def measure_glb(path: Path) -> GlbMeasured:
    """Read a .glb file back, node by node.

    Args:
        path: a file as this package writes it.

    Raises:
        OutputError: it cannot be read, or a mesh in it is marked with no known kind.
    """
    import trimesh

    try:
        return _measured(trimesh.load_scene(path, file_type="glb", process=False), path)
    except OutputError:
        raise
    except Exception as error:  # trimesh raises whatever its parsing happens to meet
        raise OutputError(f"{path}: cannot be read as glTF: {error}") from error


def _measured(scene: trimesh.Scene, path: Path) -> GlbMeasured:
    """What a scene holds; a damaged one fails only here."""
    found = [placed for name in scene.geometry for placed in _placed(scene, path, name)]
    if not found:
        raise OutputError(f"{path}: holds no mesh")
    rounding: dict[Kind, float] = {}
    for item in found:
        lost = rounding_volume(item.mesh.triangles) * len(item.nodes) * MM3_PER_M3
        rounding[item.kind] = rounding.get(item.kind, 0.0) + lost
    boxes = np.concatenate([_boxes(item) for item in found])
    return GlbMeasured(
        gather(_laid(item) for item in found),
        rounding,
        rounding_length(max(item.largest for item in found)) * MM_PER_M,
        {node: _shift(item.mesh) for item in found for node in item.nodes},
        _point(boxes[:, 0].min(axis=0)),
        _point(boxes[:, 1].max(axis=0)),
    )


def _shift(mesh: trimesh.Trimesh) -> float:
    """What rounding adds on one side acts on the centre at most from the farthest corner; mm."""
    reach = float(np.linalg.norm(mesh.vertices - mesh.center_mass, axis=1).max())
    return rounding_volume(mesh.triangles) * reach / float(mesh.volume) * MM_PER_M


def _placed(scene: trimesh.Scene, path: Path, name: str) -> list[_Placed]:
    """One mesh with all nodes that show it; more than one row only where scales differ."""
    mesh = scene.geometry[name]
    stated = mesh.metadata.get("kind")
    kind = next((kind for kind in KINDS if kind == stated), None)
    if kind is None:
        raise OutputError(f"{path}: the mesh {name} is of no known kind")
    nodes = scene.graph.geometry_nodes[name]
    motions = np.array([scene.graph[node][0] for node in nodes])
    scales = np.round(np.linalg.det(motions[:, :3, :3]), SCALE_DIGITS)
    found = []
    for scale in np.unique(scales).tolist():
        alike = np.flatnonzero(scales == scale)
        names = [nodes[i] for i in alike]
        pieces = sum(_stated_pieces(scene, node) for node in names)
        found.append(_Placed(mesh, kind, names, pieces, motions[alike], scale))
    return found


def _stated_pieces(scene: trimesh.Scene, node: str) -> int:
    forest = scene.graph.transforms
    extras = forest.edge_data[forest.parents[node], node].get("metadata") or {}
    return len(str(extras.get("pieces", node)).split("\n"))


def _laid(item: _Placed) -> Laid:
    """The same, in mm and with z up."""
    return Laid(
        kind=item.kind,
        volume=float(item.mesh.volume) * item.scale * MM3_PER_M3,
        centre=_point(item.mesh.center_mass),
        corners=item.mesh.vertices,
        ids=item.nodes,
        motions=TO_SITE @ item.motions,
        merged=item.pieces - len(item.nodes),
    )


def _boxes(item: _Placed) -> Floats:
    """(n, 2, 3): the lower and the upper corner about each node, in the file's axes, m."""
    corners = place_points(item.motions, np.asarray(item.mesh.vertices))
    return np.stack((corners.min(axis=1), corners.max(axis=1)), axis=1)


def _point(values: Floats) -> Point3:
    x, y, z = (float(value) for value in values)
    return x, y, z
