"""The command that writes a page, and the page among the results of a build."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers_cli import JOB, TOO_TALL, Ran, child

RUN = "from parametric_wall.cli import run\nrun()\n"


def wall(*words: str | Path, cwd: Path) -> Ran:
    ran = child(RUN, *words, cwd=cwd)
    return Ran(ran.returncode, ran.stdout, ran.stderr)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "low.toml").write_text(JOB, encoding="utf-8")
    (tmp_path / "tall.toml").write_text(TOO_TALL, encoding="utf-8")
    return tmp_path


def test_it_is_written_under_the_name_of_the_job_or_another(folder: Path) -> None:
    ran = wall("preview", "low.toml", cwd=folder)
    assert (ran.code, ran.err) == (0, "")
    assert "low.html" in ran.out
    page = (folder / "low.html").read_bytes()
    assert page.startswith(b"<!doctype html>")
    ran = wall("preview", "low.toml", "--out", "other.html", "--json", cwd=folder)
    assert ran.json == {"wrote": "other.html", "bytes": len(page)}
    assert (folder / "other.html").read_bytes() == page
    assert wall("preview", "low.toml", "--quiet", cwd=folder).out == ""
    assert {p.name for p in folder.iterdir()} == {"low.toml", "tall.toml", "low.html", "other.html"}


def test_a_value_can_be_tried(folder: Path) -> None:
    assert wall("preview", "low.toml", cwd=folder).code == 0
    before = (folder / "low.html").read_bytes()
    ran = wall("preview", "low.toml", "--with", "walls.0.height.courses=3", cwd=folder)
    assert ran.code == 0
    assert (folder / "low.html").read_bytes() != before


@pytest.mark.parametrize("words", [(), ("--json",)])
def test_a_job_that_stops_has_no_page_and_leaves_no_older_one(
    folder: Path, words: tuple[str, ...]
) -> None:
    assert wall("preview", "low.toml", "--out", "wall.html", cwd=folder).code == 0
    ran = wall("preview", "tall.toml", "--out", "wall.html", *words, cwd=folder)
    assert ran.code == 1
    assert "wall-height" in ran.out
    assert not (folder / "wall.html").exists()
    if words:
        assert ran.json["stops"] is True


@pytest.mark.parametrize("job", ["low.toml", "tall.toml"])
def test_a_file_that_is_no_page_is_left_as_it_is(folder: Path, job: str) -> None:
    (folder / "mine.html").write_text("<p>mine</p>", encoding="utf-8")
    ran = wall("preview", job, "--out", "mine.html", cwd=folder)
    assert ran.code == 2
    assert "mine.html" in ran.err
    assert (folder / "mine.html").read_text(encoding="utf-8") == "<p>mine</p>"
    assert wall("preview", "low.toml", "--out", "low.toml", cwd=folder).code == 2
    assert (folder / "low.toml").read_text(encoding="utf-8") == JOB


@pytest.mark.parametrize("out", ["", "nowhere/low.html", "."])
def test_a_place_that_cannot_be_written_to(folder: Path, out: str) -> None:
    ran = wall("preview", "low.toml", "--out", out, cwd=folder)
    assert ran.code == 2
    assert "Traceback" not in ran.err
    assert {p.name for p in folder.iterdir()} == {"low.toml", "tall.toml"}


@pytest.mark.cad
def test_a_build_writes_the_same_page(folder: Path) -> None:
    assert wall("preview", "low.toml", cwd=folder).code == 0
    built = wall("build", "low.toml", "--out", "out", "--formats", "stl,html", cwd=folder)
    assert built.code == 0, built.out + built.err
    assert (folder / "out" / "low.html").read_bytes() == (folder / "low.html").read_bytes()
    assert wall("build", "low.toml", "--out", "out", "--formats", "stl", cwd=folder).code == 0
    assert not (folder / "out" / "low.html").exists()
