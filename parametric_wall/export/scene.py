"""What a page needs to show a job: every shape once, and where the pieces of it stand.

The axes are those of the longest run: x along its front face, y to its back, z up from the
ground. Lengths in mm, to a tenth: what nobody can see only makes the file longer.
"""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Polygon, unary_union
from shapely.geometry.polygon import orient
from typing_extensions import TypedDict

from parametric_wall.export.faces import faces_of
from parametric_wall.geometry import FULL_TURN_DEG, Bar, Placement, Point, Shape, Slab, direction
from parametric_wall.job.model import Abutment
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.model import VOIDS, Kind, Piece, SettingOut
from parametric_wall.setting_out.runs import Run, runs_of
from parametric_wall.solid.colours import TINTS, Rgb
from parametric_wall.units import mass_kg

PIT = 180.0
"""mm of ground taken away beside a footing that is shown."""
BED_BELOW = 130.0
"""mm of ground drawn under the lowest piece."""
BESIDE = 560.0
"""mm that a person stands beside everything, existing walls included."""
DIMENSION_OFF = 240.0
"""mm from a face to the line of its size."""
EXISTING_THICK, EXISTING_BEFORE, EXISTING_BEHIND, EXISTING_OVER = 215.0, 60.0, 500.0, 350.0
"""mm: how thick an existing wall is drawn, how far past the new one's faces, how much higher."""

PieceRow = tuple[int, float, float, float, float, int, str, int, float]
"""Number of its shape; x, y, z and heading; step; id; 1 where it is cut; length."""


class ShapeRecord(TypedDict):
    """One distinct shape of one kind."""

    kind: Kind
    size: str
    mass_kg: float | None
    points: list[float]
    faces: list[list[list[int]]]


class GroundRecord(TypedDict):
    """The ground: its rectangle, how deep it is drawn, and what is dug out for footings."""

    low: float
    rectangle: list[float]
    pits: list[list[list[float]]]
    pit_low: float


class BoxRecord(TypedDict):
    """An upright box: a corner, its heading, and its sizes along, across and up."""

    at: list[float]
    size: list[float]


class SizeRecord(TypedDict):
    """A size to be drawn: from where to where, and which way its line stands off."""

    name: str
    text: str
    start: list[float]
    end: list[float]
    off: list[float]


class SceneRecord(TypedDict):
    """All of it."""

    colours: dict[Kind, list[str]]
    steps: list[str]
    shapes: list[ShapeRecord]
    pieces: list[PieceRow]
    ground: GroundRecord
    existing: list[BoxRecord]
    sizes: list[SizeRecord]
    person: list[float]


def scene_record(spec: JobSpec, laid: SettingOut) -> SceneRecord:
    """A job as a page shows it.

    Args:
        spec: the job.
        laid: its setting-out; not one that a finding stops, for it may have no pieces.
    """
    front = _front(spec)
    steps = _Steps(spec, laid)
    shapes: dict[tuple[Kind, Shape, float], int] = {}
    pieces: list[PieceRow] = []
    for wall, placed in zip(spec.walls, laid.walls, strict=True):
        for piece in placed.pieces:
            if piece.kind not in VOIDS:
                key = (piece.kind, piece.shape, _density(wall, piece.kind))
                at = _seen(front, piece.at.then(placed.place))
                number = shapes.setdefault(key, len(shapes))
                pieces.append(_row(piece, number, at, steps.of(wall, piece)))
    records = [_shape(*key) for key in shapes]
    existing = [box for wall in spec.walls for box in _existing(wall, front)]
    return {
        "colours": {kind: [_hex(tint) for tint in TINTS[kind]] for kind, _, _ in shapes},
        "steps": steps.names,
        "shapes": records,
        "pieces": pieces,
        "ground": _ground(spec, laid, front),
        "existing": existing,
        "sizes": [size for wall in spec.walls for size in _sizes(wall, front)],
        "person": _person(spec, laid, front),
    }


