"""A run as it is seen from in front of its outer face: s to the right, z up, mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from parametric_wall.geometry import TOLERANCE, Bar, Placement, Point, direction
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.model import Kind, Piece, WallSetOut
from parametric_wall.setting_out.runs import Run, runs_of

EPS = TOLERANCE.coincident


@dataclass(frozen=True, slots=True)
class Face:
    """What is seen of one piece.

    Attributes:
        mark: its id, as short as its elevation allows.
        kind: what it is.
        course: its course.
        at: where its axes stand: left edge and lowest level, s and z.
        outline: from there, anticlockwise.
        arris: a line on it, from there, where its top is seen as well; else empty.
        cut: whether it was cut from a larger unit.
        end: whether it is the end of a piece of the run round the corner.
        length: as in the cut list.
    """

    mark: str
    kind: Kind
    course: int
    at: Point
    outline: tuple[Point, ...]
    arris: tuple[Point, ...]
    cut: bool
    end: bool
    length: float

    @property
    def span(self) -> tuple[float, float]:
        """Its left and its right edge."""
        xs = [x for x, _ in self.outline]
        return self.at[0] + min(xs), self.at[0] + max(xs)

    @property
    def rise(self) -> tuple[float, float]:
        """Its lowest and its highest level."""
        zs = [z for _, z in self.outline]
        return self.at[1] + min(zs), self.at[1] + max(zs)


def whole_run(spec: WallSpec, number: int) -> Run:
    """A run before it is divided into panels."""
    return next(run for run in runs_of(spec) if run.number == number)


def beside(spec: WallSpec, run: Run, step: int) -> Run | None:
    """The run that leads into another (step -1), or the one after it (1); None at an open end."""
    runs = runs_of(spec)
    other = run.index + step
    if not spec.path.closed and not 0 <= other < len(runs):
        return None
    return runs[other % len(runs)]


def faces(spec: WallSpec, wall: WallSetOut, run: Run) -> tuple[Face, ...]:
    """Every block, coping, weep and filler of a run, and the ends of what goes past its corners."""
    own = [_own(piece, run) for piece in wall.pieces if piece.run == run.number]
    ends = [face for step in (-1, 1) for face in _ends(spec, wall, run, step)]
    return tuple(face for face in (*own, *ends) if face is not None)


def _own(piece: Piece, run: Run) -> Face | None:
    if piece.kind not in ("block", "coping", "weep", "filler"):
        return None
    assert isinstance(piece.shape, Bar)
    s, _ = _within(run.place, piece.at)
    outline, arris = _front(piece.shape)
    left, low = min(x for x, _ in outline), min(z for _, z in outline)
    outline = tuple((x - left, z - low) for x, z in outline)
    arris = tuple((x - left, z - low) for x, z in arris)
    at = s + left, piece.at.z + low
    return Face(
        short(piece), piece.kind, piece.course, at, outline, arris, piece.cut, False, piece.length
    )


def short(piece: Piece) -> str:
    """A piece's id without its wall and run; with the letter of its panel in a divided run."""
    _, run, *rest = piece.id.split("/")
    panel = run.lstrip("r0123456789")
    return "/".join([panel, *rest] if panel else rest)


def _within(outer: Placement, at: Placement) -> Point:
    """A place in the axes of a run: along it and behind its face."""
    c, s = direction(outer.heading_deg)
    x, y = at.x - outer.x, at.y - outer.y
    return c * x + s * y, c * y - s * x


def _front(bar: Bar) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """The outline of a bar seen from the front, and its front upper arris where its top is seen.

    A section begins at its front lower arris and goes round anticlockwise.
    """
    low, high, back = bar.section[0], bar.section[-1], bar.section[-2]

    def edge(point: Point) -> tuple[Point, Point]:
        u, z = point
        return (bar.start.at + bar.start.per_u * u, z), (bar.end.at + bar.end.per_u * u, z)

    (a, b), (d, c), (f, e) = edge(low), edge(high), edge(back)
    if back[1] > high[1] + EPS:
        return (a, b, c, e, f, d), (d, c)
    return (a, b, c, d), ()


def _ends(spec: WallSpec, wall: WallSetOut, run: Run, step: int) -> Iterator[Face]:
    """End faces, flush with the run's own face, of what goes through its convex corners."""
    corner = run.start if step < 0 else run.end
    other = beside(spec, run, step)
    if corner != "convex" or other is None:
        return
    for piece in wall.pieces:
        if piece.run == other.number and piece.kind in ("block", "coping"):
            face = _end(piece, run, step)
            if face is not None:
                yield face


def _end(piece: Piece, run: Run, step: int) -> Face | None:
    """The end of one piece of a run round a convex corner, where it comes to the face or past it.

    The run before comes towards whoever stands in front, with its front to the left; the
    one after goes away, with its front to the right.
    """
    assert isinstance(piece.shape, Bar)
    bar = piece.shape
    plane = bar.end if step < 0 else bar.start
    s, u = _within(run.place, piece.at)
    behind = u - plane.at if step < 0 else u + plane.at
    if plane.per_u != 0 or behind > EPS:
        return None
    hand = 1.0 if step < 0 else -1.0
    points = tuple((hand * x, z) for x, z in bar.section)
    left, low = min(x for x, _ in points), min(z for _, z in points)
    outline = tuple((x - left, z - low) for x, z in points)
    at = s + left, piece.at.z + low
    return Face(short(piece), piece.kind, piece.course, at, outline, (), piece.cut, True, 0.0)
