"""The wall as a first script would have it: mortar is what is left when each block is cut out."""

from __future__ import annotations

import sys

import cadquery as cq
from peer_wall import BASE, COURSES, H, J, T, copings, courses, slab, wedge


def main(folder: str, length: float) -> None:
    wall = cq.Assembly(name="wall")
    footing = cq.Workplane().box(length + 200, T + 200, 150, centered=False)
    wall.add(footing.translate((-100, -100, BASE - 150)), name="footing")
    for i, (z, blocks) in enumerate(courses(length), 1):
        mortar = cq.Workplane().box(length, T, H + J, centered=False).translate((0, 0, z))
        for k, (x, piece) in enumerate(blocks, 1):
            block = cq.Workplane().box(piece, T, H, centered=False).translate((x, 0, z + J))
            mortar = mortar.cut(block)
            wall.add(block, name=f"block {i}.{k}")
        wall.add(mortar, name=f"mortar {i}")
    top = BASE + COURSES * (H + J)
    bed = cq.Workplane("YZ").polyline(wedge()).close().extrude(length)
    wall.add(bed.translate((0, 0, top)), name="coping bed")
    row = cq.Workplane("YZ").polyline(slab()).close().extrude(length).translate((0, 0, top))
    for k, (x, piece) in enumerate(copings(length), 1):
        coping = cq.Workplane("YZ").polyline(slab()).close().extrude(piece).translate((x, 0, top))
        row = row.cut(coping)
        wall.add(coping, name=f"coping {k}")
    wall.add(row, name="coping joints")
    wall.export(f"{folder}/wall.step")
    wall.export(f"{folder}/wall.stl")
    wall.export(f"{folder}/wall.glb")


if __name__ == "__main__":
    main(sys.argv[1], float(sys.argv[2]))
