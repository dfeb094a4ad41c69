"""What the commands print: text for people, JSON for programs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, Any

from parametric_wall.checks.check import calculations, looked_at
from parametric_wall.checks.finding import Finding, Grade, meanings
from parametric_wall.checks.on_site import check_sheet
from parametric_wall.errors import Fault, JobError
from parametric_wall.export import records
from parametric_wall.export.day_records import days_record
from parametric_wall.export.finding_records import findings_record
from parametric_wall.export.order_records import order_record
from parametric_wall.export.price_records import options_record, price_record
from parametric_wall.export.take_off import take_off_record
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.days import Schedule
from parametric_wall.order.estimate import Estimate
from parametric_wall.order.options import Option
from parametric_wall.pack import order_screen, pricing, tables
from parametric_wall.reference.tables import KnownSize, blocks, cited, copings
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.cut_lists import by_length, in_laying_order
from parametric_wall.takeoff.cutting import cut_units
from parametric_wall.takeoff.quantities import quantities

if TYPE_CHECKING:
    from parametric_wall.pack.build import Built
    from parametric_wall.pack.draw import Drawn
    from parametric_wall.pack.job_pack import Packed
    from parametric_wall.pack.preview import Previewed
    from parametric_wall.verify.again import Again


def _text(record: Any) -> str:
    return records.json_bytes(record).decode("utf-8").rstrip("\n")


def _title(spec: JobSpec) -> str:
    job = spec.job
    parts = (str(part) for part in (job.title, job.client, job.date) if part)
    return " - ".join(" ".join(part.split()) for part in parts)


def _verdict(spec: JobSpec, found: tuple[Finding, ...]) -> str:
    return fill(verdict(spec, found), tables.WIDTH)


def verdict(spec: JobSpec, found: tuple[Finding, ...]) -> str:
    """What the findings come to, in a few sentences; never that a wall is safe."""
    if any(f.grade is Grade.STOP for f in found):
        return "Not to be built as it stands."
    if any(f.designed for f in found):
        name = " ".join(spec.job.designed_by.split())
        return (
            f"Past the common limits, the job rests on the design that its file names: {name}. "
            "These checks know nothing of it, and do not say that the wall is safe."
        )
    names = ", ".join(name for name, _ in looked_at())
    count = sum(f.grade is Grade.LOOK for f in found)
    first = f"Look first at the {count} named above. Beyond that, n" if count else "N"
    return (
        f"{first}o objection found by these checks: {names}. Local codes and the judgement of a "
        "licensed professional come first; these checks know neither, and they do not say that "
        "the wall is safe."
    )


def check_text(
    spec: JobSpec, laid: SettingOut, found: tuple[Finding, ...], *, on_site: bool = False
) -> str:
    """The walls, their findings and calculations; with `on_site` the sheet to check them by."""
    parts = (
        _title(spec),
        tables.walls(spec, laid),
        tables.findings(found),
        tables.calculations(calculations(spec)),
        tables.check_sheet(check_sheet(spec)) if on_site else "",
        _verdict(spec, found),
    )
    return "\n\n".join(part for part in parts if part)


def stopped_text(spec: JobSpec, found: tuple[Finding, ...]) -> str:
    """Why a job stops."""
    return "\n\n".join((_title(spec), tables.findings(found), _verdict(spec, found)))


def findings_json(spec: JobSpec, found: tuple[Finding, ...]) -> str:
    """As findings.json has it."""
    return _text(findings_record(spec, found))


def takeoff_text(spec: JobSpec, laid: SettingOut) -> str:
    """The take-off, and what is to be cut."""
    lines, cuts = quantities(spec, laid), in_laying_order(laid, cut_units(spec, laid))
    parts = (_title(spec), tables.walls(spec, laid), tables.quantities(lines))
    return "\n\n".join(part for part in (*parts, tables.cuts(by_length(cuts))) if part)


def takeoff_json(spec: JobSpec, laid: SettingOut) -> str:
    """As take-off.json has it."""
    return _text(take_off_record(spec, laid, quantities(spec, laid), cut_units(spec, laid)))


def order_text(spec: JobSpec, laid: SettingOut) -> str:
    """The order."""
    return "\n\n".join((_title(spec), order_screen.order_text(spec, laid)))


def order_json(spec: JobSpec, laid: SettingOut) -> str:
    """As order.json has it."""
    return _text(order_record(spec, laid))


def days_text(spec: JobSpec, plan: Schedule) -> str:
    """The days."""
    return "\n\n".join((_title(spec), pricing.days_text(spec, plan)))


def days_json(spec: JobSpec, plan: Schedule) -> str:
    """As days.json has it."""
    return _text(days_record(spec, plan))


def price_text(spec: JobSpec, found: Estimate) -> str:
    """The price."""
    return "\n\n".join((_title(spec), pricing.price_text(found)))


def price_json(spec: JobSpec, found: Estimate) -> str:
    """The price as data."""
    return _text(price_record(spec, found))


def options_json(found: tuple[Option, ...]) -> str:
    """Options as data."""
    return _text(options_record(found))


def built_text(built: Built, folder: Path) -> str:
    """The summary of a build."""
    if built.proof is None:
        text = stopped_text(built.spec, built.findings)
        return f"{text}\n\nWrote {folder / 'findings.json'} and no model."
    from parametric_wall.verify.report import row_record

    proof = built.proof
    said = "agree" if proof.agrees else "DO NOT AGREE"
    filled = (
        f"Every way of measuring must agree: they {said}. The most that two pieces share is "
        f"{proof.overlap_mm3:.3f} mm3, the largest gap {proof.gap_mm3:.3f} mm3."
    )
    faults = [*proof.clashes, *proof.misplaced[:10]]
    parts = (
        _title(built.spec),
        tables.walls(built.spec, built.laid),
        tables.quantities(built.lines),
        tables.proof(map(row_record, proof.rows)),
        fill("\n".join([filled, *faults]), tables.WIDTH),
        tables.findings(built.findings),
        tables.calculations(calculations(built.spec)),
        _verdict(built.spec, built.findings),
        f"Wrote to {folder}: {', '.join(built.files)}",
    )
    return "\n\n".join(part for part in parts if part)


def built_json(built: Built) -> str:
    """Findings, take-off and whether the proof agrees."""
    record: dict[str, Any] = {
        "findings": findings_record(built.spec, built.findings),
        "take_off": None,
        "proof": None,
        "files": list(built.files),
        "removed": list(built.removed),
    }
    if built.proof is not None:
        from parametric_wall.verify.report import proof_record

        cuts = cut_units(built.spec, built.laid)
        record["take_off"] = take_off_record(built.spec, built.laid, built.lines, cuts)
        record["proof"] = proof_record(built.spec.name, built.spec.job.title, built.proof, [])
    return _text(record)


def previewed(spec: JobSpec, shown: Previewed, *, as_json: bool) -> str:
    """Where a page was written, or why there is none."""
    if shown.path is None:
        return (findings_json if as_json else stopped_text)(spec, shown.findings)
    if as_json:
        return _text({"wrote": str(shown.path), "bytes": shown.size})
    return f"wrote {shown.path}, {shown.size / 1e6:.2f} MB"


def drawn_text(spec: JobSpec, drawn: Drawn, folder: Path) -> str:
    """What was drawn, sheet by sheet."""
    return "\n\n".join(
        (
            _title(spec),
            tables.sheets(drawn.record["sheets"]),
            f"Wrote to {folder}: {', '.join(drawn.files)}",
        )
    )


def drawn_json(drawn: Drawn) -> str:
    """As drawings.json has it."""
    return _text(drawn.record)


def packed_text(spec: JobSpec, packed: Packed, folder: Path) -> str:
    """What the pack holds, and what it does not."""
    record = packed.record
    parts = [
        _title(spec),
        "In the pack:\n" + "\n".join(f"  {s['title']}" for s in record["sections"]),
    ]
    if record["missing"]:
        missing = (fill(f"Not in it: {text}", tables.WIDTH) for text in record["missing"])
        parts.append("\n".join(missing))
    return "\n\n".join([*parts, f"Wrote to {folder}: {', '.join(packed.files)}"])


def packed_json(packed: Packed) -> str:
    """As pack.json has it."""
    return _text(packed.record)


def again_text(again: Again) -> str:
    """What measuring again found."""
    from parametric_wall.verify.report import row_record

    verdict = "The files are as they were built, and the measurements agree."
    faults = "\n".join(f"NOT AS BUILT: {f}" for f in again.faults)
    return "\n\n".join((tables.proof(map(row_record, again.rows)), faults or verdict))


def again_json(again: Again) -> str:
    """The same as JSON."""
    from parametric_wall.verify.report import row_record

    rows = [row_record(r) for r in again.rows]
    return _text({"agrees": again.agrees, "faults": list(again.faults), "rows": rows})


def sizes_text() -> str:
    """Known blocks and copings."""
    return "\n\n".join((_sizes("block", blocks()), _sizes("coping", copings())))


def _sizes(kind: str, known: Mapping[str, KnownSize]) -> str:
    rows = [(s.name, f"{s.density_kg_m3:.0f}", s.standing, s.source) for s in known.values()]
    return tables.table((kind, "kg/m3", "standing", "source"), rows, left=4)


def sizes_json() -> str:
    """Known blocks and copings."""
    return _text(
        {
            "blocks": [_size(s, "height_mm") for s in blocks().values()],
            "copings": [_size(s, "thickness_mm") for s in copings().values()],
        }
    )


def _size(size: KnownSize, depth: str) -> dict[str, Any]:
    """A size under the keys of the job file."""
    return {depth if key == "depth_mm" else key: value for key, value in asdict(size).items()}


def meaning(code: str | None, *, as_json: bool) -> str:
    """What a code stands for, or all codes.

    Raises:
        JobError: there is no such code.
    """
    known = meanings()
    if code is None:
        if as_json:
            return _text([asdict(m) for m in known.values()])
        return tables.table(
            ("code", "what it says"), [(m.code, m.title) for m in known.values()], 2
        )
    if code not in known:
        hint = "parametric-wall meaning lists all codes"
        raise JobError([Fault("code", code, "is not a finding's code", hint)])
    m = known[code]
    if as_json:
        return _text(asdict(m))
    lines = (f"{m.code}: {m.title}", f"Why: {m.why}", f"Next: {m.next}", f"Ask: {m.ask}")
    return "\n".join(
        fill(line, tables.WIDTH) for line in (*lines, f"Source: {cited(m.source, m.standing)}")
    )
