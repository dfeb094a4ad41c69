"""The copings of a wall: their lengths, their joints and their bed, placed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from parametric_wall.geometry import TOLERANCE, Bar, End, Placement, Point
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

Section = tuple[Point, ...]

SHORT_ROW = 8
"""Copings in a row that is seen as a whole."""
WIDEN_STEPS = 5
"""How often the clearance is halved towards the greatest that needs no more cuts."""
NEAR_STEP, NEAR_MOST = 10, 300
"""How finely, and how far, a length is looked for that a row of copings fits, mm."""


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


def _stretch(lay: CopingLay, start: CopingEnd, end: CopingEnd) -> tuple[float, Stretch, bool]:
    """Where the copings between two ends begin, the length to fill, and whether there is room."""
    a_low, a_high = _span(start.face, lay)
    b_low, b_high = _span(end.face, lay)
    mitred = (start.face.per_u != 0, end.face.per_u != 0)
    shoulder = lay.shoulder
    stretch = Stretch(
        length=b_high - a_low,
        unit=lay.coping.length_mm,
        joint=lay.coping.joint_mm,
        least=lay.min_cut,
        first=a_high - a_low + shoulder if mitred[0] else lay.min_cut,
        last=b_high - b_low + shoulder if mitred[1] else lay.min_cut,
        square=(not mitred[0], not mitred[1]),
    )
    room = b_low - a_high >= shoulder or not any(mitred)
    return a_low, stretch, room


def cope(lay: CopingLay, run: Run, below: Course, moving: float) -> CopedRun:
    """Choose the copings of a run over the course below; a movement joint is `moving` mm wide."""
    start, end = start_of(run, lay, moving), end_of(run, lay, moving)
    origin, stretch, room = _stretch(lay, start, end)
    lengths = _clear_of(stretch, lay.clear, origin, below) if room else ()
    joints = _joint_edges(origin, lengths, stretch.joint)
    clear = clearance(joints, stretch.joint, list(below.perps), below.joint)
    whole = [x >= stretch.unit - TOLERANCE.coincident for x in lengths]
    if lengths:
        whole[0] &= stretch.square[0]
        whole[-1] &= stretch.square[1]
    return CopedRun(run, start, end, origin, lengths, clear, whole.count(False))


def near_lengths(lay: CopingLay, run: Run, perp: float) -> tuple[float, ...]:
    """The nearest shorter and the nearest longer length of a run that a row of copings fits, mm.

    Where its joints come to stand over the perps is left aside, as it is where a run
    is coped that nothing else fits.
    """

    def fits(length: float) -> bool:
        if length <= 0:
            return False
        sized = replace(run, length=length)
        _, stretch, room = _stretch(lay, start_of(sized, lay, perp), end_of(sized, lay, perp))
        return room and bool(fill(stretch, ()))

    steps = range(NEAR_STEP, NEAR_MOST + 1, NEAR_STEP)
    shorter = next((run.length - x for x in steps if fits(run.length - x)), None)
    longer = next((run.length + x for x in steps if fits(run.length + x)), None)
    return tuple(x for x in (shorter, longer) if x is not None)


def _clear_of(stretch: Stretch, wanted: float, origin: float, below: Course) -> tuple[float, ...]:
    """The fewest cuts at the clearance wanted, then the greatest clearance that needs no more.

    A short row that is the same from both ends comes first. Where the clearance cannot
    be had, the greatest that can.
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
    even = _even(stretch, len(best)) if best else ()
    if even and cuts(even) <= cuts(best):
        joints = _joint_edges(origin, even, stretch.joint)
        if clearance(joints, stretch.joint, list(below.perps), below.joint) >= wanted:
            return even
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


def _even(stretch: Stretch, count: int) -> tuple[float, ...]:
    """Whole units between two equal ends; none where the row is long or its ends differ."""
    inner = (count - 2) * stretch.unit + (count - 1) * stretch.joint
    end = (stretch.length - inner) / 2
    least = max(stretch.first, stretch.last)
    alike = stretch.square[0] == stretch.square[1]
    if not alike or not 2 <= count <= SHORT_ROW or not least <= end <= stretch.unit:
        return ()
    return (end, *(stretch.unit,) * (count - 2), end)


