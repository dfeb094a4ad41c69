"""What is written for other programs beside the models: JSON.

The same records give the JSON schemas. Lengths in mm, volumes in m3.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any, NotRequired

from typing_extensions import TypedDict

from parametric_wall.export.joint_records import JointRecord, joint_records
from parametric_wall.geometry import Bar, Placement, Point
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.setting_out.model import Piece, SettingOut, WallSetOut

SHOWN_DIGITS = 6
"""Digits after the point in the files: a millionth of a mm."""


class PieceRecord(TypedDict):
    """One placed piece, on the site.

    A bar has the points of its section at its left end, then at its right end; a level
    slab has its outline and its holes instead.
    """

    id: str
    kind: str
    wall: str
    run: int
    course: int
    cut: bool
    length_mm: float
    corners_mm: list[list[float]] | None
    plan_mm: list[list[list[float]]] | None
    z_mm: list[float]


class RunRecord(TypedDict):
    """How one run is bonded and coped."""

    wall: str
    run: int
    name: str
    length_mm: float
    start: str
    end: str
    perp_mm: float
    course_perps_mm: NotRequired[list[float]]
    smallest_lap_mm: float | None
    wish_missed_courses: int
    courses_mm: list[list[float]]
    copings_mm: list[float]
    coping_clearance_mm: float | None


class LevelRecord(TypedDict):
    """Levels of one wall above ground; no one gauge where its courses differ in height."""

    wall: str
    courses: int
    bed_mm: float
    gauge_mm: float | None
    block_heights_mm: NotRequired[list[float]]
    base_mm: float
    masonry_top_mm: float
    finished_mm: float


class SettingOutRecord(TypedDict):
    """The file setting-out.json."""

    job: str
    title: str
    levels: list[LevelRecord]
    runs: list[RunRecord]
    movement_joints: list[JointRecord]
    pieces: list[PieceRecord]


def setting_out_record(spec: JobSpec, laid: SettingOut) -> SettingOutRecord:
    """Every piece, run and level of a job."""
    walls = list(zip(spec.walls, laid.walls, strict=True))
    return {
        "job": spec.name,
        "title": spec.job.title,
        "levels": [_level(w) for w in spec.walls],
        "runs": [r for w, placed in walls for r in _runs(w, placed)],
        "movement_joints": [j for w, placed in walls for j in joint_records(w, placed)],
        "pieces": [_piece(p, placed.place) for _, placed in walls for p in placed.pieces],
    }


def _level(spec: WallSpec) -> LevelRecord:
    g = spec.gauge
    level: LevelRecord = {
        "wall": spec.name,
        "courses": g.courses,
        "bed_mm": shown(g.bed),
        "gauge_mm": shown(g.gauges[0]) if len(g.gauges) == 1 else None,
        "base_mm": shown(g.base),
        "masonry_top_mm": shown(g.masonry_top),
        "finished_mm": shown(g.finished),
    }
    if len(g.gauges) > 1:
        level["block_heights_mm"] = [shown(height) for height in g.heights]
    return level


def _runs(spec: WallSpec, placed: WallSetOut) -> Iterator[RunRecord]:
    coped = {c.run.name: c for c in placed.coped}
    for laid in placed.bonded:
        run, lap = laid.run, laid.bond.lap
        coping = coped.get(run.name)
        clear = coping.clearance if coping and coping.clearance < float("inf") else None
        record: RunRecord = {
            "wall": spec.name,
            "run": run.number,
            "name": run.name,
            "length_mm": shown(run.length),
            "start": run.start,
            "end": run.end,
            "perp_mm": shown(laid.bond.courses[0].joint),
            "smallest_lap_mm": shown(lap) if lap < float("inf") else None,
            "wish_missed_courses": laid.bond.misses,
            "courses_mm": [[shown(x) for x in c.pieces] for c in laid.bond.courses],
            "copings_mm": [shown(x) for x in coping.lengths] if coping else [],
            "coping_clearance_mm": None if clear is None else shown(clear),
        }
        perps = [shown(c.joint) for c in laid.bond.courses]
        if len(set(perps)) > 1:
            record["course_perps_mm"] = perps
        yield record


def _piece(piece: Piece, place: Placement) -> PieceRecord:
    at = piece.at.then(place)
    shape = piece.shape
    corners = plan = None
    if isinstance(shape, Bar):
        corners = [[shown(v) for v in at.point(*p)] for end in shape.corners() for p in end]
        levels = [z for _, z in shape.section]
    else:
        plan = [_ring(ring, at) for ring in (shape.outline, *shape.holes)]
        levels = [0.0, shape.thickness]
    return {
        "id": piece.id,
        "kind": piece.kind,
        "wall": piece.wall,
        "run": piece.run,
        "course": piece.course,
        "cut": piece.cut,
        "length_mm": shown(piece.length),
        "corners_mm": corners,
        "plan_mm": plan,
        "z_mm": [shown(at.z + min(levels)), shown(at.z + max(levels))],
    }


def _ring(ring: tuple[Point, ...], at: Placement) -> list[list[float]]:
    return [[shown(v) for v in at.point(*p)[:2]] for p in ring]


def shown(value: float) -> float:
    """A number as the files have it."""
    return round(value, SHOWN_DIGITS) + 0.0  # No minus zero.


def json_bytes(record: Any) -> bytes:
    """A record as JSON text, the same bytes for the same record."""
    return (json.dumps(record, ensure_ascii=False, allow_nan=False) + "\n").encode("utf-8")
