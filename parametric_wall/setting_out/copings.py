"""The copings of a wall: their lengths, their joints and their bed, placed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from parametric_wall.geometry import TOLERANCE, Bar, End, Placement
from parametric_wall.job.coping import CopingLay
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.along import Stretch, clearance, fill
from parametric_wall.setting_out.bond import Course
from parametric_wall.setting_out.coping_ends import (
    CopingEnd,
    corner_bed,
    end_of,
    start_of,
)
from parametric_wall.setting_out.model import Kind, Piece
from parametric_wall.setting_out.runs import Run

WIDEN_STEPS = 5
"""How often the clearance is halved towards the greatest that needs no more cuts."""


@dataclass(frozen=True, slots=True)
class CopedRun:
    """The copings of one run.

    Attributes:
        run: the run.
        start: its left end.
        end: its right end.
        origin: where the first piece begins, along the run, mm.
        lengths: of the pieces over all, from the left, mm; empty where none fit.
        clearance: least distance of a joint from a perp below, mm.
        cuts: pieces that are not whole, mitred ones included.
    """

    run: Run
    start: CopingEnd
    end: CopingEnd
    origin: float
    lengths: tuple[float, ...]
    clearance: float
    cuts: int


def _span(face: End, lay: CopingLay) -> tuple[float, float]:
    """Least and greatest s of an end's plane over the section."""
    values = [face.at + face.per_u * u for u in lay.reach()]
    return min(values), max(values)


def cope(lay: CopingLay, run: Run, below: Course) -> CopedRun:
    """Choose the copings of a run over the course below them."""
    start, end = start_of(run, lay, below.joint), end_of(run, lay, below.joint)
    a_low, a_high = _span(start.face, lay)
    b_low, b_high = _span(end.face, lay)
    mitred = (start.face.per_u != 0, end.face.per_u != 0)
    shoulder = lay.min_cut / 2  # No sliver on the short side of a mitred piece.
    stretch = Stretch(
        length=b_high - a_low,
        unit=lay.coping.length_mm,
        joint=lay.coping.joint_mm,
        least=lay.min_cut,
        first=a_high - a_low + shoulder if mitred[0] else lay.min_cut,
        last=b_high - b_low + shoulder if mitred[1] else lay.min_cut,
        square=(not mitred[0], not mitred[1]),
    )
    lengths: tuple[float, ...] = ()
    if b_low - a_high >= shoulder or not any(mitred):
        lengths = _clear_of(stretch, lay.clear, a_low, below)
    joints = _joint_edges(a_low, lengths, stretch.joint)
    clear = clearance(joints, stretch.joint, list(below.perps), below.joint)
    whole = [x >= stretch.unit - TOLERANCE.coincident for x in lengths]
    if lengths:
        whole[0] &= not mitred[0]
        whole[-1] &= not mitred[1]
    return CopedRun(run, start, end, a_low, lengths, clear, whole.count(False))


def _clear_of(stretch: Stretch, wanted: float, origin: float, below: Course) -> tuple[float, ...]:
    """The fewest cuts at the clearance wanted, then the greatest clearance that needs no more.

    Where the clearance cannot be had, the greatest that can.
    """

    def at(clear: float) -> tuple[float, ...]:
        zones = tuple(
            (p - origin - clear - stretch.joint, p - origin + below.joint + clear)
            for p in below.perps
        )
        return fill(stretch, zones)

    def cuts(lengths: tuple[float, ...]) -> int:
        return sum(x < stretch.unit - TOLERANCE.coincident for x in lengths)

    best = at(wanted)
    if best and len(best) == 1:
        return best
    low, high = (wanted, stretch.unit / 2) if best else (0.0, wanted)
    if not best:
        best = at(0.0)
        if not best:
            return fill(stretch, ())
    for _ in range(WIDEN_STEPS):
        middle = (low + high) / 2
        tried = at(middle)
        if tried and cuts(tried) <= cuts(best) and len(tried) <= len(best):
            best, low = tried, middle
        else:
            high = middle
    return best


def _joint_edges(origin: float, lengths: tuple[float, ...], joint: float) -> list[float]:
    edges = []
    at = origin
    for length in lengths[:-1]:
        edges.append(at + length)
        at += length + joint
    return edges


def coping_pieces(spec: WallSpec, coped: tuple[CopedRun, ...]) -> Iterator[Piece]:
    """Beds, copings and joints of every run, from the left."""
    for laid in coped:
        yield from _run_pieces(spec, laid)


def _run_pieces(spec: WallSpec, laid: CopedRun) -> Iterator[Piece]:
    lay, run, bed = spec.coping, laid.run, spec.gauge.bed
    assert lay is not None
    course = spec.gauge.courses + 1
    section, joint_section = lay.section(bed), lay.joint_section(bed)
    prefix = f"{spec.name}/{run.name}/cop"

    def piece(
        name: str,
        kind: Kind,
        outline: tuple[tuple[float, float], ...],
        start: End,
        end: End,
        cut: bool = False,
        length: float = 0.0,
    ) -> Piece:
        shape = Bar(outline, End(0.0, start.per_u), End(end.at - start.at, end.per_u))
        at = Placement(start.at, 0.0, spec.gauge.masonry_top).then(run.place)
        return Piece(
            f"{prefix}/{name}", kind, spec.name, run.number, course, shape, at, cut, length
        )

    yield piece("bed", "coping bed", lay.bed_section(bed), laid.start.bed, laid.end.bed)
    if laid.start.joint == "movement":
        yield piece("f00", "filler", lay.bed_section(bed), laid.start.joint_face, laid.start.bed)
    if laid.end.joint == "movement":
        yield piece("f01", "filler", lay.bed_section(bed), laid.end.bed, laid.end.joint_face)
    corner = corner_bed(run, lay)
    if corner is not None:
        s0, s1, u0, u1 = corner
        outline = ((u0, 0.0), (u1, 0.0), (u1, lay.underside(u1, bed)), (u0, lay.underside(u0, bed)))
        yield piece("bed-corner", "coping bed", outline, End(s0), End(s1))
    last = len(laid.lengths)
    edges = _joint_edges(laid.origin, laid.lengths, lay.coping.joint_mm)
    starts = [laid.start.face, *(End(e + lay.coping.joint_mm) for e in edges)]
    ends = [*(End(e) for e in edges), laid.end.face]
    if laid.start.joint != "none":
        kind: Kind = "filler" if laid.start.joint == "movement" else "coping joint"
        yield piece("j00", kind, joint_section, laid.start.joint_face, laid.start.face)
    for i, (a, b, length) in enumerate(zip(starts, ends, laid.lengths, strict=True), 1):
        whole = length >= lay.coping.length_mm - TOLERANCE.coincident
        cut = not whole or a.per_u != 0 or b.per_u != 0
        yield piece(f"{i:02d}", "coping", section, a, b, cut, length)
        if i < last:
            yield piece(f"j{i:02d}", "coping joint", joint_section, b, starts[i])
    if laid.end.joint != "none":
        kind = "filler" if laid.end.joint == "movement" else "coping joint"
        yield piece(f"j{last:02d}", kind, joint_section, laid.end.face, laid.end.joint_face)
