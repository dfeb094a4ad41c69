"""What the commands have in common: their words, reading a job, and stopping at its findings."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

import typer

from parametric_wall.errors import Fault, JobError
from parametric_wall.job.resolve import JobSpec
from parametric_wall.pack.terminal import put
from parametric_wall.setting_out.model import SettingOut

if TYPE_CHECKING:
    from parametric_wall.checks.finding import Finding

GOOD, STOPPED, BAD_INPUT, TERMINATED = 0, 1, 2, 143

JobFile = Annotated[str, typer.Argument(metavar="JOB.toml", help="job file; - for standard input")]
With = Annotated[
    list[str] | None,
    typer.Option(
        "--with",
        metavar="KEY=VALUE",
        help="another value for one key, for instance walls.0.height.courses=4; may be repeated",
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="print JSON")]
Quiet = Annotated[bool, typer.Option("--quiet", help="print only what went wrong")]


def load_job(job: str, changes: list[str] | None, option: str = "--with") -> JobSpec:
    """Read a job with other values to try.

    Args:
        job: the file's name; ``-`` for standard input.
        changes: each as ``KEY=VALUE``.
        option: the command's word for them.

    Raises:
        JobError: with every fault found.
        OSError: the file cannot be read.
    """
    from parametric_wall.job.read import MOST_BYTES, load, loads

    pairs = [(change, *change.partition("=")) for change in changes or []]
    bad = [
        Fault(option, c, "must be KEY=VALUE")
        for c, key, equals, _ in pairs
        if not key or not equals
    ]
    if bad:
        raise JobError(bad)
    wanted = {key.strip(): value.strip() for _, key, _, value in pairs}
    if job != "-":
        return load(job, changes=wanted)
    if sys.stdin is None:
        raise JobError([Fault("-", "", "standard input is closed")])
    return loads(sys.stdin.buffer.read(MOST_BYTES + 1), changes=wanted)


def set_out_or_stop(spec: JobSpec, *, as_json: bool) -> SettingOut:
    """Set out a job; where a finding stops it, print the findings and end the command."""
    return checked_or_stop(spec, as_json=as_json)[0]


def checked_or_stop(spec: JobSpec, *, as_json: bool) -> tuple[SettingOut, tuple[Finding, ...]]:
    """As `set_out_or_stop`, with the findings that do not stop it."""
    from parametric_wall.checks.check import check
    from parametric_wall.checks.finding import stops
    from parametric_wall.pack import screen
    from parametric_wall.setting_out.set_out import set_out

    laid = set_out(spec)
    found = check(spec, laid)
    if stops(found):
        put(screen.findings_json(spec, found) if as_json else screen.stopped_text(spec, found))
        raise typer.Exit(STOPPED)
    return laid, found
