"""The mixing sheet: batches by mixer or bucket, and how many each lift takes."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import Literal

from parametric_wall.checks.limits import lift_courses
from parametric_wall.job.ordering import Mixing
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.lines import bag_kg
from parametric_wall.order.wet import Making, makings, plasticised
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.quantities import MORTAR
from parametric_wall.units import cubic_metres

L_PER_M3 = 1000.0
Go = tuple[str, Literal["mortar", "concrete"], float]


@dataclass(frozen=True, slots=True)
class Measured:
    """One material of a batch: litres loose, kg, and buckets where the job gives their size."""

    material: str
    litres: float
    kg: float
    buckets: float | None


@dataclass(frozen=True, slots=True)
class Batch:
    """One mixing.

    Attributes:
        what: mortar or concrete.
        mix: for instance ``1:3``.
        wet_l: what it makes, litres.
        parts: what goes in.
        plasticiser_ml: by the job's dosage; None where none is given or none goes in.
    """

    what: Literal["mortar", "concrete"]
    mix: str
    wet_l: float
    parts: tuple[Measured, ...]
    plasticiser_ml: float | None


@dataclass(frozen=True, slots=True)
class Stage:
    """What is mixed in one go.

    Attributes:
        day: at the soonest, from 1: a footing is left overnight, a lift is a day's.
        name: footing, lift 1, ..., copings.
        what: mortar or concrete.
        wet_l: to mix, waste in it, litres.
        batches: full ones.
        last: the part batch after them, of a full one.
    """

    day: int
    name: str
    what: Literal["mortar", "concrete"]
    wet_l: float
    batches: int
    last: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """The mixing sheet of a job."""

    batches: tuple[Batch, ...]
    stages: tuple[Stage, ...]


def mixing_sheet(spec: JobSpec, laid: SettingOut) -> Sheet | None:
    """The mixing sheet; None where the job says nothing of a mixer or a bucket."""
    job = spec.job.mixing
    if job.mixer_l is None and job.bucket_l is None:
        return None
    made = makings(spec, laid)
    mortar = spec.job.mortar
    batches = {
        m.what: batch_of(m, job, mortar.plasticiser_ml_per_bag if plasticised(m, mortar) else None)
        for m in made
    }
    stages = []
    # Ready-mixed concrete is no mixing, and takes its day all the same.
    footed = any(w.footing is not None for w in spec.walls)
    first = 2 if footed and spec.job.concrete.made_of == "ready-mix" else 1
    for day, (name, what, net) in enumerate(_goes(spec, laid, made), first):
        making = next(m for m in made if m.what == what)
        wet = net * making.made_m3 / making.net_m3
        full, last = counted_batches(wet, batches[what].wet_l)
        stages.append(Stage(day, name, what, wet, full, last))
    return Sheet(tuple(batches.values()), tuple(stages))


def counted_batches(wet_l: float, batch_l: float) -> tuple[int, float]:
    """Full batches, and the part of one after them; a float's last digits do not count."""
    batches = round(wet_l / batch_l, 9)
    full = math.floor(batches)
    return full, batches - full


def batch_of(making: Making, job: Mixing, dosage: float | None) -> Batch:
    """A batch as large as the mixer takes, in measures of the bucket."""
    mix = making.mix
    wet_l = _wet_litres(mix.cement.loose_m3, job)
    parts = []
    for part in mix.parts:
        litres = part.loose_m3 * wet_l
        buckets = None if job.bucket_l is None else litres / job.bucket_l
        parts.append(Measured(part.material, litres, part.kg * wet_l / L_PER_M3, buckets))
    plasticiser = None if dosage is None else dosage * parts[0].kg / bag_kg()
    return Batch(making.what, mix.name, wet_l, tuple(parts), plasticiser)


def _wet_litres(cement_to_wet: float, job: Mixing) -> float:
    """What one batch makes, litres.

    The mixer's own measure; by hand, a bucket of cement; with both, as many half buckets of
    cement as the mixer takes, quarters where it takes less than one, and where it does not
    even take a quarter, its own measure again.
    """
    if job.bucket_l is None:
        assert job.mixer_l is not None
        return job.mixer_l
    to_a_bucket = job.bucket_l / cement_to_wet
    if job.mixer_l is None:
        return to_a_bucket
    buckets = round(job.mixer_l / to_a_bucket, 9)
    parts = 2 if buckets >= 1 else 4
    whole = math.floor(buckets * parts) / parts
    return whole * to_a_bucket if whole else job.mixer_l


def _goes(spec: JobSpec, laid: SettingOut, made: tuple[Making, ...]) -> list[Go]:
    """What is mixed one after the other: name, mortar or concrete, litres as placed."""
    found: list[Go] = [
        ("footing", m.what, m.net_m3 * L_PER_M3) for m in made if m.what == "concrete"
    ]
    lifts: dict[int, float] = defaultdict(float)
    copings = 0.0
    for wall, placed in zip(spec.walls, laid.walls, strict=True):
        per_lift = lift_courses(wall)
        for piece in placed.pieces:
            if piece.kind not in MORTAR:
                continue
            litres = cubic_metres(piece.volume) * L_PER_M3
            if piece.course > wall.gauge.courses:
                copings += litres
            else:
                lifts[(piece.course - 1) // per_lift + 1] += litres
    found += [(f"lift {n}", "mortar", litres) for n, litres in sorted(lifts.items())]
    if copings:
        found.append(("copings", "mortar", copings))
    return found
