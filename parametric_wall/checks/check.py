"""Checks a whole job: the one door to this room."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.bonding import bond_findings
from parametric_wall.checks.coping_checks import coping_findings
from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.checks.limits import building_findings, height_findings
from parametric_wall.checks.plan import plan_findings
from parametric_wall.checks.site import site_findings
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import SettingOut

CAUTIONS = ("buried-services", "wet-mortar", "dust-and-saws", "local-rules")
"""They stand on every job."""

ORDER = tuple(reversed(Grade))


def check(spec: JobSpec, laid: SettingOut) -> tuple[Finding, ...]:
    """Every finding of a job, the gravest first, the standing cautions last."""
    found = sorted(_findings(spec, laid), key=lambda f: ORDER.index(f.grade))
    return (*found, *(Finding(code, Grade.KNOW, "", _title(code)) for code in CAUTIONS))


def _title(code: str) -> str:
    return Finding(code, Grade.KNOW, "", "").meaning.title


def _findings(spec: JobSpec, laid: SettingOut) -> Iterator[Finding]:
    for wall, set_out in zip(spec.walls, laid.walls, strict=True):
        yield from height_findings(wall, spec.job.designed_by)
        yield from building_findings(wall)
        yield from site_findings(wall, set_out)
        yield from bond_findings(wall, set_out)
        if not set_out.unbonded:
            yield from coping_findings(wall, set_out)
    yield from plan_findings(spec)
