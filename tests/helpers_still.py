"""What is painted at a point of a still picture, and what a ray through it hits first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import trimesh

from parametric_wall.drawings.still.axonometric import Still
from parametric_wall.drawings.still.faces import Face
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.solid.mesh import mesh_of
from parametric_wall.solid.shapes import solid_of

GROUND = "ground"


class Rays:
    """The job's solids, each as the kernel meshes it, hit by parallel rays."""

    def __init__(self, laid: SettingOut, still: Still) -> None:
        self.still = still
        p = still.view.projection
        self.towards = np.array(p.towards)
        self.axes = np.array((p.x, p.y, p.z)).T * still.scale
        prototypes: dict[object, np.ndarray] = {}
        corners, self.ids = [], []
        for wall in laid.walls:
            place = still.view.seen(wall.place)
            for piece in wall.pieces:
                if piece.shape not in prototypes:
                    prototypes[piece.shape] = mesh_of(solid_of(piece.shape)).corners
                at = piece.at.then(place)
                turn = np.radians(at.heading_deg)
                c, s = np.cos(turn), np.sin(turn)
                motion = np.array(((c, -s, 0), (s, c, 0), (0, 0, 1)))
                placed = prototypes[piece.shape] @ motion.T + (at.x, at.y, at.z)
                corners.append(placed)
                self.ids += [piece.id] * len(placed)
        self.triangles = np.concatenate(corners)
        flat = self.triangles @ self.axes.T + np.array(still.shift)
        self.low, self.high = flat.min(axis=1), flat.max(axis=1)

    def hit(self, point: Sequence[float]) -> str:
        """The id of the piece that a ray meets first over ground, or the ground."""
        at = np.asarray(point)
        near = np.flatnonzero((self.low <= at).all(axis=1) & (self.high >= at).all(axis=1))
        # A point of the ground that is painted there: the ray goes through it.
        foot = np.zeros(3)
        foot[:2] = np.linalg.solve(self.axes[:, :2], at - self.still.shift)
        if not len(near):
            return GROUND
        found = self.triangles[near]
        normals = np.cross(found[:, 1] - found[:, 0], found[:, 2] - found[:, 0])
        facing = normals @ self.towards
        solid = facing > 1e-9 * np.linalg.norm(normals, axis=1)
        found, normals, facing, near = (a[solid] for a in (found, normals, facing, near))
        if not len(near):
            return GROUND
        along = np.einsum("ij,ij->i", found[:, 0] - foot, normals) / facing
        points = foot + along[:, None] * self.towards
        weights = trimesh.triangles.points_to_barycentric(found, points)
        inside = (weights >= -1e-9).all(axis=1) & (along > 1e-6)
        if not inside.any():
            return GROUND
        return self.ids[near[inside][along[inside].argmax()]]


class Painted:
    """The faces of pieces, in the order in which they are painted."""

    def __init__(self, faces: Iterable[Face]) -> None:
        self.faces = list(faces)
        self.boxes = np.array(
            [np.concatenate((np.min(f.outline, 0), np.max(f.outline, 0))) for f in self.faces]
        )

    def at(self, point: Sequence[float]) -> tuple[str, ...]:
        """What the topmost face at a point shows; the ground where there is none."""
        x, y = point
        b = self.boxes
        near = np.flatnonzero((b[:, 0] <= x) & (b[:, 1] <= y) & (b[:, 2] >= x) & (b[:, 3] >= y))
        for i in reversed(near):
            if holds(self.faces[i].outline, x, y):
                return self.faces[i].pieces
        return (GROUND,)


def holds(outline: Sequence[tuple[float, float]], x: float, y: float) -> bool:
    """Whether an outline, convex or not, holds a point: by crossings to the right of it."""
    odd = False
    for (ax, ay), (bx, by) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            odd = not odd
    return odd


def painted(still: Still) -> Painted:
    """What is painted of the job's own pieces, and of existing walls; no plants, no shadows."""
    return Painted(m for m in still.marks if isinstance(m, Face) and m.pieces)
