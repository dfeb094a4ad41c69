"""Builds every example into exports again, with the picture for the README.

The pages for clients are left out: each carries the same 0.6 MB of script.

python tests/tools/exports.py
"""

from __future__ import annotations

from pathlib import Path

from picture import draw, png, triangles

from parametric_wall import load
from parametric_wall.pack.build import build
from parametric_wall.pack.folder import MODEL_SUFFIXES

ROOT = Path(__file__).parents[2]


def main() -> None:
    """Build them all; the refused one leaves its findings."""
    for job in sorted((ROOT / "examples").glob("*.toml")):
        built = build(load(job), ROOT / "exports" / job.stem, MODEL_SUFFIXES)
        print(job.stem, *built.files)
    model = ROOT / "exports" / "herb-planter" / "herb-planter.glb"
    (ROOT / "exports" / "herb-planter.png").write_bytes(png(draw(*triangles(model), 1000)))


if __name__ == "__main__":
    main()
