"""The job pack that goes to site: one PDF, and the same as a folder of pages and pictures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from typing_extensions import TypedDict

from parametric_wall.digest import sha256
from parametric_wall.export.records import json_bytes
from parametric_wall.pack.draw import FileRecord, drawings_of, sheet_record
from parametric_wall.pack.folder import PACK, staged, write

if TYPE_CHECKING:
    from parametric_wall.checks.calculation import Calculation
    from parametric_wall.checks.finding import Finding
    from parametric_wall.export.document import Document, Section
    from parametric_wall.job.resolve import JobSpec
    from parametric_wall.order.estimate import Estimate
    from parametric_wall.order.prices import PriceList
    from parametric_wall.pack.sections.trust import Proof
    from parametric_wall.setting_out.model import SettingOut

RUNNING = (
    "No wall is called safe by these checks: local codes and a licensed professional come first."
)
NO_PRICE = "Price: no price list was given."


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
    from parametric_wall.export.pack_html import page_name, pack_html
    from parametric_wall.export.pack_pdf import pack_pdf
    from parametric_wall.pack.sections.trust import manifest

    document, proof, missing = _document(spec, laid, found, folder, prices)
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


def _document(
    spec: JobSpec,
    laid: SettingOut,
    found: tuple[Finding, ...],
    folder: Path,
    prices: PriceList | None,
) -> tuple[Document, Proof, tuple[str, ...]]:
    """The pack without its manifest, what proves it, and what is left out."""
    from parametric_wall.checks.check import calculations
    from parametric_wall.checks.on_site import check_sheet
    from parametric_wall.export.document import Document
    from parametric_wall.order.days import schedule
    from parametric_wall.order.estimate import estimate, items
    from parametric_wall.order.materials import order_lines
    from parametric_wall.order.mixing import mixing_sheet
    from parametric_wall.pack.order_screen import NO_SHEET
    from parametric_wall.pack.sections import buying, checked, laying, trust
    from parametric_wall.pack.sections.front import front
    from parametric_wall.takeoff.cutting import cut_units

    lines, plan, cuts = order_lines(spec, laid), schedule(spec, laid), cut_units(spec, laid)
    mixing = mixing_sheet(spec, laid)
    priced = None if prices is None else estimate(items(lines, plan), prices)
    proof = trust.proof_in(folder, spec, laid, cuts)
    missing = tuple(
        text
        for text, left_out in (
            (NO_PRICE, priced is None),
            (NO_SHEET, mixing is None),
            (proof.words, not proof.rows),
        )
        if left_out
    )
    sections = (
        checked.cautions(found),
        checked.findings(spec, found),
        *_calculated(spec, calculations(spec)),
        _drawn(spec, laid),
        laying.cut_list(spec, laid, cuts),
        buying.ordered(spec, laid, lines, mixing),
        *_priced(priced),
        buying.days(spec, plan),
        laying.setting_out(spec),
        checked.check_sheet(check_sheet(spec)),
        trust.verification(proof),
    )
    cover = front(spec, laid, lines, plan, missing)
    return Document("Job pack", spec.job.title, RUNNING, cover, sections), proof, missing


def _calculated(spec: JobSpec, worked_out: tuple[Calculation, ...]) -> Iterator[Section]:
    from parametric_wall.pack.sections.checked import calculations

    if worked_out:
        yield calculations(spec, worked_out)


def _priced(found: Estimate | None) -> Iterator[Section]:
    from parametric_wall.pack.sections.buying import price

    if found is not None:
        yield price(found)


def _drawn(spec: JobSpec, laid: SettingOut) -> Section:
    """The list of the sheets, and every sheet."""
    from parametric_wall.drawings.lower import lower
    from parametric_wall.export.document import Column, Leaf, Section, Words, table
    from parametric_wall.export.svg import svg
    from parametric_wall.pack.tables import SHEETS, sheet_rows

    pages, _ = drawings_of(spec, laid)
    drawn = [(page, lower(page)) for page in pages]
    records = [sheet_record(spec, page, sheet) for page, sheet in drawn]
    columns = tuple(Column(head, 1.0 if head == SHEETS[-1] else 0.0) for head in SHEETS)
    leaves = (
        Leaf(f"{spec.name}-pack-sheet-{sheet.name}.svg", svg(sheet), sheet) for _, sheet in drawn
    )
    words = Words("Print at 100 %, then measure the bar of 100 mm on the print. All sizes in mm.")
    blocks = (words, table(columns, sheet_rows(records)), *leaves)
    return Section("drawings", "Drawings", blocks)
