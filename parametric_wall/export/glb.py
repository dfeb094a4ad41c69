"""The container of glTF: a description in JSON, and one block of numbers behind it."""

from __future__ import annotations

import json
import struct
from typing import Any

from parametric_wall.setting_out.model import Kind
from parametric_wall.solid.mesh import Floats, Indices

MAGIC, VERSION = b"glTF", 2
JSON_CHUNK, BINARY_CHUNK = b"JSON", b"BIN\0"
FLOAT, SHORT, LONG = 5126, 5123, 5125
VERTICES, ELEMENTS = 34962, 34963
SHORT_AT_MOST = 65535
"""Vertices that 16-bit indices reach; the last number has a meaning of its own."""


class Glb:
    """Collects meshes, materials and nodes, and writes them."""

    def __init__(self) -> None:
        self._blocks: list[bytes] = []
        self._size = 0
        self._views: list[dict[str, Any]] = []
        self._accessors: list[dict[str, Any]] = []
        self._meshes: list[dict[str, Any]] = []
        self._materials: list[dict[str, Any]] = []
        self._nodes: list[dict[str, Any]] = []

    def vectors(self, values: Floats, *, bounds: bool = False) -> int:
        """Store (n, 3) numbers; the accessor's index. Positions have to state their bounds."""
        stored = values.astype("<f4")
        accessor = {
            "bufferView": self._view(stored.tobytes(), VERTICES),
            "componentType": FLOAT,
            "count": len(stored),
            "type": "VEC3",
        }
        if bounds:
            accessor["min"] = stored.min(axis=0).tolist()
            accessor["max"] = stored.max(axis=0).tolist()
        self._accessors.append(accessor)
        return len(self._accessors) - 1

    def indices(self, triangles: Indices) -> int:
        """Store (n, 3) rows of vertices; the accessor's index."""
        short = int(triangles.max()) < SHORT_AT_MOST
        stored = triangles.astype("<u2" if short else "<u4").ravel()
        self._accessors.append(
            {
                "bufferView": self._view(stored.tobytes(), ELEMENTS),
                "componentType": SHORT if short else LONG,
                "count": len(stored),
                "type": "SCALAR",
            }
        )
        return len(self._accessors) - 1

    def mesh(self, name: str, primitive: dict[str, Any], kind: Kind) -> int:
        """Add a mesh of one primitive, marked with the kind of its pieces; its index."""
        self._meshes.append({"name": name, "primitives": [primitive], "extras": {"kind": kind}})
        return len(self._meshes) - 1

    def material(self, name: str, colour: tuple[float, ...], roughness: float) -> int:
        """Add a dull material of a linear colour, 0 to 1; its index."""
        look = {
            "baseColorFactor": [*colour, 1.0],
            "metallicFactor": 0.0,
            "roughnessFactor": roughness,
        }
        self._materials.append({"name": name, "pbrMetallicRoughness": look})
        return len(self._materials) - 1

    def node(self, node: dict[str, Any]) -> int:
        """Add a node as glTF describes it; its index."""
        self._nodes.append(node)
        return len(self._nodes) - 1

    def to_bytes(self, root: dict[str, Any]) -> bytes:
        """The whole file, with one scene of one root node."""
        top = self.node(root)
        description = {
            "asset": {"version": "2.0", "generator": "parametric_wall"},
            "scene": 0,
            "scenes": [{"nodes": [top]}],
            "nodes": self._nodes,
            "meshes": self._meshes,
            "materials": self._materials,
            "accessors": self._accessors,
            "bufferViews": self._views,
            "buffers": [{"byteLength": self._size}],
        }
        text = json.dumps(description, ensure_ascii=False, separators=(",", ":")).encode()
        body = _chunk(JSON_CHUNK, text, b" ") + _chunk(BINARY_CHUNK, b"".join(self._blocks), b"\0")
        return MAGIC + struct.pack("<II", VERSION, 12 + len(body)) + body

    def _view(self, data: bytes, target: int) -> int:
        view = {"buffer": 0, "byteOffset": self._size, "byteLength": len(data), "target": target}
        self._views.append(view)
        padded = data + b"\0" * (-len(data) % 4)
        self._blocks.append(padded)
        self._size += len(padded)
        return len(self._views) - 1


def _chunk(kind: bytes, data: bytes, filler: bytes) -> bytes:
    padded = data + filler * (-len(data) % 4)
    return struct.pack("<I", len(padded)) + kind + padded
