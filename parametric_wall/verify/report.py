"""The proof as a record for verification.json, and read back from it. Volumes in m3."""

from __future__ import annotations

from typing import Any

from typing_extensions import TypedDict

from parametric_wall.digest import digest_of
from parametric_wall.geometry import TOLERANCE
from parametric_wall.units import MM3_PER_M3, cubic_metres
from parametric_wall.verify.proof import Proof, Row


class RowRecord(TypedDict):
    """One component by every way it was found, in m3."""

    component: str
    closed_form_m3: float | None
    counted_m3: float | None
    solid_m3: float | None
    step_m3: float | None
    mesh_m3: float | None
    stl_m3: float | None
    mesh_rounding_m3: float
    agrees: bool


class FileRecord(TypedDict):
    """One written file and its digest."""

    name: str
    sha256: str


class ProofRecord(TypedDict):
    """The file verification.json."""

    job: str
    title: str
    agrees: bool
    rows: list[RowRecord]
    overlap_mm3: float
    clashes: list[str]
    gap_mm3: float
    misplaced: list[str]
    tolerance_relative: float
    tolerance_overlap_mm3: float
    files: list[FileRecord]
    digest: str


COLUMNS = {
    "closed_form_m3": "closed",
    "counted_m3": "counted",
    "solid_m3": "solid",
    "step_m3": "step",
    "mesh_m3": "mesh",
    "stl_m3": "stl",
}
"""Columns of the record and the row's own names."""


def proof_record(name: str, title: str, proof: Proof, files: list[FileRecord]) -> ProofRecord:
    """The proof as it is written, with a digest over all of it."""
    record: dict[str, Any] = {
        "job": name,
        "title": title,
        "agrees": proof.agrees,
        "rows": [row_record(r) for r in proof.rows],
        "overlap_mm3": proof.overlap_mm3,
        "clashes": list(proof.clashes),
        "gap_mm3": proof.gap_mm3,
        "misplaced": list(proof.misplaced),
        "tolerance_relative": TOLERANCE.kernel,
        "tolerance_overlap_mm3": TOLERANCE.overlap_mm3,
        "files": files,
    }
    record["digest"] = digest_of(record)
    return record  # type: ignore[return-value]


def row_record(row: Row) -> RowRecord:
    """A row as it is written, in m3."""
    values: dict[str, Any] = {"component": row.component}
    for column, name in COLUMNS.items():
        value = getattr(row, name)
        values[column] = None if value is None else cubic_metres(value)
    values["mesh_rounding_m3"] = cubic_metres(row.rounding)
    values["agrees"] = row.agrees
    return values  # type: ignore[return-value]


def row_of(record: RowRecord) -> Row:
    """A row read back from the record, in mm3."""
    values = {
        name: None if record[column] is None else record[column] * MM3_PER_M3  # type: ignore[literal-required]
        for column, name in COLUMNS.items()
    }
    rounding = record["mesh_rounding_m3"] * MM3_PER_M3
    return Row(record["component"], **values, rounding=rounding)
