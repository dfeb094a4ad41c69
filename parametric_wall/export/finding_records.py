"""The file findings.json: findings, what was looked at, calculations, and the check sheet."""

from __future__ import annotations

from typing_extensions import TypedDict

from parametric_wall.checks.calculation import Calculation, Figure, State
from parametric_wall.checks.check import calculations, looked_at
from parametric_wall.checks.finding import Finding, stops
from parametric_wall.checks.on_site import check_sheet
from parametric_wall.export.records import shown
from parametric_wall.job.resolve import JobSpec


class FindingRecord(TypedDict):
    """One finding. standing says how far its source can be trusted."""

    code: str
    grade: str
    where: str
    message: str
    value: float | None
    limit: float | None
    unit: str
    why: str
    next: str
    ask: str
    source: str
    standing: str


class LookedAtRecord(TypedDict):
    """One check that was made, and what it covers."""

    name: str
    covers: str


class FigureRecord(TypedDict):
    """One figure of a calculation; assumed where nobody gave it and a default stands for it."""

    symbol: str
    name: str
    value: float
    unit: str
    source: str
    assumed: bool


class UseRecord(TypedDict):
    """How far something is used up; no ratio where, as its state says, nothing resists."""

    name: str
    effect: float
    resistance: float
    unit: str
    ratio: float | None
    state: State
    source: str
    where: str


class CalculationRecord(TypedDict):
    """One calculation of one wall."""

    code: str
    title: str
    where: str
    given: list[FigureRecord]
    steps: list[FigureRecord]
    uses: list[UseRecord]
    beside: list[str]
    not_counted: list[str]
    source: str


class SiteCheckRecord(TypedDict):
    """One row of the sheet to check the wall by on site."""

    where: str
    what: str
    how: str
    value: str
    allowed: str
    source: str
    standing: str


class FindingsRecord(TypedDict):
    """The file findings.json."""

    job: str
    title: str
    stops: bool
    note: str
    looked_at: list[LookedAtRecord]
    findings: list[FindingRecord]
    calculations: list[CalculationRecord]
    check_sheet: list[SiteCheckRecord]


NOTE = (
    "These checks do not say that a wall is safe. They name what they looked at; local rules and "
    "a professional's judgement come first."
)


def findings_record(spec: JobSpec, findings: tuple[Finding, ...]) -> FindingsRecord:
    """The findings of a job, and what they rest on."""
    return {
        "job": spec.name,
        "title": spec.job.title,
        "stops": stops(findings),
        "note": NOTE,
        "looked_at": [{"name": name, "covers": covers} for name, covers in looked_at()],
        "findings": [_finding(f) for f in findings],
        "calculations": [_calculation(c) for c in calculations(spec)],
        "check_sheet": [
            {
                "where": row.where,
                "what": row.what,
                "how": row.how,
                "value": row.value,
                "allowed": row.allowed,
                "source": row.source,
                "standing": row.standing,
            }
            for row in check_sheet(spec)
        ],
    }


def _finding(f: Finding) -> FindingRecord:
    return {
        "code": f.code,
        "grade": f.grade.value,
        "where": f.where,
        "message": f.message,
        "value": f.value,
        "limit": f.limit,
        "unit": f.unit,
        "why": f.meaning.why,
        "next": f.next,
        "ask": f.meaning.ask,
        "source": f.source,
        "standing": f.standing,
    }


def _calculation(found: Calculation) -> CalculationRecord:
    return {
        "code": found.code,
        "title": found.title,
        "where": found.where,
        "given": [_figure(f) for f in found.given],
        "steps": [_figure(f) for f in found.steps],
        "uses": [
            {
                "name": use.name,
                "effect": shown(use.effect),
                "resistance": shown(use.resistance),
                "unit": use.unit,
                "ratio": shown(use.ratio) if use.state != "no resistance" else None,
                "state": use.state,
                "source": use.source,
                "where": use.where,
            }
            for use in found.uses
        ],
        "beside": list(found.beside),
        "not_counted": list(found.not_counted),
        "source": found.source,
    }


def _figure(figure: Figure) -> FigureRecord:
    return {
        "symbol": figure.symbol,
        "name": figure.name,
        "value": shown(figure.value),
        "unit": figure.unit,
        "source": figure.source,
        "assumed": figure.assumed,
    }
