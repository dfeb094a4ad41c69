"""Mixes: what a cubic metre of mortar or concrete takes of each part, loose and by weight."""

from __future__ import annotations

from dataclasses import dataclass

from parametric_wall.job.model import Job
from parametric_wall.order.lines import JOB_FILE, density
from parametric_wall.reference.mixes import parts_of
from parametric_wall.reference.tables import table


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a mix.

    Attributes:
        material: cement, lime, building sand, ...
        parts: by volume, as the mix is written.
        loose_m3: to the m3 wet.
        kg: to the m3 wet.
    """

    material: str
    parts: float
    loose_m3: float
    kg: float


@dataclass(frozen=True, slots=True)
class Mix:
    """A mix by volume.

    Attributes:
        name: as it is written, for instance ``1:3``.
        parts: cement first.
        rule: what it yields, in words.
        source: of the rule.
        standing: of the rule.
    """

    name: str
    parts: tuple[Part, ...]
    rule: str
    source: str
    standing: str

    @property
    def cement(self) -> Part:
        """The cement in it."""
        return self.parts[0]


def by_volume(
    name: str, materials: tuple[str, ...], factor: float, source: str, standing: str
) -> Mix:
    """A mix whose parts, dry and loose, take `factor` times the volume of what they make."""
    parts = parts_of(name)
    found = []
    for material, part in zip(materials, parts, strict=True):
        loose = factor * part / sum(parts)
        found.append(Part(material, part, loose, loose * density(material)))
    rule = f"{factor:g} m3 of dry parts to the m3"
    return Mix(name, tuple(found), rule, source, standing)


def ballast_mix(name: str) -> Mix:
    """A mix of cement and all-in ballast, by its weights to the m3.

    Its buckets are counted from the cement: so many of ballast to one of cement.
    """
    row = table("mixes")["ballast"][name]
    cement, ballast = parts_of(name)
    loose = float(row["cement_kg"]) / density("cement")
    parts = (
        Part("cement", cement, loose, float(row["cement_kg"])),
        Part("ballast", ballast, loose * ballast / cement, float(row["ballast_kg"])),
    )
    rule = f"{row['ballast_kg']:g} kg of ballast and {row['cement_kg']:g} kg of cement to the m3"
    return Mix(name, parts, rule, row["source"], row["standing"])


def mortar_mix(job: Job) -> Mix:
    """The job's mortar."""
    named = table("mixes")["mortar"].get(job.mortar.mix)
    name = job.mortar.mix if named is None else named["mix"]
    materials: tuple[str, ...] = ("cement", "building sand")
    if len(parts_of(name)) > len(materials):
        materials = ("cement", "lime", "building sand")
    return by_volume(name, materials, *_factor("mortar", job.mortar.dry_to_wet))


def concrete_mix(job: Job) -> Mix | None:
    """The job's concrete; None where it comes ready-mixed."""
    made = job.concrete
    if made.made_of == "ready-mix":
        return None
    if made.made_of == "ballast":
        return ballast_mix(made.mix or "1:6")
    materials = ("cement", "sharp sand", "coarse aggregate")
    return by_volume(made.mix or "1:2:4", materials, *_factor("concrete", made.dry_to_wet))


def _factor(what: str, given: float | None) -> tuple[float, str, str]:
    """Dry to wet, its source and its standing."""
    row = table("mixes")["yield"][what]
    if given is not None:
        return given, JOB_FILE, JOB_FILE
    return float(row["value"]), row["source"], row["standing"]
