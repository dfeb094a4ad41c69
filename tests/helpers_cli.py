"""A small job, and what a run of the command gives."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

JOB = """\
title = "Low wall"
block = { size = "440x140x140" }
coping = { size = "600x240x50" }

[[walls]]
name = "front"
plan = { shape = "straight", length_mm = 1790 }
height = { courses = 2 }
"""
TOO_TALL = JOB.replace("courses = 2", "courses = 12")
FAULTY = JOB.replace("courses = 2", "courses = 0").replace("1790", "nan")
FAULTY_PATHS = ["walls.0.plan.length_mm", "walls.0.height.courses"]

CUT_LISTS = {"cut-list.csv", "cut-list-laying.csv", "cut-list-lengths.csv"}
ORDER = {"order.json", "order.csv", "days.json", "bill.csv", "bill.xlsx"}
RESULTS = {"setting-out.json", "take-off.json", *CUT_LISTS, *ORDER, "findings.json"}
MODELS = {"wall.step", "wall.stl", "wall.glb"}
RECORD = "verification.json"
PLOTS = {"wall-bearing-front.svg", "wall-days.svg", "wall-still.svg"}
ALL = RESULTS | MODELS | PLOTS | {"wall.html", RECORD}


def named(name: str) -> set[str]:
    """Every result of a job of another name."""
    return {file.replace("wall", name) for file in ALL}


@dataclass(frozen=True)
class Ran:
    """What a run of the command gave."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The whole output as JSON."""
        return json.loads(self.out)


Command = Callable[..., Ran]


def contents(folder: Path) -> dict[str, bytes]:
    """Every file under a folder, hidden ones too, with its bytes."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def child(code: str, *words: str | Path, **options: Any) -> subprocess.CompletedProcess[str]:
    """Run some lines in a process of their own, with the command's words as its arguments."""
    lines = f"import sys\nsys.argv[0] = 'parametric-wall'\n{code}"
    return subprocess.run(
        [sys.executable, "-c", lines, *map(str, words)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=120,
        check=False,
        **options,
    )


RUN = "from parametric_wall.cli import run\nrun()\n"