class _Steps:
    """In which step a piece is laid: the footing, the courses, the copings, the fill."""

    def __init__(self, spec: JobSpec, laid: SettingOut) -> None:
        last = max(wall.gauge.courses for wall in spec.walls)
        self.ranks = {"coping": last + 1, "fill": last + 2}
        used = {
            self._rank(wall, piece)
            for wall, placed in zip(spec.walls, laid.walls, strict=True)
            for piece in placed.pieces
        }
        self.order = {rank: i for i, rank in enumerate(sorted(used))}
        named = {0: "Footing", last + 1: "Copings", last + 2: "Soil"}
        self.names = [named.get(rank, f"Course {rank}") for rank in self.order]

    def _rank(self, wall: WallSpec, piece: Piece) -> int:
        if piece.kind in ("drainage", "soil"):
            return self.ranks["fill"]
        return self.ranks["coping"] if piece.course > wall.gauge.courses else piece.course

    def of(self, wall: WallSpec, piece: Piece) -> int:
        return self.order[self._rank(wall, piece)]


def _front(spec: JobSpec) -> Placement:
    """The axes of the job's longest run, on the site."""
    longest = max(
        ((length, place, wall) for wall in spec.walls for length, place in _runs(wall)),
        key=lambda found: found[0],
    )
    _, place, wall = longest
    return place.then(wall.place)


def _runs(wall: WallSpec) -> Iterator[tuple[float, Placement]]:
    return zip(wall.path.lengths, wall.path.placements(), strict=True)


def _seen(front: Placement, at: Placement) -> Placement:
    """A placement on the site, seen from the front's axes."""
    c, s = direction(front.heading_deg)
    x, y = at.x - front.x, at.y - front.y
    turn = (at.heading_deg - front.heading_deg) % FULL_TURN_DEG
    return Placement(c * x + s * y, c * y - s * x, at.z - front.z, turn)


def _density(wall: WallSpec, kind: Kind) -> float:
    """kg/m3 of a block or a coping; 0 of what has none in the job."""
    if kind == "block":
        return wall.block.density_kg_m3
    if kind == "coping" and wall.coping is not None:
        return wall.coping.coping.density_kg_m3
    return 0.0


def _row(piece: Piece, shape: int, at: Placement, step: int) -> PieceRow:
    x, y, z, turn = (_tenth(v) for v in (at.x, at.y, at.z, at.heading_deg))
    return (shape, x, y, z, turn, step, piece.id, int(piece.cut), _tenth(piece.length))


def _shape(kind: Kind, shape: Shape, density: float) -> ShapeRecord:
    body = faces_of(shape)
    return {
        "kind": kind,
        "size": _size(shape),
        "mass_kg": _tenth(mass_kg(shape.volume, density)) if density else None,
        "points": [_tenth(v) for point in body.points for v in point],
        "faces": [[list(ring) for ring in face] for face in body.faces],
    }


def _size(shape: Shape) -> str:
    """Over all, mm, for people."""
    along, across = zip(*shape.plan(), strict=True)
    sizes = (max(along) - min(along), max(across) - min(across), shape.height)
    mitred = isinstance(shape, Bar) and (shape.start.per_u != 0 or shape.end.per_u != 0)
    return " × ".join(f"{v:.0f}" for v in sizes) + " mm" + (", mitred" if mitred else "")


def _existing(wall: WallSpec, front: Placement) -> Iterator[BoxRecord]:
    """The walls that an open end meets, as far as they are near: a sketch."""
    first, *_, last = (*runs_of(wall), runs_of(wall)[-1])
    low = wall.gauge.base - (wall.footing.depth_mm if wall.footing else 0.0)
    wide = EXISTING_BEFORE + wall.thickness + EXISTING_BEHIND
    size = [EXISTING_THICK, wide, wall.gauge.finished + EXISTING_OVER - low]
    ends = ((first, -EXISTING_THICK, wall.path.start), (last, last.length, wall.path.end))
    for run, s, end in ends:
        if isinstance(end, Abutment):
            x, y, _ = run.place.point(s, -EXISTING_BEFORE)
            at = Placement(x, y, low, run.place.heading_deg)
            yield {"at": _place(_seen(front, at.then(wall.place))), "size": _tenths(size)}


