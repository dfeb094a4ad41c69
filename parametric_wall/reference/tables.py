"""Reads the reference tables. Every row keeps its unit, its source and its standing."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any


@dataclass(frozen=True, slots=True)
class KnownSize:
    """A named block or coping: work sizes in mm, density in kg/m3.

    `depth_mm` is a block's height or a coping's thickness.
    """

    name: str
    length_mm: float
    width_mm: float
    depth_mm: float
    density_kg_m3: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class Limit:
    """A published or customary limit with its unit and source."""

    name: str
    value: float
    unit: str
    source: str
    standing: str

    @property
    def cited(self) -> str:
        """Its source, and its standing where that has to be confirmed."""
        return cited(self.source, self.standing)


def cited(source: str, standing: str) -> str:
    """A source as it is shown: what stands there from memory says so."""
    return f"{source} (from memory, confirm)" if standing == "from memory" else source


@dataclass(frozen=True, slots=True)
class KnownSoil:
    """A soil by name: unit weight in kN/m3, angle of shearing resistance in degrees."""

    name: str
    weight_kN_m3: float  # noqa: N815 (the unit's own)
    friction_deg: float
    source: str
    standing: str


@cache
def table(name: str) -> dict[str, Any]:
    """The TOML table `name` from the package's data folder."""
    text = files(__package__).joinpath("data", f"{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _sizes(name: str, kind: str, depth: str) -> dict[str, KnownSize]:
    return {
        size: KnownSize(
            size,
            float(row["length_mm"]),
            float(row["width_mm"]),
            float(row[depth]),
            float(row["density_kg_m3"]),
            row["source"],
            row["standing"],
        )
        for size, row in table(name)[kind].items()
    }


@cache
def blocks() -> dict[str, KnownSize]:
    """Known blocks by name, length x width x height."""
    return _sizes("blocks", "block", "height_mm")


@cache
def copings() -> dict[str, KnownSize]:
    """Known copings by name, length x width x thickness."""
    return _sizes("copings", "coping", "thickness_mm")


@cache
def soils() -> dict[str, KnownSoil]:
    """Soils by name, for a first guess."""
    return {
        name: KnownSoil(
            name,
            float(row["weight_kN_m3"]),
            float(row["friction_deg"]),
            row["source"],
            row["standing"],
        )
        for name, row in table("soils").items()
    }


@cache
def limits() -> dict[str, Limit]:
    """Limits by name."""
    return {
        name: Limit(name, float(row["value"]), row["unit"], row["source"], row["standing"])
        for name, row in table("limits").items()
    }


def limit(name: str) -> float:
    """The value of one limit."""
    return limits()[name].value
