"""Findings: what a practitioner should know, look at, or not build."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from parametric_wall.reference.tables import table


class Grade(StrEnum):
    """How grave a finding is."""

    KNOW = "worth knowing"
    LOOK = "look at this"
    STOP = "not to be built as it stands"


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a finding's code stands for.

    `next_designed` is what to do next where a named design answers for it.
    """

    code: str
    title: str
    why: str
    next: str
    ask: str
    source: str
    next_designed: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found.

    Attributes:
        code: stable, in words; see `meaning`.
        grade: how grave.
        where: wall, run or piece; empty for the whole job.
        message: what was found here.
        value: what it is; None where there is nothing to measure.
        limit: what it is measured against.
        unit: of both.
        designed: whether it would stop the job, did not a named design answer for it.
    """

    code: str
    grade: Grade
    where: str
    message: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    designed: bool = False

    @property
    def meaning(self) -> Meaning:
        """Why it matters, what to do next, whom to ask, and the source."""
        return meanings()[self.code]

    @property
    def next(self) -> str:
        """What to do next."""
        return self.meaning.next_designed if self.designed else self.meaning.next


@cache
def meanings() -> dict[str, Meaning]:
    """Every code and what it stands for."""
    return {code: Meaning(code, **row) for code, row in table("findings").items()}


def stops(findings: tuple[Finding, ...]) -> bool:
    """Whether any finding stops the job."""
    return any(f.grade is Grade.STOP for f in findings)
