"""Every example drawn, and its drawings read by others: true to scale, and all there."""

from __future__ import annotations

import json
import subprocess
from itertools import pairwise
from pathlib import Path

import pytest
import validators
from ezdxf import recover
from helpers_views import lines_in

from parametric_wall import check, draw, load, set_out
from parametric_wall.checks.finding import stops
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import SettingOut

ROOT = Path(__file__).parents[2]
JOBS = [path for path in sorted((ROOT / "examples").glob("*.toml")) if path.stem != "too-tall"]


@pytest.fixture(scope="module", params=JOBS, ids=lambda path: path.stem)
def example(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[JobSpec, SettingOut, Path]:
    """A job, its setting-out, and the folder with its drawings."""
    spec = load(request.param)
    laid = set_out(spec)
    assert not stops(check(spec, laid))
    folder = tmp_path_factory.mktemp(spec.name)
    draw(spec, laid, folder)
    return spec, laid, folder


def said(*command: str | Path) -> str:
    """What a program of poppler's says; it has nothing to complain of."""
    validators.require("poppler")
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stderr == ""
    return done.stdout


def test_every_page_is_true_to_scale(example: tuple[JobSpec, SettingOut, Path]) -> None:
    """A bar of 100 mm on each; and on an elevation the length of the run, divided by its scale."""
    validators.require("poppler")
    spec, _, folder = example
    pdf = folder / f"{spec.name}-drawings.pdf"
    record = json.loads((folder / "drawings.json").read_bytes())
    lengths = {
        f"{wall.name}-r{number}": length
        for wall in spec.walls
        for number, length in enumerate(wall.path.lengths, 1)
    }
    measured = 0
    for number, sheet in enumerate(record["sheets"], 1):
        spans = [
            abs(b[0] - a[0])
            for line in lines_in(pdf, number)
            for a, b in pairwise(line)
            if abs(a[1] - b[1]) < 1e-2
        ]
        assert any(abs(span - 100.0) < 0.1 for span in spans), sheet["name"]
        whole = [n for n in lengths if sheet["name"].endswith(f"elevation-{n}")]
        if whole and len(sheet["scales"]) == 1:
            wanted = lengths[whole[0]] / sheet["scales"][0]
            assert any(abs(span - wanted) < 0.1 for span in spans), sheet["name"]
            measured += 1
    assert measured or len(record["sheets"]) > len(lengths)


def test_sizes_and_ids_are_found_by_searching(example: tuple[JobSpec, SettingOut, Path]) -> None:
    spec, _, folder = example
    words = said("pdftotext", folder / f"{spec.name}-drawings.pdf", "-").split()
    for wall in spec.walls:
        for length in wall.path.lengths:
            assert f"{length:g}" in words
        assert wall.name in " ".join(words)


def test_it_is_tagged_and_its_font_embedded(example: tuple[JobSpec, SettingOut, Path]) -> None:
    spec, _, folder = example
    pdf = folder / f"{spec.name}-drawings.pdf"
    assert "Tagged:          yes" in said("pdfinfo", pdf)
    assert b"pdfuaid" in pdf.read_bytes()
    rows = said("pdffonts", pdf).splitlines()[2:]
    assert rows
    assert all("DejaVuSans" in row and row.split()[-5:-2] == ["yes"] * 3 for row in rows)


def test_the_dxf_is_without_a_fault(example: tuple[JobSpec, SettingOut, Path]) -> None:
    spec, laid, folder = example
    doc, auditor = recover.readfile(folder / f"{spec.name}-drawings.dxf")
    assert (auditor.errors, auditor.fixes) == ([], [])
    measured = {round(d.get_measurement(), 3) for d in doc.modelspace().query("DIMENSION")}
    for wall in spec.walls:
        assert {round(length, 3) for length in wall.path.lengths} <= measured
    pieces = sum(p.kind in ("block", "coping") for w in laid.walls for p in w.pieces)
    inserts = doc.modelspace().query("INSERT")
    assert len(inserts) >= pieces
    assert len({i.dxf.name for i in inserts}) < len(inserts)
