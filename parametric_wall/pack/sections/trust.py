"""Why the numbers can be trusted: the proof of the last build of the same job; the manifest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from parametric_wall.digest import digest_of, sha256
from parametric_wall.errors import OutputError
from parametric_wall.export.document import Block, Entry, Section, Words, table
from parametric_wall.export.records import json_bytes, setting_out_record
from parametric_wall.export.take_off import take_off_record
from parametric_wall.job.resolve import JobSpec
from parametric_wall.pack.build import load_record
from parametric_wall.pack.folder import RECORD
from parametric_wall.pack.sections.buying import columns
from parametric_wall.pack.tables import PROOF, proof_rows
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.cutting import CutUnit
from parametric_wall.takeoff.quantities import quantities

NOT_RUN = "The solid model of this job was not measured for this pack"
BUILD_FIRST = "build the job into this folder, then make the pack again."
WHY = (
    "The volumes were found in ways that know nothing of each other: in closed form from the "
    "sizes alone, by counting the pieces, on the solid model, and on the written files read back. "
    "Where they agree, no piece is missing or counted twice."
)


@dataclass(frozen=True, slots=True)
class Proof:
    """What a build in the folder proves of the job.

    Attributes:
        state: not run, stale, disagrees or agrees.
        words: the same in a sentence.
        rows: of the table, each component by every way; none unless it is of this very job.
    """

    state: str
    words: str
    rows: tuple[tuple[str, ...], ...] = ()


def proof_in(folder: Path, spec: JobSpec, laid: SettingOut, cuts: tuple[CutUnit, ...]) -> Proof:
    """What the last build in a folder proves of this job, as it is set out now."""
    if not (folder / RECORD).exists():
        return Proof("not run", f"{NOT_RUN}: {BUILD_FIRST}")
    try:
        record: Mapping[str, Any] = load_record(folder)
        past = _past(record, folder, spec, laid, cuts)
        if past:
            return Proof("stale", f"{NOT_RUN}: {past}; {BUILD_FIRST}")
        return _proof(record)
    except OutputError:
        broken = f"{RECORD} cannot be read"
    except (KeyError, TypeError, ValueError):
        broken = f"{RECORD} is incomplete"
    return Proof("stale", f"{NOT_RUN}: {broken}; {BUILD_FIRST}")


def _past(
    record: Mapping[str, Any],
    folder: Path,
    spec: JobSpec,
    laid: SettingOut,
    cuts: tuple[CutUnit, ...],
) -> str:
    """Why a record is no proof of this job; empty where it is one."""
    if record["digest"] != digest_of(record):
        return f"{RECORD} was changed after the build"
    if (record["job"], record["title"]) != (spec.name, spec.job.title):
        return "the build in this folder is of another job"
    listed = {str(file["name"]): str(file["sha256"]) for file in record["files"]}
    now = {
        "setting-out.json": setting_out_record(spec, laid),
        "take-off.json": take_off_record(spec, laid, quantities(spec, laid), cuts),
    }
    if any(listed.get(name) != sha256(json_bytes(found)) for name, found in now.items()):
        return "the job was changed after the build in this folder"
    changed = [name for name, digest in listed.items() if _digest(folder / name) != digest]
    return f"changed after the build: {', '.join(changed)}" if changed else ""


def _digest(path: Path) -> str:
    """Of a file; empty where there is none."""
    try:
        return sha256(path.read_bytes())
    except OSError:
        return ""


def _proof(record: Mapping[str, Any]) -> Proof:
    agrees = record["agrees"] is True
    said = "agree" if agrees else "DO NOT AGREE"
    faults = "; ".join(str(fault) for fault in (*record["clashes"], *record["misplaced"]))
    words = (
        f"The ways of measuring {said}. The most that two pieces share is "
        f"{record['overlap_mm3']:.3f} mm3, the largest gap {record['gap_mm3']:.3f} mm3."
    )
    told = f"{words} {faults}." if faults else words
    return Proof("agrees" if agrees else "disagrees", told, tuple(proof_rows(record["rows"])))


def verification(proof: Proof) -> Section:
    """The table of the proof, or the words that there is none."""
    blocks: list[Block] = [Words(proof.words, strong=True)]
    if proof.rows:
        blocks += [Words(WHY), table(columns(PROOF), list(proof.rows))]
    return Section("verification", "Why the numbers can be trusted", tuple(blocks))


def manifest(digests: Mapping[str, str], left_out: tuple[str, ...]) -> Section:
    """Every file of the pack with its digest.

    Args:
        digests: SHA-256 of every file but those, by its name.
        left_out: files that cannot tell their own.
    """
    without = f"The digests of {' and '.join(left_out)} stand in the last of them."
    entries = [Entry(name, (digest,)) for name, digest in digests.items()]
    blocks: tuple[Block, ...] = (
        Words(f"The files of this pack, each with the SHA-256 digest of its bytes. {without}"),
        *entries,
    )
    return Section("manifest", "Manifest", blocks)
