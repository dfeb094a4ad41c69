"""Programs of other people that read what this package writes.

On a laptop without them their tests are skipped. Where ``REQUIRE_VALIDATORS=1`` is set,
a missing one is a failure: a proof that was not made is not a proof.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

TOOLS = Path(__file__).parent / "tools"
REQUIRED = "REQUIRE_VALIDATORS"


@dataclass(frozen=True)
class Validator:
    """One program.

    Attributes:
        program: what is looked for.
        proves: what it is used for.
        install: how it gets there.
    """

    program: str
    proves: str
    install: str


VALIDATORS = {
    "gmsh": Validator("gmsh", "STEP: solids and their mass", "the system package gmsh"),
    "assimp": Validator("assimp", "glTF: its unit", "the system package assimp-utils"),
    "admesh": Validator("admesh", "STL: closed bodies", "the system package admesh"),
    "poppler": Validator(
        "pdftocairo", "PDF: its texts, fonts and lines", "the system package poppler-utils"
    ),
    "librecad": Validator("librecad", "DXF: as a user sees it", "the system package librecad"),
    "dxf-parser": Validator(
        "node",
        "DXF: dimensions and blocks in mm",
        "npm install --prefix tests/tools --no-package-lock --no-audit --no-fund",
    ),
    "gltf-validator": Validator(
        "node",
        "glTF: the standard's own rules",
        "npm install --prefix tests/tools --no-package-lock --no-audit --no-fund",
    ),
    "chromium": Validator("chromium", "the page: everything in it", "the system package chromium"),
    "axe-core": Validator(
        "node",
        "the page: whether everybody can use it",
        "npm install --prefix tests/tools --no-package-lock --no-audit --no-fund",
    ),
    "esbuild": Validator(
        "node",
        "the page's script: that it is what its source gives",
        "npm install --prefix parametric_wall/export/web --no-package-lock --no-audit --no-fund",
    ),
}
MODULES = {
    "dxf-parser": TOOLS / "node_modules",
    "gltf-validator": TOOLS / "node_modules",
    "axe-core": TOOLS / "node_modules",
    "esbuild": TOOLS.parents[1] / "parametric_wall" / "export" / "web" / "node_modules",
}
"""Where npm leaves what is run by node."""


def require(name: str) -> str:
    """The path of a validator's program; skips, or fails where all are required."""
    validator = VALIDATORS[name]
    found = shutil.which(validator.program)
    if found and (name not in MODULES or (MODULES[name] / name).is_dir()):
        return found
    reason = f"{name} is missing: {validator.install}"
    if os.environ.get(REQUIRED) == "1":
        pytest.fail(reason)
    pytest.skip(reason)


def run(*command: str | Path) -> str:
    """A program's output; fails with all of it where the program does."""
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def gltf_report(path: Path) -> dict[str, Any]:
    """What the standard's own validator says of a .glb file."""
    node = require("gltf-validator")
    report: dict[str, Any] = json.loads(run(node, TOOLS / "validate_gltf.mjs", path))
    return report
