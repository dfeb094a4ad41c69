"""Partial factors of BS EN 1997-1 with the UK National Annex: from memory, but that design
approach 1 is the only one in the UK, which was read."""

from __future__ import annotations

import math

import pytest

from parametric_wall.reference.en1997 import factors, phi_d
from parametric_wall.reference.tables import table

KEYS = ("gamma_G", "gamma_G_fav", "gamma_Q", "gamma_phi", "gamma_c", "gamma_cu")


@pytest.mark.parametrize(
    ("key", "values"),
    [
        ("C1", (1.35, 1.0, 1.5, 1.0, 1.0, 1.0)),
        ("C2", (1.0, 1.0, 1.3, 1.25, 1.25, 1.4)),
        ("EQU", (1.1, 0.9, 1.5, 1.1, 1.1, 1.2)),
    ],
)
def test_factors_from_memory(key: str, values: tuple[float, ...]) -> None:
    row = table("partial_factors")[key]
    assert tuple(row[name] for name in KEYS) == values
    assert row["standing"] == "from memory"
    by = factors(key)
    assert (by.gamma_G, by.gamma_G_fav, by.gamma_Q, by.gamma_phi) == values[:4]


@pytest.mark.parametrize(
    ("phi", "by", "design"),
    [(30, 1.25, 24.79), (30, 1.1, 27.69), (32, 1.25, 26.56), (32, 1.1, 29.60), (32, 1.0, 32.0)],
)
def test_design_friction_computed(phi: float, by: float, design: float) -> None:
    assert phi_d(phi, by) == pytest.approx(design, abs=0.005)


@pytest.mark.parametrize(
    ("phi", "by"), [(0, 1.25), (90, 1.25), (-5, 1.25), (30, 0.99), (30, math.inf), (math.nan, 1)]
)
def test_no_design_friction_of_nonsense(phi: float, by: float) -> None:
    with pytest.raises(ValueError, match="must be"):
        phi_d(phi, by)


def test_no_set_of_another_name() -> None:
    with pytest.raises(ValueError, match="known: C1, C2, EQU"):
        factors("DA2")
