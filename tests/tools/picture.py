"""A picture of a .glb file as it was written, by a plain depth buffer: no screen, no GPU.

python tests/tools/picture.py FILE.glb FILE.png [WIDTH]
"""

from __future__ import annotations

import struct
import sys
import zlib
from pathlib import Path

import numpy as np
import trimesh

LIGHT = np.array((-0.35, 0.8, 0.55)) / np.linalg.norm((-0.35, 0.8, 0.55))
TURN, TILT = np.radians(-32.0), np.radians(28.0)
SAMPLES = 2
"""Points to the pixel along each side."""


def camera() -> np.ndarray:
    """From the file's axes (y up) to right, up and towards the eye."""
    turn = np.array([[np.cos(TURN), 0, np.sin(TURN)], [0, 1, 0], [-np.sin(TURN), 0, np.cos(TURN)]])
    tilt = np.array([[1, 0, 0], [0, np.cos(TILT), -np.sin(TILT)], [0, np.sin(TILT), np.cos(TILT)]])
    return tilt @ turn


def triangles(path: Path) -> tuple[np.ndarray, np.ndarray]:
    """Corners (n, 3, 3) and colours (n, 3) of everything, in the file's axes."""
    scene = trimesh.load_scene(path, process=False)
    corners, colours = [], []
    for node in scene.graph.nodes_geometry:
        transform, name = scene.graph[node]
        mesh = scene.geometry[name]
        placed = trimesh.transform_points(mesh.vertices, transform)[mesh.faces]
        corners.append(placed)
        rgb = np.asarray(mesh.visual.material.main_color[:3], float) / 255
        colours.append(np.tile(rgb, (len(placed), 1)))
    return np.concatenate(corners), np.concatenate(colours)


def draw(corners: np.ndarray, colours: np.ndarray, width: int) -> np.ndarray:
    """An (h, w, 3) picture, white where nothing is."""
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normal /= np.maximum(np.linalg.norm(normal, axis=1), 1e-30)[:, None]
    shade = 0.45 + 0.55 * np.clip(normal @ LIGHT, 0, 1)
    seen = corners @ camera().T
    low, high = seen.reshape(-1, 3).min(axis=0), seen.reshape(-1, 3).max(axis=0)
    scale = width * SAMPLES * 0.94 / (high[0] - low[0])
    margin = width * SAMPLES * 0.03
    size = (int((high[1] - low[1]) * scale + 2 * margin), width * SAMPLES)
    seen[..., 0] = (seen[..., 0] - low[0]) * scale + margin
    seen[..., 1] = size[0] - ((seen[..., 1] - low[1]) * scale + margin)
    depth = np.full(size, -np.inf)
    picture = np.ones((*size, 3))
    for points, colour in zip(seen, colours * shade[:, None], strict=True):
        _fill(depth, picture, points, colour)
    h, w = size[0] // SAMPLES, width
    cropped = picture[: h * SAMPLES, : w * SAMPLES]
    return cropped.reshape(h, SAMPLES, w, SAMPLES, 3).mean(axis=(1, 3))


def _fill(depth: np.ndarray, picture: np.ndarray, points: np.ndarray, colour: np.ndarray) -> None:
    x0, y0 = np.floor(points[:, :2].min(axis=0)).astype(int)
    x1, y1 = np.ceil(points[:, :2].max(axis=0)).astype(int) + 1
    a, b, c = points
    area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    if abs(area) < 1e-9:
        return
    y, x = np.mgrid[y0:y1, x0:x1] + 0.5
    v = ((x - a[0]) * (c[1] - a[1]) - (y - a[1]) * (c[0] - a[0])) / area
    w = ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / area
    inside = (v >= -1e-9) & (w >= -1e-9) & (v + w <= 1 + 1e-9)
    z = a[2] + v * (b[2] - a[2]) + w * (c[2] - a[2])
    window = depth[y0:y1, x0:x1]
    nearer = inside & (z > window)
    window[nearer] = z[nearer]
    picture[y0:y1, x0:x1][nearer] = colour


def png(picture: np.ndarray) -> bytes:
    """An (h, w, 3) picture of 0 to 1 as a PNG file."""
    light = np.clip(picture, 0, 1)  # As light adds up; screens want its curve.
    curve = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    values = (curve * 255).round().astype(np.uint8)
    rows = np.concatenate(
        [np.zeros((len(values), 1), np.uint8), values.reshape(len(values), -1)], 1
    )
    head = struct.pack(">IIBBBBB", values.shape[1], values.shape[0], 8, 2, 0, 0, 0)

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    parts = (chunk(b"IHDR", head), chunk(b"IDAT", zlib.compress(rows.tobytes(), 9)))
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts) + chunk(b"IEND", b"")


if __name__ == "__main__":
    source, target, *rest = sys.argv[1:]
    Path(target).write_bytes(png(draw(*triangles(Path(source)), int(rest[0]) if rest else 1200)))
