"""What water makes of a wall, and what an existing wall does that it meets."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.model import Abutment
from parametric_wall.job.resolve import WallSpec
from parametric_wall.reference.tables import limit
from parametric_wall.setting_out.courses import weep_course

LEAN = "advice is needed where it leans by more than " + ", ".join(
    f"{limit(f'lean_{row}'):.0f} ({name})"
    for row, name in (("half", "1/2 brick"), ("one", "1 brick"), ("one_and_half", "1 1/2 brick"))
)


def water_findings(spec: WallSpec) -> Iterator[Finding]:
    """Damp-proof courses, weep holes, drainage."""
    if spec.coping is not None:
        text = "none lies under the coping in this job"
        yield Finding("coping-dpc", Grade.KNOW, spec.name, text)
    yield from _water(spec)


def _water(spec: WallSpec) -> Iterator[Finding]:
    if spec.dpc is not None:
        text = f"under course {spec.dpc.under_course}"
        yield Finding("dpc-slip-plane", Grade.KNOW, spec.name, text)
        level, least = spec.gauge.course_base(spec.dpc.under_course), limit("dpc_height")
        if level < least - TOLERANCE.coincident:
            text = f"{level:.0f} above ground" if level >= 0 else f"{-level:.0f} below ground"
            yield Finding("dpc-low", Grade.KNOW, spec.name, text, level, least, "mm")
    if spec.fill is not None and spec.weeps is None:
        yield Finding("planter-drainage", Grade.LOOK, spec.name, "no weep holes are given")
    elif spec.holds_soil and spec.fill is None:
        yield from _drained_behind(spec)
    if spec.weeps is not None and spec.weeps.spacing_mm > (most := limit("weep_spacing")):
        text = f"every {spec.weeps.spacing_mm:.0f}"
        yield Finding(
            "weep-spacing", Grade.LOOK, spec.name, text, spec.weeps.spacing_mm, most, "mm"
        )
    if spec.fill is not None and spec.weeps is not None:
        yield from _weeps(spec, spec.fill.base_level_mm + spec.fill.drainage_mm)


def _drained_behind(spec: WallSpec) -> Iterator[Finding]:
    """Whether water behind an open wall has a way out."""
    assert spec.soil is not None
    strip = spec.soil.drainage_strip_mm > 0
    text = {
        (False, False): "no weep holes and no drainage strip are given",
        (False, True): "no weep holes are given",
        (True, False): "no drainage strip is given",
        (True, True): "",
    }[spec.weeps is not None, strip]
    if text:
        yield Finding("retaining-drainage", Grade.LOOK, spec.name, text)
    level = spec.gauge.course_base(weep_course(spec))
    if spec.weeps is not None and spec.soil_top <= level + TOLERANCE.coincident:
        text = (
            f"the weeps' course starts at {level:.0f}, and the soil ends at "
            f"{spec.soil_top:.0f}: they drain nothing"
        )
        yield Finding(
            "weeps-miss-drainage", Grade.LOOK, spec.name, text, level, spec.soil_top, "mm"
        )


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


def existing_findings(spec: WallSpec) -> Iterator[Finding]:
    """The ends that meet an existing wall."""
    for name, end in abutments(spec):
        fixing = "no fixing" if end.fixing == "none" else end.fixing
        text = f"at its {name}: {end.joint} joint, {fixing}; {LEAN}"
        yield Finding("fixing-to-existing", Grade.KNOW, spec.name, text)


def abutments(spec: WallSpec) -> Iterator[tuple[str, Abutment]]:
    """The ends that meet an existing wall, called as the job file calls them."""
    if spec.path.closed:
        return
    ends = [("start", spec.path.start), ("end", spec.path.end)]
    if spec.path.turned:
        ends = [("start", spec.path.end), ("end", spec.path.start)]
    yield from ((name, end) for name, end in ends if isinstance(end, Abutment))
