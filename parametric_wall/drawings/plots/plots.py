"""Which sheets show which calculation."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from parametric_wall.checks.calculation import Calculation
from parametric_wall.checks.sections import code_of, sections
from parametric_wall.drawings.plots.bearing import bearing_sheet
from parametric_wall.drawings.plots.pressure import pressure_sheet
from parametric_wall.drawings.plots.utilisation import utilisation_sheet
from parametric_wall.drawings.sheet import Sheet
from parametric_wall.job.resolve import JobSpec, WallSpec

Plot = Callable[[JobSpec, WallSpec, Calculation], tuple[Sheet, ...]]


def _pressure(_: JobSpec, spec: WallSpec, found: Calculation) -> tuple[Sheet, ...]:
    return tuple(pressure_sheet(spec, s) for s in sections(spec) if code_of(s) == found.code)


def _wind(job: JobSpec, spec: WallSpec, found: Calculation) -> tuple[Sheet, ...]:
    wind = job.job.wind
    return () if wind is None else (utilisation_sheet(spec, wind, job.job.masonry, found.beside),)


PLOTS: dict[str, Plot] = {
    "bearing": lambda _, spec, found: (bearing_sheet(spec, found),),
    "retaining-foot": _pressure,
    "retaining-footing": _pressure,
    "wind": _wind,
}
"""By the calculation's code; a code that is not here has no plot."""


def sheets(job: JobSpec, found: Calculation) -> tuple[Sheet, ...]:
    """The sheets of one calculation, named by its code and place, numbered from the second on.

    No wall's name has an underscore: no two sheets of a job have one name.
    """
    if found.code not in PLOTS:
        return ()
    spec = next(wall for wall in job.walls if wall.name == found.wall)
    name = f"{found.code}-{found.where.replace('/', '_')}"
    return tuple(
        replace(sheet, name=name if i == 1 else f"{name}_{i}")
        for i, sheet in enumerate(PLOTS[found.code](job, spec, found), 1)
    )
