"""The page's script is what its source gives with the versions named beside it."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

from helpers_page import ROOT
from validators import MODULES, require, run

WEB = ROOT / "parametric_wall" / "export" / "web"


def test_it_is_built_again_to_the_same_bytes(tmp_path: Path) -> None:
    node = require("esbuild")
    run(node, WEB / "build.mjs", tmp_path / "page.js")
    assert (tmp_path / "page.js").read_bytes() == (WEB / "page.js").read_bytes()


def test_what_is_used_is_what_is_written_in() -> None:
    require("esbuild")
    wanted = json.loads((WEB / "package.json").read_text(encoding="utf-8"))
    for name, version in {**wanted["dependencies"], **wanted["devDependencies"]}.items():
        package = json.loads((MODULES["esbuild"] / name / "package.json").read_text("utf-8"))
        assert package["version"] == version, name


def test_the_types_hold() -> None:
    require("esbuild")
    run(MODULES["esbuild"] / ".bin" / "tsc", "--project", WEB / "tsconfig.json")


def test_a_wrong_type_would_be_found(tmp_path: Path) -> None:
    """Else the test above could not fail."""
    require("esbuild")
    options = json.loads((WEB / "tsconfig.json").read_text(encoding="utf-8"))
    wrong = tmp_path / "wrong.js"
    wrong.write_text("/** @type {number} */ export const n = 'text';\n", encoding="utf-8")
    config = {**options, "include": [str(wrong)]}
    config["compilerOptions"]["types"] = []
    (tmp_path / "tsconfig.json").write_text(json.dumps(config), encoding="utf-8")
    program = [MODULES["esbuild"] / ".bin" / "tsc", "--project", tmp_path / "tsconfig.json"]
    try:
        run(*program)
    except AssertionError as error:
        assert "TS2322" in str(error)  # noqa: PT017 (a failing program is what is wanted)
    else:
        raise AssertionError("a text passed as a number")


def test_licence_and_script_go_with_the_package() -> None:
    folder = files("parametric_wall.export") / "web"
    licence = (folder / "LICENSE.three.txt").read_text(encoding="utf-8").strip()
    script = (folder / "page.js").read_text(encoding="utf-8")
    assert "three.js authors" in licence
    assert licence in script
    assert "</script" not in script
    for name in ("page.html", "page.css"):
        assert (folder / name).is_file()
