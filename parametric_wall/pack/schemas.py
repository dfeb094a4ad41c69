"""JSON schemas of the job file, the written files and what `bonds` says, from their models."""

from __future__ import annotations

from typing import Any

from pydantic import TypeAdapter

from parametric_wall.errors import Fault, JobError
from parametric_wall.export import records, take_off
from parametric_wall.job.model import Job
from parametric_wall.pack import compare, draw

WRITTEN = {
    "setting-out": records.SettingOutRecord,
    "take-off": take_off.TakeOffRecord,
    "findings": records.FindingsRecord,
    "bonds": compare.BondsRecord,
    "drawings": draw.DrawingsRecord,
}


def schema(what: str) -> dict[str, Any]:
    """The JSON schema of the job file, or of one of the written files.

    Raises:
        JobError: there is no such file.
    """
    if what == "job":
        return Job.model_json_schema()
    if what == "verification":
        # Only here: the record's module brings the CAD kernel with it.
        from parametric_wall.verify.report import ProofRecord

        return TypeAdapter(ProofRecord).json_schema()
    if what not in WRITTEN:
        hint = f"choose from job, {', '.join(WRITTEN)}, verification"
        raise JobError([Fault("what", what, "has no schema", hint)])
    return TypeAdapter(WRITTEN[what]).json_schema()
