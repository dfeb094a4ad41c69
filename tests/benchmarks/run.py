"""Whole processes side by side in one run, as ratios. Printed, never asserted: machines are noisy.

python tests/benchmarks/run.py
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path
from statistics import median

HERE = Path(__file__).parent
ROUNDS = 5
PYTHON = sys.executable
TOOL = (PYTHON, "-m", "parametric_wall")


@dataclass(frozen=True, slots=True)
class Case:
    """One command, how often it is run, and what it is held against."""

    name: str
    command: tuple[str, ...]
    against: str = "import cadquery"
    target: float | None = None
    rounds: int = ROUNDS


STILL = """
import sys, time
from parametric_wall import load, set_out
spec = load(sys.argv[1])
laid = set_out(spec)
start = time.perf_counter()
from parametric_wall.drawings.still.axonometric import still
from parametric_wall.export.still_svg import still_svg
still_svg(still(laid, spec))
print(time.perf_counter() - start)
"""
"""Says by itself what the picture costs over setting out, its imports included."""
EXAMPLES = sorted((HERE.parents[1] / "examples").glob("*.toml"))
SIX_RUNS = """
title = "six runs"
designed_by = "calculations for the wall, sheet 1"
[block]
size = "440x100x140"
[[walls]]
name = "six"
height = { courses = 12 }
plan = { shape = "legs", legs = [
    { length_mm = 15590, turn = "left" },
    { length_mm = 17040, turn = "right" },
    { length_mm = 17500, turn = "left" },
    { length_mm = 20105, turn = "right" },
    { length_mm = 15350, turn = "left" },
    { length_mm = 14415 },
] }
"""


def long_job(length: float) -> str:
    """A straight wall in one panel, six courses high."""
    return f"""
title = "long"
[block]
size = "440x140x140"
[coping]
size = "600x220x50"
fall = {{ to = "front", mm = 5, in_mm = 220 }}
[footing]
below_ground_mm = 150
[[walls]]
name = "long"
plan = {{ shape = "straight", length_mm = {length:g} }}
height = {{ courses = 6 }}
"""


def mixed_job() -> str:
    """Twenty metres of mixed lengths in one panel, six courses high."""
    family = "lengths_mm = [190, 290, 390]\nmix = [1, 2, 1]\nwidth_mm = 140\nheight_mm = 140"
    return long_job(20_000).replace('size = "440x140x140"', family)


def cases(folder: Path) -> list[Case]:
    """All commands; about 600, 3,000 and 12,000 parts."""
    jobs = {}
    for parts, metres in ((600, 20), (3000, 100), (12000, 400)):
        jobs[parts] = folder / f"long-{parts}.toml"
        jobs[parts].write_text(long_job(metres * 1000), encoding="utf-8")

    mixed = folder / "mixed.toml"
    mixed.write_text(mixed_job(), encoding="utf-8")
    six = folder / "six-runs.toml"
    six.write_text(SIX_RUNS, encoding="utf-8")

    rates = HERE.parents[1] / "examples" / "prices" / "rates-invented.toml"

    def built(parts: int) -> tuple[str, ...]:
        return (*TOOL, "build", str(jobs[parts]), "--out", str(folder / f"out-{parts}"), "--quiet")

    def drawn(parts: int) -> tuple[str, ...]:
        return (*TOOL, "draw", str(jobs[parts]), "--out", str(folder / f"drawn-{parts}"), "--quiet")

    def packed(parts: int) -> tuple[str, ...]:
        return (*TOOL, "pack", str(jobs[parts]), "--out", str(folder / f"pack-{parts}"), "--quiet")

    def peer(name: str) -> tuple[str, ...]:
        return (PYTHON, str(HERE / f"peer_{name}.py"), str(folder), "20000")

    return [
        Case("import cadquery", (PYTHON, "-c", "import cadquery")),
        Case("import OCP", (PYTHON, "-c", "import OCP"), target=None),
        Case("check, 600", (*TOOL, "check", str(jobs[600])), target=0.35),
        Case("takeoff, 600", (*TOOL, "takeoff", str(jobs[600])), target=0.35),
        Case("check, mixed lengths", (*TOOL, "check", str(mixed)), target=0.35),
        Case("order, 600", (*TOOL, "order", str(jobs[600])), target=0.35),
        Case("days, 600", (*TOOL, "days", str(jobs[600])), target=0.35),
        Case("price, 600", (*TOOL, "price", str(jobs[600]), "--rates", str(rates)), target=0.35),
        Case("check, 100 m in six runs", (*TOOL, "check", str(six)), target=2.0),
        Case("draw, 600", drawn(600), target=0.6),
        Case("pack, 600", packed(600), target=1.0),
        Case("build, 600", built(600), target=2.0),
        Case("build, 3000", built(3000)),
        Case("build, 12000", built(12000), target=10.0, rounds=2),
        Case("assembly peer, 600", peer("assembly")),
        Case("loop peer, 600", peer("loop"), rounds=1),
    ]


def seconds(command: tuple[str, ...]) -> float:
    """How long a whole process takes."""
    env = {**os.environ, "PYTHONHASHSEED": "0"}
    start = time.perf_counter()
    done = subprocess.run(command, env=env, check=False, capture_output=True, text=True)
    took = time.perf_counter() - start
    if done.returncode != 0:
        raise SystemExit(f"{' '.join(command)} failed:\n{done.stdout}\n{done.stderr}")
    return took


def stills(folder: Path) -> dict[str, float]:
    """What the still picture of every example and of the long walls costs, s."""
    costs = {}
    for path in (*EXAMPLES, *sorted(folder.glob("long-*.toml"))):
        command = (PYTHON, "-c", STILL, str(path))
        told = [subprocess.run(command, check=True, capture_output=True) for _ in range(ROUNDS)]
        costs[path.stem] = median(float(ran.stdout) for ran in told)
    return costs


def main() -> None:
    """Run everything in turn, round after round, and print the table."""
    with tempfile.TemporaryDirectory() as name:
        every = cases(Path(name))
        times: dict[str, list[float]] = {case.name: [] for case in every}
        for turn in range(ROUNDS):
            for case in every:
                if turn < case.rounds:
                    times[case.name].append(seconds(case.command))
        pictures = stills(Path(name))
    middle = {name: median(values) for name, values in times.items()}
    print(f"{'whole process':24} {'median s':>9} {'ratio':>7}  {'at most':>7}  against")
    for case in every:
        ratio = middle[case.name] / middle[case.against]
        target = "" if case.target is None else f"{case.target:.2f}"
        row = f"{case.name:24} {middle[case.name]:9.2f} {ratio:7.2f}  {target:>7}  {case.against}"
        print(row)
    build = middle["build, 600"]
    print(f"\nloop peer / build: {middle['loop peer, 600'] / build:.1f} (at least 3.5)")
    print(f"build / assembly peer: {build / middle['assembly peer, 600']:.2f} (at most 1.5)")
    low = (middle["build, 3000"] - build) / 2400
    high = (middle["build, 12000"] - middle["build, 3000"]) / 9000
    print(f"cost of a further part, 3000-12000 / 600-3000: {high / low:.2f} (at most 1.3)")
    for job, took in pictures.items():
        ratio = took / middle["import cadquery"]
        print(f"still picture of {job} / import cadquery: {ratio:.3f} (examples at most 0.05)")
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"most memory of any process: {peak:.0f} MB (at most 900)")


if __name__ == "__main__":
    main()
