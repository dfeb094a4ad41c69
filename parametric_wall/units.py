"""The only place where units are converted. Inside, lengths are mm and volumes mm3."""

from __future__ import annotations

MM_PER_M = 1e3
MM2_PER_M2 = 1e6
MM3_PER_M3 = 1e9
GRAVITY_M_S2 = 9.81
"""Acceleration of free fall."""
N_PER_KN = 1e3


def metres(length_mm: float) -> float:
    """Millimetres to metres."""
    return length_mm / MM_PER_M


def square_metres(area_mm2: float) -> float:
    """Square millimetres to square metres."""
    return area_mm2 / MM2_PER_M2


def cubic_metres(volume_mm3: float) -> float:
    """Cubic millimetres to cubic metres."""
    return volume_mm3 / MM3_PER_M3


def mass_kg(volume_mm3: float, density_kg_m3: float) -> float:
    """Mass in kg of a volume in mm3 at a density in kg/m3."""
    return cubic_metres(volume_mm3) * density_kg_m3


def unit_weight(density_kg_m3: float) -> float:
    """Unit weight in kN/m3 of a density in kg/m3."""
    return density_kg_m3 * GRAVITY_M_S2 / N_PER_KN


def kilonewtons_a_metre(section_mm2: float, density_kg_m3: float) -> float:
    """Weight in kN of a metre of a section in mm2 at a density in kg/m3."""
    return square_metres(section_mm2) * unit_weight(density_kg_m3)
