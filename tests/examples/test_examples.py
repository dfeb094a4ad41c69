"""Every example builds, is proved, and stands in exports as it builds today.

The pages are not in exports, for each carries the same script; see tests/preview.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from parametric_wall import load, verify_folder
from parametric_wall.checks.finding import stops
from parametric_wall.pack.build import build
from parametric_wall.pack.folder import MODEL_SUFFIXES

ROOT = Path(__file__).parents[2]
JOBS = sorted((ROOT / "examples").glob("*.toml"))
REFUSED = {"too-tall"}

pytestmark = pytest.mark.cad


def test_there_are_enough_examples() -> None:
    assert len(JOBS) >= 8
    assert {job.stem for job in JOBS} > REFUSED


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job.stem)
def test_an_example_builds_as_it_stands_in_exports(job: Path, tmp_path: Path) -> None:
    built = build(load(job), tmp_path, MODEL_SUFFIXES)
    exported = ROOT / "exports" / job.stem
    assert {p.name for p in tmp_path.iterdir()} == {p.name for p in exported.iterdir()}
    for path in tmp_path.iterdir():
        assert path.read_bytes() == (exported / path.name).read_bytes(), path.name
    if job.stem in REFUSED:
        assert stops(built.findings)
        assert built.files == ("findings.json",)
    else:
        assert built.good
        assert verify_folder(tmp_path).agrees
