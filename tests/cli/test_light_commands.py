"""What needs no solid model answers without the CAD kernel."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers_cli import child

RUN_ALL = """
import contextlib, io, json
from parametric_wall.cli import run

codes = []
for words in json.loads(sys.argv[1]):
    sys.argv = ["parametric-wall", *words]
    with contextlib.redirect_stdout(io.StringIO()) as out:
        try:
            run()
        except SystemExit as ended:
            codes.append(ended.code)
names = {name.split(".")[0] for name in sys.modules}
heavy = names & {"OCP", "cadquery", "trimesh", "manifold3d", "xlsxwriter"}
print(json.dumps({"codes": codes, "heavy": sorted(heavy), "last": len(out.getvalue())}))
"""


def loaded(commands: list[list[str]]) -> dict[str, object]:
    ran = child(RUN_ALL, json.dumps(commands))
    assert ran.returncode == 0, ran.stderr
    found: dict[str, object] = json.loads(ran.stdout)
    return found


def test_no_light_command_loads_the_kernel(job: Path, too_tall: Path, tmp_path: Path) -> None:
    commands = [
        ["check", str(job)],
        ["check", str(too_tall), "--json"],
        ["takeoff", str(job)],
        ["takeoff", str(job), "--json"],
        ["order", str(job)],
        ["order", str(job), "--json"],
        ["days", str(job)],
        ["days", str(too_tall), "--json"],
        ["rates", str(job), str(tmp_path / "rates.csv")],
        ["price", str(job), "--rates", str(tmp_path / "rates.csv")],
        ["options", str(job), "--or", "walls.front.height.courses=3"],
        ["preview", str(job), "--out", str(tmp_path / "page.html")],
        ["draw", str(job), "--out", str(tmp_path / "drawn")],
        ["draw", str(too_tall), "--out", str(tmp_path / "drawn")],
        ["pack", str(job), "--out", str(tmp_path / "packed")],
        [
            "pack",
            str(job),
            "--out",
            str(tmp_path / "packed"),
            "--rates",
            str(tmp_path / "rates.csv"),
        ],
        ["pack", str(too_tall), "--out", str(tmp_path / "packed")],
        ["sizes"],
        ["sizes", "--json"],
        ["schema", "job"],
        ["meaning"],
        ["meaning", "wall-height", "--json"],
        ["new", str(tmp_path / "new.toml")],
        ["check", "nowhere.toml"],
        ["verify", str(tmp_path)],
        ["--version"],
    ]
    found = loaded(commands)
    assert found["codes"] == [0, 1, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 1, 0, 0, 1, *[0] * 6, 2, 2, 0]
    assert found["heavy"] == []


def test_a_job_that_stops_is_not_kept_waiting_for_it(too_tall: Path, tmp_path: Path) -> None:
    found = loaded([["build", str(too_tall), "--out", str(tmp_path / "out")]])
    assert (found["codes"], found["heavy"]) == ([1], [])


@pytest.mark.cad
def test_a_build_does_load_it(job: Path, tmp_path: Path) -> None:
    """Else the test above could not fail."""
    found = loaded([["build", str(job), "--out", str(tmp_path / "out")]])
    assert found["codes"] == [0]
    assert "OCP" in found["heavy"]
