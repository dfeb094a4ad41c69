"""How long work takes, and how long it waits: the reference table, or the job file's word."""

from __future__ import annotations

from dataclasses import dataclass

from parametric_wall.job.labour import Outputs
from parametric_wall.order.lines import JOB_FILE
from parametric_wall.reference.tables import table


@dataclass(frozen=True, slots=True)
class Output:
    """One output, or one wait.

    Attributes:
        key: as the job file's ``[outputs]`` has it.
        value: hours of one person for one unit, or nights.
        unit: h or nights.
        per: the unit that the hours are for; empty for nights.
        people: how many can be at it at once; 0 for nights.
        source: where the value comes from.
        standing: read, common practice, from memory, or the job file.
    """

    key: str
    value: float
    unit: str
    per: str
    people: int
    source: str
    standing: str


def outputs(given: Outputs) -> dict[str, Output]:
    """Every output by its key; those that the job file gives take the usual ones' place."""
    found = {}
    for key, row in table("outputs").items():
        own = getattr(given, key)
        found[key] = Output(
            key,
            float(row["value"] if own is None else own),
            row["unit"],
            row.get("per", ""),
            row.get("people", 0),
            row["source"] if own is None else JOB_FILE,
            row["standing"] if own is None else JOB_FILE,
        )
    return found
