"""Partial factors of the geotechnical design standard, with the UK annex."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from parametric_wall.reference.tables import cited, table


@dataclass(frozen=True, slots=True)
class Factors:
    """A set of partial factors, bare numbers.

    Attributes:
        name: of the set.
        gamma_G: on permanent actions that harm.
        gamma_G_fav: on permanent actions that help.
        gamma_Q: on variable actions that harm.
        gamma_phi: on the tangent of the angle of shearing resistance.
        source: where it stands.
        standing: how far it can be trusted.
    """

    name: str
    gamma_G: float  # noqa: N815 (the standard's own)
    gamma_G_fav: float  # noqa: N815
    gamma_Q: float  # noqa: N815
    gamma_phi: float
    source: str
    standing: str

    @property
    def cited(self) -> str:
        """Its source, and its standing where that has to be confirmed."""
        return cited(self.source, self.standing)


@cache
def factors(key: str) -> Factors:
    """A set of partial factors: ``C1``, ``C2`` or ``EQU``.

    UK National Annex to BS EN 1997-1, Tables A.NA.1 to A.NA.4 (from memory, confirm).

    Args:
        key: of the set, no unit.

    Returns:
        The factors, bare numbers.

    Raises:
        ValueError: there is no such set.
    """
    rows = table("partial_factors")
    if key not in rows:
        msg = f"no set of factors {key}; known: {', '.join(rows)}"
        raise ValueError(msg)
    row = rows[key]
    return Factors(
        row["name"],
        float(row["gamma_G"]),
        float(row["gamma_G_fav"]),
        float(row["gamma_Q"]),
        float(row["gamma_phi"]),
        row["source"],
        row["standing"],
    )


def phi_d(phi_k: float, gamma_phi: float) -> float:
    """Design value of the angle of shearing resistance.

    BS EN 1997-1:2004, 2.4.6.2: tan phi_d = tan phi_k / gamma_phi (from memory, confirm).

    Args:
        phi_k: characteristic value, in degrees.
        gamma_phi: partial factor, a bare number.

    Returns:
        The design value, in degrees.

    Raises:
        ValueError: phi_k is not between 0 and 90, or gamma_phi is less than 1.
    """
    if not 0 < phi_k < 90:
        msg = f"phi_k must be more than 0 and less than 90, not {phi_k}"
        raise ValueError(msg)
    if not 1 <= gamma_phi < math.inf:
        msg = f"gamma_phi must be 1 or more, not {gamma_phi}"
        raise ValueError(msg)
    return math.degrees(math.atan(math.tan(math.radians(phi_k)) / gamma_phi))
