"""JSON schemas of the job file, the written files and what `bonds` says, from their models."""

from __future__ import annotations

from typing import Any

from pydantic import TypeAdapter

from parametric_wall.errors import Fault, JobError
from parametric_wall.export import finding_records, records, take_off
from parametric_wall.export.day_records import DaysRecord
from parametric_wall.export.order_records import OrderRecord
from parametric_wall.export.price_records import OptionsRecord, PriceRecord
from parametric_wall.job.model import Job
from parametric_wall.order.prices import PriceList
from parametric_wall.pack import compare, draw, job_pack

WRITTEN = {
    "setting-out": records.SettingOutRecord,
    "take-off": take_off.TakeOffRecord,
    "order": OrderRecord,
    "days": DaysRecord,
    "price": PriceRecord,
    "options": OptionsRecord,
    "findings": finding_records.FindingsRecord,
    "bonds": compare.BondsRecord,
    "drawings": draw.DrawingsRecord,
    "pack": job_pack.PackRecord,
}


def schema(what: str) -> dict[str, Any]:
    """The JSON schema of the job file, of a price list, or of what is written.

    Raises:
        JobError: there is no such file.
    """
    if what == "job":
        return Job.model_json_schema()
    if what == "rates":
        return PriceList.model_json_schema()
    if what == "verification":
        # Only here: the record's module brings the CAD kernel with it.
        from parametric_wall.verify.report import ProofRecord

        return TypeAdapter(ProofRecord).json_schema()
    if what not in WRITTEN:
        hint = f"choose from job, rates, {', '.join(WRITTEN)}, verification"
        raise JobError([Fault("what", what, "has no schema", hint)])
    return TypeAdapter(WRITTEN[what]).json_schema()
