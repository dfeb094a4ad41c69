"""What the ground, the water and the neighbours make of a wall."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.model import Abutment
from parametric_wall.job.resolve import WallSpec
from parametric_wall.reference.tables import limit
from parametric_wall.setting_out.courses import weep_course
from parametric_wall.setting_out.model import WallSetOut
from parametric_wall.setting_out.runs import runs_of


def site_findings(spec: WallSpec, wall: WallSetOut) -> Iterator[Finding]:
    """Digging, water, long panels, existing walls."""
    yield from _ground(spec)
    yield from _water(spec)
    yield from _panels(spec, wall)
    yield from _neighbours(spec)


def _panels(spec: WallSpec, wall: WallSetOut) -> Iterator[Finding]:
    """Runs, or the panels they are divided into, longer than the usual spacing of joints."""
    most = limit("blockwork_movement_joint")
    runs = runs_of(spec)
    if spec.movement is not None:
        runs = tuple(one.run for one in wall.bonded) + tuple(one.run for one in wall.unbonded)
    for run in runs:
        if run.length > most:
            where = f"{spec.name}/{run.name}"
            text = f"{run.length / 1000:.2f} m without a movement joint"
            yield Finding("long-panel", Grade.LOOK, where, text, run.length, most, "mm")


def _ground(spec: WallSpec) -> Iterator[Finding]:
    """Footing and trench."""
    dug = 0.0
    if spec.footing is not None:
        spread, depth = spec.footing.spread_mm, spec.footing.depth_mm
        dug = depth - spec.gauge.base
        least = max(spread, limit("footing_projection_thickness"))
        if depth < least:
            text = f"{depth:.0f} thick for a spread of {spread:.0f}"
            yield Finding("footing-thin", Grade.LOOK, spec.name, text, depth, least, "mm")
    if spec.fill is not None:
        dug = max(dug, -spec.fill.base_level_mm)
    if dug > (most := limit("trench_depth")):
        text = f"dug {dug:.0f} below ground"
        yield Finding("deep-trench", Grade.LOOK, spec.name, text, dug, most, "mm")


def _water(spec: WallSpec) -> Iterator[Finding]:
    """Damp-proof course, weep holes, drainage."""
    if spec.dpc is not None:
        level, least = spec.gauge.course_base(spec.dpc.under_course), limit("dpc_height")
        if level < least - TOLERANCE.coincident:
            text = f"{level:.0f} above ground" if level >= 0 else f"{-level:.0f} below ground"
            yield Finding("dpc-low", Grade.KNOW, spec.name, text, level, least, "mm")
    if spec.fill is not None and spec.weeps is None:
        yield Finding("planter-drainage", Grade.LOOK, spec.name, "no weep holes are given")
    if spec.weeps is not None and spec.weeps.spacing_mm > (most := limit("weep_spacing")):
        text = f"every {spec.weeps.spacing_mm:.0f}"
        yield Finding(
            "weep-spacing", Grade.LOOK, spec.name, text, spec.weeps.spacing_mm, most, "mm"
        )
    if spec.fill is not None and spec.weeps is not None:
        yield from _weeps(spec, spec.fill.base_level_mm + spec.fill.drainage_mm)


def _weeps(spec: WallSpec, drained: float) -> Iterator[Finding]:
    """Whether water in a planter reaches the weep holes; it is drained up to a level."""
    level, eps = spec.gauge.course_base(weep_course(spec)), TOLERANCE.coincident
    text = f"the weeps' course starts at {level:.0f}"
    if spec.soil_top <= level + eps:
        text += f", and the soil ends at {spec.soil_top:.0f}: they drain nothing"
    elif level > drained + eps:
        text += f", the drainage layer ends at {drained:.0f}: water stands below them"
    else:
        return
    yield Finding("weeps-miss-drainage", Grade.LOOK, spec.name, text, level, drained, "mm")


def _neighbours(spec: WallSpec) -> Iterator[Finding]:
    """The ends that meet an existing wall, called as the job file calls them."""
    if spec.path.closed:
        return
    ends = [("start", spec.path.start), ("end", spec.path.end)]
    if spec.path.turned:
        ends = [("start", spec.path.end), ("end", spec.path.start)]
    for name, end in ends:
        if isinstance(end, Abutment):
            fixing = "no fixing" if end.fixing == "none" else end.fixing
            text = f"at its {name}: {end.joint} joint, {fixing}"
            yield Finding("fixing-to-existing", Grade.KNOW, spec.name, text)
