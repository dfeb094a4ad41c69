"""The proof that the quantities are right: four columns that came by different ways.

1 closed form: from the job alone. 2 counted: from the placed pieces. 3 solid: the
kernel's measure of the model, and of the STEP file read back. 4 mesh: the glTF file
by component and the STL file in all, read back in their own units.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from parametric_wall.geometry import TOLERANCE, Slab
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import VOIDS, Kind, SettingOut
from parametric_wall.solid.model import Model
from parametric_wall.solid.shapes import solid_of, volume_of
from parametric_wall.takeoff.closed_form import closed_form
from parametric_wall.takeoff.components import COMPONENTS, SPLIT
from parametric_wall.takeoff.counted import counted, trench, voids
from parametric_wall.verify.envelope import envelopes
from parametric_wall.verify.gap import gap
from parametric_wall.verify.joined import join
from parametric_wall.verify.measure import measure_model
from parametric_wall.verify.measured import KINDS, Measured, displaced
from parametric_wall.verify.overlap import overlap


@dataclass(frozen=True, slots=True)
class Row:
    """One component by every way it was found, in mm3; None where that way cannot know it.

    Attributes:
        component: what.
        closed: by the closed form.
        counted: from the placed pieces.
        solid: measured by the kernel on the model.
        step: measured by the kernel on the STEP file read back.
        mesh: measured on the glTF file read back; in the total, see `stl`.
        stl: measured on the STL file read back, in the total only.
        rounding: mm3 by which the meshes' 24-bit coordinates may change the volume.
    """

    component: str
    closed: float | None = None
    counted: float | None = None
    solid: float | None = None
    step: float | None = None
    mesh: float | None = None
    stl: float | None = None
    rounding: float = 0.0

    @property
    def agrees(self) -> bool:
        """Whether every way gives the same, within the kernel's and the files' own digits."""
        exact = [v for v in (self.closed, self.counted, self.solid, self.step) if v is not None]
        rounded = [v for v in (self.mesh, self.stl) if v is not None]
        size = max(map(abs, exact), default=0.0)
        near = TOLERANCE.kernel * size
        return all(abs(v - exact[0]) <= near for v in exact) and all(
            abs(v - exact[0]) <= near + self.rounding for v in rounded
        )


@dataclass(frozen=True, slots=True)
class FileMeasures:
    """What was read back from the written files; None for a format that was not written."""

    step: Measured | None = None
    glb: Mapping[Kind, float] | None = None
    glb_rounding: Mapping[Kind, float] = field(default_factory=dict)
    stl: float | None = None
    stl_rounding: float = 0.0
    misplaced: tuple[str, ...] = ()

    @property
    def step_volumes(self) -> Mapping[Kind, float] | None:
        """Of the STEP file, mm3 by kind."""
        return None if self.step is None else self.step.volumes


@dataclass(frozen=True, slots=True)
class Proof:
    """The whole proof.

    Attributes:
        rows: a row a component, the kinds that have no closed form, and the total.
        overlap_mm3: the most that any two pieces, or a layer's pieces, share.
        clashes: which pieces, at most ten.
        gap_mm3: the most that a layer lacks of its envelope, or has outside it.
        misplaced: pieces that a file holds elsewhere than the model.
    """

    rows: tuple[Row, ...]
    overlap_mm3: float
    clashes: tuple[str, ...]
    gap_mm3: float
    misplaced: tuple[str, ...]

    @property
    def agrees(self) -> bool:
        """Whether everything agrees, nothing overlaps, nothing is left open, all is in place."""
        most = TOLERANCE.overlap_mm3
        filled = self.overlap_mm3 <= most and self.gap_mm3 <= most
        return all(r.agrees for r in self.rows) and filled and not self.misplaced


def prove(spec: JobSpec, laid: SettingOut, model: Model, files: FileMeasures) -> Proof:
    """Hold every way of getting the quantities against the others."""
    measured = measure_model(model)
    joined = join(model)
    shared = overlap(model, joined)
    left = gap(model, envelopes(spec), joined)
    clashes = tuple(f"{c.one} and {c.other}: {c.volume:.0f} mm3" for c in shared.clashes[:10])
    return Proof(
        rows(spec, laid, measured, files),
        shared.worst,
        clashes,
        left.worst,
        files.misplaced,
    )


def rows(
    spec: JobSpec, laid: SettingOut, measured: Measured, files: FileMeasures
) -> tuple[Row, ...]:
    """The table of the proof."""
    ways: _Ways = (_counted(laid), measured.volumes, files.step_volumes, files.glb)
    closed = _closed(spec, laid)
    built = [c for c in COMPONENTS if c.kinds]
    found = [_row(c.name, c.kinds, ways, files, closed.get(c.name, 0.0)) for c in built]
    found += [_row(f"of these, {kind}s", (kind,), ways, files, None) for kind in SPLIT]
    total = _row("total in the model", KINDS, ways, files, sum(closed[c.name] for c in built))
    rounding = total.rounding + files.stl_rounding
    found.append(replace(total, stl=files.stl, rounding=rounding))
    dug = sum(trench(s, w) for s, w in zip(spec.walls, laid.walls, strict=True))
    found.insert(1, Row("trench", closed.get("trench", 0.0), dug, _trench_solid(spec, laid)))
    return tuple(r for r in found if r.closed or r.counted or r.solid)


_Volumes = Mapping[Kind, float]
_Ways = tuple[_Volumes, _Volumes, _Volumes | None, _Volumes | None]


def _row(
    name: str, kinds: Iterable[Kind], ways: _Ways, files: FileMeasures, closed: float | None
) -> Row:
    """One row: what each way found for some kinds."""
    kinds = tuple(kinds)
    count, solid, step, mesh = (None if way is None else _sum(way, kinds) for way in ways)
    rounding = _sum(files.glb_rounding, kinds)
    return Row(name, closed, count, solid, step, mesh, rounding=rounding)


def _sum(values: Mapping[Kind, float], kinds: Iterable[Kind]) -> float:
    return sum(values.get(k, 0.0) for k in kinds)


def _closed(spec: JobSpec, laid: SettingOut) -> dict[str, float]:
    """Closed forms of all walls; the open perps, which only the bond knows, taken off."""
    total = dict.fromkeys((c.name for c in COMPONENTS), 0.0)
    for wall, placed in zip(spec.walls, laid.walls, strict=True):
        for name, volume in closed_form(wall).items():
            total[name] += volume
        total["blocks and perps"] -= voids(placed)
    return total


def _counted(laid: SettingOut) -> dict[Kind, float]:
    total = dict.fromkeys(KINDS, 0.0)
    for wall in laid.walls:
        for kind, volume in counted(wall).items():
            total[kind] += volume
    return {kind: volume for kind, volume in total.items() if kind not in VOIDS}


def _trench_solid(spec: JobSpec, laid: SettingOut) -> float:
    """The kernel's volume of the trench: each footing's plan, up to ground level."""
    found = 0.0
    for wall, placed in zip(spec.walls, laid.walls, strict=True):
        for piece in placed.pieces:
            if piece.kind == "footing" and isinstance(piece.shape, Slab) and wall.footing:
                plan = piece.shape
                deep = plan.thickness + wall.footing.below_ground_mm
                found += volume_of(solid_of(Slab(plan.outline, plan.holes, deep)))
    return found


def read_back(paths: Mapping[str, Path], model: Model | None = None) -> FileMeasures:
    """Measure written files, by suffix; with the model, see that every piece is in its place."""
    step = glb = stl = None
    wrong: dict[str, str] = {}
    asked = measure_model(model) if model is not None else None
    if ".step" in paths:
        from parametric_wall.verify.measure_step import measure_step

        step = measure_step(paths[".step"])
        if asked is not None:
            wrong |= {f"STEP {k}": v for k, v in displaced(asked, step).items()}
    if ".glb" in paths:
        from parametric_wall.verify.measure_glb import measure_glb

        glb = measure_glb(paths[".glb"])
        if asked is not None and glb.measured.pieces.keys() == asked.pieces.keys():
            moved = displaced(asked, glb.measured, 2 * glb.displacement, glb.shifts)
            wrong |= {f"glTF {k}": v for k, v in moved.items()}
    if ".stl" in paths:
        from parametric_wall.verify.measure_stl import measure_stl

        stl = measure_stl(paths[".stl"])
    return FileMeasures(
        step=step,
        glb=None if glb is None else glb.measured.volumes,
        glb_rounding={} if glb is None else glb.rounding,
        stl=None if stl is None else stl.volume,
        stl_rounding=0.0 if stl is None else stl.rounding,
        misplaced=tuple(f"{k}: {v}" for k, v in wrong.items()),
    )
