"""Draws a job into a folder: its sheets as SVG and as one PDF, its views as DXF."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from typing_extensions import TypedDict

from parametric_wall.digest import sha256
from parametric_wall.export.records import json_bytes
from parametric_wall.pack.folder import DRAWINGS, staged, write

if TYPE_CHECKING:
    from parametric_wall.drawings.sheet import Sheet
    from parametric_wall.drawings.view import Page, View
    from parametric_wall.job.resolve import JobSpec
    from parametric_wall.setting_out.model import SettingOut


FRAME = "frame"
"""The view that is no drawing of the wall."""


class FileRecord(TypedDict):
    """One file, and the digest of its bytes."""

    name: str
    sha256: str


class SheetRecord(TypedDict):
    """One sheet: its file and its size on paper; 1:20 is 20."""

    name: str
    title: str
    told: str
    file: str
    width_mm: float
    height_mm: float
    scales: list[float]


class DrawingsRecord(TypedDict):
    """The file drawings.json."""

    job: str
    title: str
    sheets: list[SheetRecord]
    files: list[FileRecord]


@dataclass(frozen=True, slots=True)
class Drawn:
    """What was drawn.

    Attributes:
        record: as drawings.json has it.
        files: names of what was written.
        removed: names of older drawings in the folder that were removed and not made again.
    """

    record: DrawingsRecord
    files: tuple[str, ...]
    removed: tuple[str, ...]


def draw(spec: JobSpec, laid: SettingOut, folder: Path) -> Drawn:
    """Draw a job into a folder: all of it or nothing.

    Args:
        spec: the job.
        laid: its setting-out.
        folder: where the drawings go.

    Raises:
        OutputError: they cannot be written; older ones are untouched.
    """
    removed: list[str] = []
    sheets, files = _files(spec, laid)
    names = frozenset(files) | {DRAWINGS.record}
    with staged(folder, names, removed.extend, DRAWINGS) as stage:
        for name, data in files.items():
            write(stage / name, data)
        digests: list[FileRecord] = [
            {"name": name, "sha256": sha256(data)} for name, data in files.items()
        ]
        record: DrawingsRecord = {
            "job": spec.name,
            "title": spec.job.title,
            "sheets": sheets,
            "files": digests,
        }
        write(stage / DRAWINGS.record, json_bytes(record))
    return Drawn(record, (*files, DRAWINGS.record), tuple(removed))


def drawings_of(spec: JobSpec, laid: SettingOut) -> tuple[tuple[Page, ...], tuple[View, ...]]:
    """The sheets of a job, before they are lines and texts; and its views, each whole."""
    from parametric_wall.drawings.pages import pages_and_views
    from parametric_wall.drawings.views import views

    date = spec.job.date.isoformat() if spec.job.date else ""
    return pages_and_views(spec.job.title, date, views(spec, laid))


def _files(spec: JobSpec, laid: SettingOut) -> tuple[list[SheetRecord], dict[str, bytes]]:
    """Records of the sheets, and every file with its name."""
    from parametric_wall.drawings.lower import lower
    from parametric_wall.export.dxf import dxf
    from parametric_wall.export.pdf import pdf
    from parametric_wall.export.svg import svg

    pages, views = drawings_of(spec, laid)
    drawn = [(sheet, svg(sheet)) for sheet in map(lower, pages)]
    records = [
        sheet_record(spec, page, sheet) for page, (sheet, _) in zip(pages, drawn, strict=True)
    ]
    files = {
        f"{spec.name}-drawings.pdf": pdf(f"{spec.job.title}: drawings", drawn),
        f"{spec.name}-drawings.dxf": dxf(views),
    }
    pictures = {record["file"]: data for record, (_, data) in zip(records, drawn, strict=True)}
    return records, files | pictures


def sheet_record(spec: JobSpec, page: Page, sheet: Sheet) -> SheetRecord:
    """What a sheet shows and where it is."""
    views = [placed.view for placed in page.views if placed.view.name != FRAME]
    return {
        "name": sheet.name,
        "title": "; ".join(view.title for view in views),
        "told": sheet.told,
        "file": f"{spec.name}-{sheet.name}.svg",
        "width_mm": sheet.width,
        "height_mm": sheet.height,
        "scales": sorted({view.scale for view in views}),
    }
