"""What a page needs to show a job: every shape once, and where the pieces of it stand.

The axes are those of the longest run: x along its front face, y to its back, z up from the
ground. Lengths in mm, to a tenth: what nobody can see only makes the file longer.
"""

from __future__ import annotations

from typing_extensions import TypedDict

from parametric_wall.drawings.still import tones
from parametric_wall.export.faces import faces_of
from parametric_wall.export.surroundings import (
    BoxRecord,
    GroundRecord,
    SizeRecord,
    existing_walls,
    front_of,
    ground,
    main_sizes,
    person,
    seen,
    tenth,
)
from parametric_wall.geometry import Bar, Placement, Shape
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.model import VOIDS, Kind, Piece, SettingOut
from parametric_wall.units import mass_kg

TONES: dict[Kind, tuple[tones.Rgb, ...]] = {
    "footing": (tones.CONCRETE,),
    "block": tones.STONES,
    "bed": (tones.MORTAR,),
    "perp": (tones.MORTAR,),
    "filler": (tones.FILLER,),
    "coping bed": (tones.MORTAR,),
    "coping joint": (tones.COPING_JOINT,),
    "coping": tones.COPINGS,
    "drainage": (tones.FILLER,),
    "soil": (tones.SOIL,),
}
"""As the still picture has them: both stand on one page."""

PieceRow = tuple[int, float, float, float, float, int, str, int, float]
"""Number of its shape; x, y, z and heading; step; id; 1 where it is cut; length."""


class ShapeRecord(TypedDict):
    """One distinct shape of one kind."""

    kind: Kind
    size: str
    mass_kg: float | None
    points: list[float]
    faces: list[list[list[int]]]


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
    front = front_of(spec)
    steps = _Steps(spec, laid)
    shapes: dict[tuple[Kind, Shape, float], int] = {}
    pieces: list[PieceRow] = []
    for wall, placed in zip(spec.walls, laid.walls, strict=True):
        for piece in placed.pieces:
            if piece.kind not in VOIDS:
                key = (piece.kind, piece.shape, _density(wall, piece.kind))
                at = seen(front, piece.at.then(placed.place))
                number = shapes.setdefault(key, len(shapes))
                pieces.append(_row(piece, number, at, steps.of(wall, piece)))
    records = [_shape(*key) for key in shapes]
    around = ground(spec, laid, front)
    existing = [box for wall in spec.walls for box in existing_walls(wall, front)]
    return {
        "colours": {kind: [_hex(tone) for tone in TONES[kind]] for kind, _, _ in shapes},
        "steps": steps.names,
        "shapes": records,
        "pieces": pieces,
        "ground": around,
        "existing": existing,
        "sizes": [size for wall in spec.walls for size in main_sizes(wall, front)],
        "person": person(around),
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


def _density(wall: WallSpec, kind: Kind) -> float:
    """kg/m3 of a block or a coping; 0 of what has none in the job."""
    if kind == "block":
        return wall.block.density_kg_m3
    if kind == "coping" and wall.coping is not None:
        return wall.coping.coping.density_kg_m3
    return 0.0


def _row(piece: Piece, shape: int, at: Placement, step: int) -> PieceRow:
    x, y, z, turn = (tenth(v) for v in (at.x, at.y, at.z, at.heading_deg))
    return (shape, x, y, z, turn, step, piece.id, int(piece.cut), tenth(piece.length))


def _shape(kind: Kind, shape: Shape, density: float) -> ShapeRecord:
    body = faces_of(shape)
    return {
        "kind": kind,
        "size": _size(shape),
        "mass_kg": tenth(mass_kg(shape.volume, density)) if density else None,
        "points": [tenth(v) for point in body.points for v in point],
        "faces": [[list(ring) for ring in face] for face in body.faces],
    }


def _size(shape: Shape) -> str:
    """Over all, mm, for people."""
    along, across = zip(*shape.plan(), strict=True)
    sizes = (max(along) - min(along), max(across) - min(across), shape.height)
    mitred = isinstance(shape, Bar) and (shape.start.per_u != 0 or shape.end.per_u != 0)
    return " × ".join(f"{v:.0f}" for v in sizes) + " mm" + (", mitred" if mitred else "")


def _hex(rgb: tones.Rgb) -> str:
    return "#" + "".join(f"{v:02x}" for v in rgb)
