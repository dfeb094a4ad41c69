"""The sheet to check the wall by on site: what, how, the figure, and what it may be out by."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from parametric_wall.checks.site import LEAN, abutments
from parametric_wall.job.path import LEFT
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.reference import tolerances
from parametric_wall.reference.tables import limit, limits
from parametric_wall.reference.tolerances import tolerance

JOB = ("job file", "computed")
PRACTICE = ("common practice", "common practice")
LEVEL = "bubble between its lines"


@dataclass(frozen=True, slots=True)
class SiteCheck:
    """One thing to check on site.

    Attributes:
        where: the wall.
        what: is checked.
        how: it is measured.
        value: what it has to be; empty where there is no figure.
        allowed: what it may be, or be out by.
        source: of what is allowed.
        standing: how far that can be trusted.
    """

    where: str
    what: str
    how: str
    value: str
    allowed: str
    source: str
    standing: str


def check_sheet(spec: JobSpec) -> tuple[SiteCheck, ...]:
    """Every row for every wall of a job, in the order of the work."""
    return tuple(
        SiteCheck(wall.name, *row)
        for wall in spec.walls
        for part in (_ground, _plan, _masonry, _top)
        for row in part(wall)
    )


Row = tuple[str, str, str, str, str, str]


def _row(what: str, how: str, value: str, name: str, note: str = "") -> Row:
    """A row whose tolerance stands in the table."""
    allowed = tolerance(name)
    over = "" if allowed.over is None else f" in any {allowed.over / 1000:g} m"
    out = f"{allowed.value:g} either way{note or over}"
    return what, how, value, out, allowed.source, allowed.standing


def _ground(spec: WallSpec) -> Iterator[Row]:
    if spec.footing is None:
        how = (
            "look and tap: cracks, hollows, rocking slabs, edges, drains; a level along and across"
        )
        yield "existing base", how, f"top at {spec.gauge.base:.0f}", "sound and level", *PRACTICE
    else:
        deep, thick = -spec.underside, spec.footing.depth_mm
        how = "tape from a line at ground level, every metre and in the corners"
        yield "depth of the trench", how, f"{deep:.0f}", f"not less than {deep:.0f}", *JOB
        how = "from pegs to the trench's bottom before the pour"
        yield "thickness of the footing", how, f"{thick:.0f}", f"not less than {thick:.0f}", *JOB
        how = "long level on the concrete, along and across, before it sets"
        yield "top of the footing", how, f"{spec.gauge.base:.0f} from ground", LEVEL, *PRACTICE
    for name, _ in abutments(spec):
        row = limits()["lean_half"]
        how = "plumb line from its top, both faces"
        yield f"existing wall at its {name}", how, "plumb", LEAN, row.source, row.standing


def _plan(spec: WallSpec) -> Iterator[Row]:
    for number, length in zip(spec.path.numbers, spec.path.lengths, strict=True):
        yield _row(f"length of r{number}", "tape along the outer face", f"{length:g}", "position")
    lengths, turns = spec.path.lengths, spec.path.turns
    if spec.path.closed and len(lengths) == 4 and set(turns) == {LEFT}:
        yield _diagonals(*sorted(lengths[:2]))
    corners = [(lengths[i], lengths[(i + 1) % len(lengths)]) for i in range(len(turns))]
    for short, long in dict.fromkeys((min(pair), max(pair)) for pair in corners):
        square = tolerances.three_four_five(short, long)
        if square is not None:
            a, b, c = square
            what = f"corner between {short:g} and {long:g}"
            how = f"{a:g} along the shorter leg, {b:g} along the longer, then across"
            yield what, how, f"{c:g}", "square", "3-4-5", "computed"


def _diagonals(a: float, b: float) -> Row:
    out = tolerance("racking")
    longer, shorter = tolerances.racked_diagonals(a, b, out.value)
    text = f"equal; {out.value:g} out of square shows as {longer:.1f} and {shorter:.1f}"
    how = "tape from corner to corner, both ways, on the outer faces"
    return "diagonals", how, f"{tolerances.diagonal(a, b):.1f}", text, out.source, out.standing


def _masonry(spec: WallSpec) -> Iterator[Row]:
    gauge, lap = spec.gauge, spec.rules.min_lap
    rod = " / ".join(f"{mark:.1f}" for mark in gauge.gauges)
    beds = min(8, gauge.courses)
    how = f"gauge rod marked {rod}; average of {beds} beds"
    yield _row("bed joints", how, f"{gauge.bed:.1f}", "bed_from_average", " of the average")
    tall = gauge.finished - gauge.base
    plumb, how = f"{tall:.0f} high", "plumb line or long level, at ends, corners and every 2 m"
    for name in tolerances.verticality_names(tall):
        yield _row("verticality", how, plumb, name, " over its height")
    longest = max(spec.path.lengths)
    straight, how = f"up to {longest:g} long", "line along the face, end to end of each run"
    for name in tolerances.straightness_names(longest):
        over = tolerance(name).over
        note = " over its length" if over is not None and longest <= over else ""
        yield _row("straightness", how, straight, name, note)
    yield _row("thickness", "callipers or tape at the ends", f"{spec.thickness:g}", "thickness")
    how = "long level on each course, along it and across it"
    yield "level of the courses", how, "level", LEVEL, *PRACTICE
    how = "tape from perp to the perp below, every course"
    source, standing = "BS EN 1996-1-1, 8.1.4.1(3), or the job file", "from memory"
    yield "lap", how, "as set out", f"not less than {lap:.0f}", source, standing
    low, high = limit("joint_min"), limit("joint_max")
    row = limits()["joint_min"]
    how = "tape; then look along the face from an end"
    text = f"{low:g} to {high:g}, none drifting the same way"
    yield "perps", how, f"{spec.joints.perp_mm:g}", text, row.source, row.standing


def _top(spec: WallSpec) -> Iterator[Row]:
    if spec.coping is not None:
        lay, advised = spec.coping, limits()["coping_overhang"]
        value = f"{lay.front:.0f} in front, {lay.back:.0f} behind"
        text = f"the same all along; {advised.value:g} or more is advised"
        how = "tape under the coping, both sides"
        yield "overhang of the copings", how, value, text, advised.source, advised.standing
    finished = f"{spec.gauge.finished:.0f} above ground"
    how = "gauge rod from the footing, at ends and corners"
    yield "finished height", how, finished, "as marked on the rod", *JOB