def _joint_edges(origin: float, lengths: tuple[float, ...], joint: float) -> list[float]:
    edges = []
    at = origin
    for length in lengths[:-1]:
        edges.append(at + length)
        at += length + joint
    return edges


def coping_pieces(spec: WallSpec, coped: tuple[CopedRun, ...]) -> Iterator[Piece]:
    """Beds, copings and joints of every run, from the left; nothing where no row fits."""
    for laid in coped:
        if laid.lengths:
            yield from _beds(spec, laid)
            yield from _row(spec, laid)


def _piece(
    spec: WallSpec, laid: CopedRun, name: str, kind: Kind, outline: Section, ends: tuple[End, End]
) -> Piece:
    """A section over the last course of a run, between two planes."""
    start, end = ends
    shape = Bar(outline, End(0.0, start.per_u), End(end.at - start.at, end.per_u))
    at = Placement(start.at, 0.0, spec.gauge.masonry_top).then(laid.run.place)
    number, course = laid.run.number, spec.gauge.courses + 1
    id_ = f"{spec.name}/{laid.run.name}/cop/{name}"
    return Piece(id_, kind, spec.name, number, course, shape, at)


def _beds(spec: WallSpec, laid: CopedRun) -> Iterator[Piece]:
    """The bed on the wall, with the filler that goes on up beside it, and the bed at a corner."""
    lay, bed, start, end = spec.coping, spec.gauge.bed, laid.start, laid.end
    assert lay is not None
    section = lay.bed_section(bed)
    yield _piece(spec, laid, "bed", "coping bed", section, (start.bed, end.bed))
    if start.joint == "movement":
        yield _piece(spec, laid, "f00", "filler", section, (start.joint_face, start.bed))
    if end.joint == "movement":
        yield _piece(spec, laid, "f01", "filler", section, (end.bed, end.joint_face))
    corner = corner_bed(laid.run, lay)
    if corner is not None:
        s0, s1, u0, u1 = corner
        top = (u1, lay.underside(u1, bed)), (u0, lay.underside(u0, bed))
        under = ((u0, 0.0), (u1, 0.0), *top)
        yield _piece(spec, laid, "bed-corner", "coping bed", under, (End(s0), End(s1)))


def _row(spec: WallSpec, laid: CopedRun) -> Iterator[Piece]:
    """Copings and their joints; the joint after piece 3 is j03, the one before the first j00."""
    lay, start, end = spec.coping, laid.start, laid.end
    assert lay is not None
    # The joint has the coping's own section, so that the drip stays open.
    section, joint = lay.section(spec.gauge.bed), lay.coping.joint_mm
    edges = _joint_edges(laid.origin, laid.lengths, joint)
    starts = [start.face, *(End(e + joint) for e in edges)]
    ends = [*(End(e) for e in edges), end.face]
    if start.joint != "none":
        yield _piece(spec, laid, "j00", _kind(start), section, (start.joint_face, start.face))
    for i, (a, b, length) in enumerate(zip(starts, ends, laid.lengths, strict=True), 1):
        whole = length >= lay.coping.length_mm - TOLERANCE.coincident
        cut = not whole or a.per_u != 0 or b.per_u != 0
        coping = _piece(spec, laid, f"{i:02d}", "coping", section, (a, b))
        yield replace(coping, cut=cut, length=length)
        if i < len(ends):
            yield _piece(spec, laid, f"j{i:02d}", "coping joint", section, (b, starts[i]))
    if end.joint != "none":
        name = f"j{len(ends):02d}"
        yield _piece(spec, laid, name, _kind(end), section, (end.face, end.joint_face))


def _kind(end: CopingEnd) -> Kind:
    return "filler" if end.joint == "movement" else "coping joint"