def _ground(spec: JobSpec, laid: SettingOut, front: Placement) -> GroundRecord:
    plans = [
        _plan(piece.shape, _seen(front, piece.at.then(placed.place)))
        for placed in laid.walls
        for piece in placed.pieces
    ]
    around = unary_union(plans).bounds
    dug = [
        _plan(piece.shape, _seen(front, piece.at.then(placed.place))).buffer(
            PIT, join_style="mitre"
        )
        for placed in laid.walls
        for piece in placed.pieces
        if piece.kind == "footing"
    ]
    lows = [
        wall.gauge.base - (wall.footing.depth_mm if wall.footing else 0.0) for wall in spec.walls
    ]
    low = min(0.0, *lows, *(wall.fill.base_level_mm for wall in spec.walls if wall.fill))
    return {
        "low": _tenth(low - BED_BELOW),
        "rectangle": _tenths(around),
        "pits": [_rings(pit) for pit in _parts(unary_union(dug))],
        "pit_low": _tenth(min(0.0, *lows)),
    }


def _plan(shape: Shape, at: Placement) -> Polygon:
    holes = shape.holes if isinstance(shape, Slab) else ()
    rings = [[at.point(*p)[:2] for p in ring] for ring in (shape.plan(), *holes)]
    return Polygon(rings[0], rings[1:])


def _parts(found: object) -> list[Polygon]:
    parts = getattr(found, "geoms", [found])
    return [p for p in parts if isinstance(p, Polygon) and not p.is_empty]


def _rings(polygon: Polygon) -> list[list[float]]:
    """The outline and then the holes, each as x, y, x, y ..."""
    clean = orient(polygon)
    rings = (clean.exterior, *clean.interiors)
    return [[_tenth(v) for point in list(ring.coords)[:-1] for v in point] for ring in rings]


def _sizes(wall: WallSpec, front: Placement) -> Iterator[SizeRecord]:
    """Each run's length along its outer face, and the height at the left end of the longest."""
    runs = runs_of(wall)
    off = DIMENSION_OFF + (max(0.0, wall.coping.front) if wall.coping else 0.0)
    for run in runs:
        yield _size_record(
            wall, front, run, "length", run.length, ((0, 0, 0), (run.length, 0, 0)), (0, -off)
        )
    run = max(runs, key=lambda r: r.length)
    top = wall.gauge.finished
    stands = (-off, 0.0) if run.start in ("stop", "convex") else (0.0, -off)
    upright = ((0, 0, 0), (0, 0, top))
    yield _size_record(wall, front, run, "height", top, upright, stands)


def _size_record(
    wall: WallSpec,
    front: Placement,
    run: Run,
    name: str,
    value: float,
    ends: tuple[tuple[float, float, float], tuple[float, float, float]],
    off: Point,
) -> SizeRecord:
    at = _seen(front, run.place.then(wall.place))
    c, s = direction(at.heading_deg)
    start, end = (_tenths(at.point(*p)) for p in ends)
    return {
        "name": f"{wall.name} {run.name}: {name}",
        "text": f"{value:.1f}".removesuffix(".0") if name == "length" else f"{value:.0f}",
        "start": start,
        "end": end,
        "off": _tenths((c * off[0] - s * off[1], s * off[0] + c * off[1], 0.0)),
    }


def _person(spec: JobSpec, laid: SettingOut, front: Placement) -> list[float]:
    """Where somebody stands for scale: to the left of everything, at the back."""
    x, _, _, y = _ground(spec, laid, front)["rectangle"]
    return _tenths((x - BESIDE, y - PIT))


def _place(at: Placement) -> list[float]:
    return _tenths((at.x, at.y, at.z, at.heading_deg))


def _tenths(values: tuple[float, ...] | list[float]) -> list[float]:
    return [_tenth(v) for v in values]


def _tenth(value: float) -> float:
    """To a tenth of a mm; a whole number without its point."""
    shown = round(value, 1) + 0.0
    return int(shown) if shown == int(shown) else shown


def _hex(rgb: Rgb) -> str:
    return "#" + "".join(f"{round(v * 255):02x}" for v in rgb)
