"""All sections of the pack in their order. What the job does not have is left out, and said so."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from parametric_wall.checks.check import calculations
from parametric_wall.checks.finding import Finding
from parametric_wall.checks.on_site import check_sheet
from parametric_wall.drawings.lower import lower
from parametric_wall.export.document import Block, Column, Document, Leaf, Section, Words, table
from parametric_wall.export.svg import svg
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.days import schedule
from parametric_wall.order.estimate import estimate, items
from parametric_wall.order.materials import order_lines
from parametric_wall.order.mixing import mixing_sheet
from parametric_wall.order.prices import PriceList
from parametric_wall.pack.draw import drawings_of, sheet_record
from parametric_wall.pack.order_screen import NO_SHEET
from parametric_wall.pack.sections import buying, checked, laying, trust
from parametric_wall.pack.sections.front import front
from parametric_wall.pack.tables import SHEETS, sheet_rows
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.cutting import cut_units

RUNNING = (
    "No wall is called safe by these checks: local codes and a licensed professional come first."
)
NO_PRICE = "Price: no price list was given."
NO_CALCULATIONS = "Calculations: of this job as it is given there are none."
AT_FULL_SIZE = "Print at 100 %, then measure the bar of 100 mm on the print. All sizes in mm."


def contents(
    spec: JobSpec,
    laid: SettingOut,
    found: tuple[Finding, ...],
    folder: Path,
    prices: PriceList | None,
) -> tuple[Document, trust.Proof, tuple[str, ...]]:
    """The pack but for its manifest, what proves it, and what is left out.

    Args:
        spec: the job.
        laid: its setting-out; every run is bonded.
        found: its findings.
        folder: where a build of the job may be.
        prices: rates, if there are any.

    Raises:
        JobError: a rate is for another unit, or the days are past counting.
    """
    lines, plan, cuts = order_lines(spec, laid), schedule(spec, laid), cut_units(spec, laid)
    mixing = mixing_sheet(spec, laid)
    priced = None if prices is None else estimate(items(lines, plan), prices)
    worked_out = calculations(spec)
    proof = trust.proof_in(folder, spec, laid, cuts)
    left_out = (
        "" if worked_out else NO_CALCULATIONS,
        NO_PRICE if priced is None else "",
        NO_SHEET if mixing is None else "",
        "" if proof.rows else proof.words,
    )
    missing = tuple(text for text in left_out if text)

    def sections() -> Iterator[Section]:
        yield checked.cautions(found)
        yield checked.findings(spec, found)
        if worked_out:
            yield checked.calculations(spec, worked_out)
        yield _drawn(spec, laid)
        yield laying.cut_list(spec, laid, cuts)
        yield buying.ordered(spec, laid, lines, mixing)
        if priced is not None:
            yield buying.price(priced)
        yield buying.days(spec, plan)
        yield laying.setting_out(spec)
        yield checked.check_sheet(check_sheet(spec))
        yield trust.verification(proof)

    cover = front(spec, laid, lines, plan, missing)
    document = Document("Job pack", spec.job.title, RUNNING, cover, tuple(sections()))
    return document, proof, missing


def _drawn(spec: JobSpec, laid: SettingOut) -> Section:
    """The list of the sheets, and every sheet."""
    pages, _ = drawings_of(spec, laid)
    drawn = [(page, lower(page)) for page in pages]
    records = [sheet_record(spec, page, sheet) for page, sheet in drawn]
    columns = tuple(Column(head, 1.0 if head == SHEETS[-1] else 0.0) for head in SHEETS)
    blocks: tuple[Block, ...] = (
        Words(AT_FULL_SIZE),
        table(columns, sheet_rows(records)),
        *(
            Leaf(f"{spec.name}-pack-sheet-{sheet.name}.svg", svg(sheet), sheet)
            for _, sheet in drawn
        ),
    )
    return Section("drawings", "Drawings", blocks)
