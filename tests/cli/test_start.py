"""Ctrl-C while the command line itself is loaded."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers_cli import JOB, child

START = """
from parametric_wall.start import main

class Stop:
    def find_spec(self, name, path=None, target=None):
        if name == "typer":
            raise {raised}

{hook}
main()
"""
HOOK = "sys.meta_path.insert(0, Stop())"
INTERRUPTS = ["KeyboardInterrupt", "ImportError('initialization failed') from KeyboardInterrupt()"]


@pytest.mark.parametrize("raised", INTERRUPTS)
def test_it_is_told_to_stop_in_a_line(raised: str) -> None:
    ran = child(START.format(hook=HOOK, raised=raised), "sizes")
    assert (ran.returncode, ran.stdout) == (130, "")
    assert ran.stderr == "stopped; no result is half-written\n"


def test_it_says_so_in_json_too() -> None:
    ran = child(START.format(hook=HOOK, raised=INTERRUPTS[0]), "sizes", "--json")
    assert ran.returncode == 130
    assert json.loads(ran.stdout)["faults"][0]["problem"] == "stopped; no result is half-written"


def test_a_library_that_is_missing_is_no_interrupt() -> None:
    ran = child(START.format(hook=HOOK, raised="ImportError('no typer')"), "sizes")
    assert ran.returncode == 1
    assert "no typer" in ran.stderr


def test_otherwise_it_runs_the_command(tmp_path: Path) -> None:
    job = tmp_path / "wall.toml"
    job.write_text(JOB, encoding="utf-8")
    ran = child(START.format(hook="", raised="KeyboardInterrupt"), "check", job, "--json")
    assert ran.returncode == 0
    assert json.loads(ran.stdout)["job"] == "wall"
