"""An idiomatic CadQuery assembly of the wall: a part a shape, placed; three files; no proof."""

from __future__ import annotations

import sys
from functools import cache

import cadquery as cq
from peer_wall import BASE, COURSES, H, J, T, copings, courses, slab, wedge

COLOURS = {"footing": "gray", "block": "tan", "mortar": "lightgray", "coping": "slategray"}


@cache
def box(length: float, width: float, height: float) -> cq.Workplane:
    return cq.Workplane().box(length, width, height, centered=False)


@cache
def prism(section: tuple[tuple[float, float], ...], length: float) -> cq.Workplane:
    return cq.Workplane("YZ").polyline(list(section)).close().extrude(length)


def main(folder: str, length: float) -> None:
    wall = cq.Assembly(name="wall")

    def add(part: cq.Workplane, name: str, kind: str, x: float, y: float, z: float) -> None:
        wall.add(part, name=name, loc=cq.Location((x, y, z)), color=cq.Color(COLOURS[kind]))

    add(box(length + 200, T + 200, 150), "footing", "footing", -100, -100, BASE - 150)
    for i, (z, blocks) in enumerate(courses(length), 1):
        add(box(length, T, J), f"bed {i}", "mortar", 0, 0, z)
        for k, (x, piece) in enumerate(blocks, 1):
            add(box(piece, T, H), f"block {i}.{k}", "block", x, 0, z + J)
            if k < len(blocks):
                add(box(J, T, H), f"perp {i}.{k}", "mortar", x + piece, 0, z + J)
    top = BASE + COURSES * (H + J)
    add(prism(tuple(wedge()), length), "coping bed", "mortar", 0, 0, top)
    laid = list(copings(length))
    for k, (x, piece) in enumerate(laid, 1):
        add(prism(tuple(slab()), piece), f"coping {k}", "coping", x, 0, top)
        if k < len(laid):
            add(prism(tuple(slab()), J), f"coping joint {k}", "mortar", x + piece, 0, top)
    wall.export(f"{folder}/wall.step")
    wall.export(f"{folder}/wall.stl")
    wall.export(f"{folder}/wall.glb")


if __name__ == "__main__":
    main(sys.argv[1], float(sys.argv[2]))
