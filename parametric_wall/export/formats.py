"""Every format a model is written in. To add one, add its row and its module."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from parametric_wall.export.gltf import gltf_bytes
from parametric_wall.export.step import step_bytes
from parametric_wall.export.stl import stl_bytes
from parametric_wall.solid.model import Model


@dataclass(frozen=True, slots=True)
class Format:
    """One file format.

    Attributes:
        suffix: of the file's name, with its dot.
        name: what people call it.
        use: what it is good for.
        unit: of every length in the file.
        up: the axis that points upward in the file.
        write: the whole file's bytes, the same for the same model.
    """

    suffix: str
    name: str
    use: str
    unit: str
    up: str
    write: Callable[[Model], bytes]


FORMATS: tuple[Format, ...] = (
    Format(".step", "STEP AP214", "exact solids, named and coloured", "mm", "z", step_bytes),
    Format(".stl", "STL, binary", "one mesh of everything, without names", "mm", "z", stl_bytes),
    Format(".glb", "glTF 2.0, binary", "pictures, on screens and phones", "m", "y", gltf_bytes),
)
"""In the order in which they are written."""
