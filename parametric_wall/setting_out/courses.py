"""The courses of a wall: every block, bed and perp of it, placed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from parametric_wall.geometry import TOLERANCE, Bar, End, Placement, rectangle
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.bond import Course
from parametric_wall.setting_out.corners import BondedRun
from parametric_wall.setting_out.model import Kind, Piece


def course_pieces(spec: WallSpec, runs: tuple[BondedRun, ...]) -> Iterator[Piece]:
    """Every piece of every course, from the bottom up, run by run, from the left."""
    weeping = weep_course(spec)
    for number in range(1, spec.gauge.courses + 1):
        for laid in runs:
            yield from _run_course(spec, laid, number, open_perps=number == weeping)


def weep_course(spec: WallSpec) -> int:
    """The lowest course that stands wholly above ground; 0 where weeps are not asked for.

    Where even the last course starts below ground, that is the one.
    """
    if spec.weeps is None:
        return 0
    levels = (spec.gauge.course_base(n) for n in range(1, spec.gauge.courses + 1))
    above = (n for n, z in enumerate(levels, 1) if z >= -TOLERANCE.coincident)
    return next(above, spec.gauge.courses)


def _run_course(
    spec: WallSpec, laid: BondedRun, number: int, *, open_perps: bool
) -> Iterator[Piece]:
    run, course, gauge = laid.run, laid.bond.courses[number - 1], spec.gauge
    z, height = gauge.course_base(number), gauge.block_height(number)
    prefix = f"{spec.name}/{run.name}/c{number:02d}"

    def piece(name: str, kind: Kind, a: float, b: float, up: float, height: float) -> Piece:
        shape = Bar(rectangle(run.thickness, height), End(0.0), End(b - a))
        at = Placement(a, 0.0, z + up).then(run.place)
        return Piece(f"{prefix}/{name}", kind, spec.name, run.number, number, shape, at)

    bed = run.span(*course.span.meets, spec.joints.perp_mm)
    yield piece("bed", "bed", *bed, 0.0, gauge.bed)
    for i, ((at, length), whole) in enumerate(
        zip(course.placed(), course.are_whole, strict=True), 1
    ):
        block = piece(f"{i:02d}", "block", at, at + length, gauge.bed, height)
        yield replace(block, cut=not whole, length=length)
    weeps = _weeps(spec, course) if open_perps else frozenset()
    for name, left in _joints(course):
        kind: Kind = "weep" if name in weeps else "perp"
        yield piece(name, kind, left, left + course.joint, gauge.bed, height)
    if run.start == "movement" and not run.inner[0]:
        yield piece("f00", "filler", run.core[0], bed[0], 0.0, gauge.bed + height)
    if run.end == "movement":
        yield piece("f01", "filler", bed[1], run.core[1] + run.joint, 0.0, gauge.bed + height)


def _joints(course: Course) -> Iterator[tuple[str, float]]:
    """Perps of a course: name and left edge.

    The joint after piece 3 is p03; the one before the first piece is p00.
    """
    before, after = course.span.jointed
    if before:
        yield "p00", course.span.start
    last = len(course.pieces)
    for i, (at, length) in enumerate(course.placed(), 1):
        if i < last or after:
            yield f"p{i:02d}", at + length


def _weeps(spec: WallSpec, course: Course) -> frozenset[str]:
    """Names of the perps left open: the furthest one within each spacing.

    Only perps between two blocks of the run are left open, not those at corners
    and ends.
    """
    if spec.weeps is None or spec.weeps.kind != "open perps":
        return frozenset()
    chosen: list[str] = []
    last, _ = course.span.clear(course.joint)
    previous: tuple[str, float] | None = None
    for i, (at, length) in enumerate(course.placed(), 1):
        here = (f"p{i:02d}", at + length)
        if previous is not None and here[1] - last > spec.weeps.spacing_mm:
            chosen.append(previous[0])
            last = previous[1]
        previous = here if i < len(course.pieces) else previous
    if not chosen and previous is not None:
        chosen.append(previous[0])
    return frozenset(chosen)
