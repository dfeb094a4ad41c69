"""Draws a job into a folder: its sheets as SVG and as one PDF, its views as DXF."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from typing_extensions import TypedDict

from parametric_wall.export.records import json_bytes
from parametric_wall.pack.folder import DRAWINGS, staged, write

if TYPE_CHECKING:
    from parametric_wall.drawings.view import Page, View
    from parametric_wall.job.resolve import JobSpec
    from parametric_wall.setting_out.model import SettingOut


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
    pages = pages_of(spec, laid)
    removed: list[str] = []
    sheets, files = _files(spec, pages)
    names = frozenset(files) | {DRAWINGS.record}
    with staged(folder, names, removed.extend, DRAWINGS) as stage:
        for name, data in files.items():
            write(stage / name, data)
        digests: list[FileRecord] = [
            {"name": name, "sha256": hashlib.sha256(data).hexdigest()}
            for name, data in files.items()
        ]
        record: DrawingsRecord = {
            "job": spec.name,
            "title": spec.job.title,
            "sheets": sheets,
            "files": digests,
        }
        write(stage / DRAWINGS.record, json_bytes(record))
    return Drawn(record, (*files, DRAWINGS.record), tuple(removed))


def pages_of(spec: JobSpec, laid: SettingOut) -> tuple[Page, ...]:
    """The sheets of a job, before they are lines and texts."""
    from parametric_wall.drawings.pages import pages
    from parametric_wall.drawings.views import views

    date = spec.job.date.isoformat() if spec.job.date else ""
    return pages(spec.job.title, date, views(spec, laid))


def views_of(pages: tuple[Page, ...]) -> tuple[View, ...]:
    """What is drawn of the wall on some sheets: all but their frames."""
    return tuple(p.view for page in pages for p in page.views if p.view.name != "frame")


def _files(spec: JobSpec, pages: tuple[Page, ...]) -> tuple[list[SheetRecord], dict[str, bytes]]:
    """Records of the sheets, and every file with its name."""
    from parametric_wall.drawings.lower import lower
    from parametric_wall.export.dxf import dxf
    from parametric_wall.export.pdf import pdf
    from parametric_wall.export.svg import svg

    sheets = tuple(map(lower, pages))
    records: list[SheetRecord] = [
        {
            "name": sheet.name,
            "title": "; ".join(view.title for view in views_of((page,))),
            "told": sheet.told,
            "file": f"{spec.name}-{sheet.name}.svg",
            "width_mm": sheet.width,
            "height_mm": sheet.height,
            "scales": sorted({view.scale for view in views_of((page,))}),
        }
        for page, sheet in zip(pages, sheets, strict=True)
    ]
    drawn = {record["file"]: svg(sheet) for record, sheet in zip(records, sheets, strict=True)}
    files = {
        f"{spec.name}-drawings.pdf": pdf(sheets, f"{spec.job.title}: drawings"),
        f"{spec.name}-drawings.dxf": dxf(views_of(pages)),
    }
    return records, files | drawn
