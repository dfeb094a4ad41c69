"""The job pack that goes to site: one PDF, and the same as a folder of pages and pictures."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from typing_extensions import TypedDict

from parametric_wall.digest import sha256
from parametric_wall.export.records import json_bytes
from parametric_wall.pack.draw import FileRecord
from parametric_wall.pack.folder import PACK, staged, write

if TYPE_CHECKING:
    from parametric_wall.checks.finding import Finding
    from parametric_wall.job.resolve import JobSpec
    from parametric_wall.order.prices import PriceList
    from parametric_wall.setting_out.model import SettingOut


class SectionRecord(TypedDict):
    """One section, and its page in the folder."""

    key: str
    title: str
    file: str


class PackRecord(TypedDict):
    """The file pack.json. `proof` is agrees, disagrees, stale or not run."""

    job: str
    title: str
    proof: str
    missing: list[str]
    sections: list[SectionRecord]
    files: list[FileRecord]


@dataclass(frozen=True, slots=True)
class Packed:
    """What was packed.

    Attributes:
        record: as pack.json has it.
        files: names of what was written.
        removed: names of an older pack's files that were removed and not made again.
    """

    record: PackRecord
    files: tuple[str, ...]
    removed: tuple[str, ...]


def pack(
    spec: JobSpec,
    laid: SettingOut,
    found: tuple[Finding, ...],
    folder: Path,
    prices: PriceList | None = None,
) -> Packed:
    """Make the job pack in a folder: all of it or nothing.

    Args:
        spec: the job.
        laid: its setting-out; every run is bonded.
        found: its findings; none stops it.
        folder: where the pack goes; a build of the same job there is its proof.
        prices: rates; without them there is no price in the pack.

    Raises:
        JobError: a rate is for another unit, or the days are past counting.
        OutputError: the pack cannot be written; an older one is untouched.
    """
    from parametric_wall.export.pack_html import pack_html, page_name
    from parametric_wall.export.pack_pdf import pack_pdf
    from parametric_wall.pack.sections.contents import contents
    from parametric_wall.pack.sections.trust import manifest

    document, proof, missing = contents(spec, laid, found, folder, prices)
    stem = f"{spec.name}-pack"
    pdf, last = f"{stem}.pdf", len(document.sections) + 1
    files = {picture.file: picture.svg for picture in document.pictures()}
    listed = replace(document, sections=(*document.sections, manifest({}, ())))
    for number in range(last):
        files[page_name(listed, stem, number)] = pack_html(listed, stem, number)
    digests = {name: sha256(data) for name, data in sorted(files.items())}
    own = page_name(listed, stem, last)
    ending = manifest(digests, (pdf, own, PACK.record))
    whole = replace(document, sections=(*document.sections, ending))
    files |= {own: pack_html(whole, stem, last), pdf: pack_pdf(whole)}
    record: PackRecord = {
        "job": spec.name,
        "title": spec.job.title,
        "proof": proof.state,
        "missing": list(missing),
        "sections": [
            {"key": one.key, "title": one.title, "file": page_name(whole, stem, number)}
            for number, one in enumerate(whole.sections, 1)
        ],
        "files": [{"name": name, "sha256": sha256(data)} for name, data in sorted(files.items())],
    }
    return _written(record, files, folder)


def _written(record: PackRecord, files: dict[str, bytes], folder: Path) -> Packed:
    removed: list[str] = []
    names = frozenset(files) | {PACK.record}
    with staged(folder, names, removed.extend, PACK) as stage:
        for name, data in files.items():
            write(stage / name, data)
        write(stage / PACK.record, json_bytes(record))
    return Packed(record, (*sorted(files), PACK.record), tuple(removed))
