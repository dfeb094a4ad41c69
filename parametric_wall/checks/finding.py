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

    `standing` says how far its source can be trusted: read, computed, common practice, or from
    memory, which is to be confirmed. `next_designed` is what to do next where a named design
    answers for it.
    """

    code: str
    title: str
    why: str
    next: str
    ask: str
    source: str
    standing: str
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
        rule: source and standing of the limit, where they are not the code's own.
    """

    code: str
    grade: Grade
    where: str
    message: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    designed: bool = False
    rule: tuple[str, str] | None = None

    @property
    def meaning(self) -> Meaning:
        """Why it matters, what to do next, whom to ask, and the source."""
        return meanings()[self.code]

    @property
    def next(self) -> str:
        """What to do next."""
        return self.meaning.next_designed if self.designed else self.meaning.next

    @property
    def source(self) -> str:
        """Where the limit comes from, with its clause."""
        return self.rule[0] if self.rule else self.meaning.source

    @property
    def standing(self) -> str:
        """How far that can be trusted."""
        return self.rule[1] if self.rule else self.meaning.standing


@cache
def meanings() -> dict[str, Meaning]:
    """Every code and what it stands for."""
    return {code: Meaning(code, **row) for code, row in table("findings").items()}


def stops(findings: tuple[Finding, ...]) -> bool:
    """Whether any finding stops the job."""
    return any(f.grade is Grade.STOP for f in findings)
