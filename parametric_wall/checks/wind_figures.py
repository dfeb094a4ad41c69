"""The figures of a wind calculation, each with its clause or where it was given."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.calculation import Figure
from parametric_wall.checks.wind_section import Section
from parametric_wall.job.model import Masonry, Wind
from parametric_wall.reference import en1991_1_4 as en1991
from parametric_wall.reference import en1996_flexure as en1996
from parametric_wall.reference.en1997 import factors
from parametric_wall.reference.tables import cited, limits, table
from parametric_wall.units import unit_weight


def wind_given(wind: Wind) -> Iterator[Figure]:
    """The wind as the job file has it, and what is assumed for want of it."""
    given = "job file, [wind]"
    if wind.peak_pressure_Pa is not None:
        yield Figure("qp", "peak velocity pressure", wind.peak_pressure_Pa, "Pa", given)
    else:
        assert wind.basic_velocity_m_s is not None
        yield Figure("vb", "basic wind velocity of the map", wind.basic_velocity_m_s, "m/s", given)
        told = wind.model_fields_set
        high = "altitude_m" in told
        yield Figure("A", "altitude", wind.altitude_m, "m", given if high else "assumed", not high)
        row, known = table("wind")["terrain"], "terrain" in told
        z0, zmin = en1991.terrain(wind.terrain)
        how = "" if known else "assumed: "
        source = f"{how}terrain {wind.terrain}, {cited(row['source'], row['standing'])}"
        yield Figure("z0", "roughness length", z0, "m", source, not known)
        yield Figure("zmin", "least height of the profile", zmin, "m", source, not known)
        row = table("wind")["rho"]
        source = cited(row["source"], row["standing"])
        yield Figure("rho", "density of air", row["value"], row["unit"], source)
    yield Figure("phi", "solidity", wind.solidity, "", given)


def wall_given(section: Section, masonry: Masonry) -> Iterator[Figure]:
    """The wall as set out, its strengths and factors."""
    laid, told = "as set out", masonry.model_fields_set
    yield Figure("t", "thickness", section.thickness, "mm", laid)
    yield Figure("h", "height exposed", section.exposed, "mm", laid)
    yield Figure("ze", "top of the wall above ground", section.finished, "mm", laid)
    weight = unit_weight(section.density_kg_m3)
    yield Figure("", "weight of the masonry, holes taken off", weight, "kN/m3", "block's density")
    row = table("flexure")["fxk1"]
    for level in section.levels:
        assumed = level.bonded and not {"unit", "mortar"} <= told
        source = f"{masonry.unit}, {masonry.mortar}; {cited(row['source'], row['standing'])}"
        if not level.bonded:
            source = "a damp-proof course takes no tension unless its maker shows it"
        how = "assumed: " if assumed else ""
        name = f"flexural strength of the {level.name}"
        yield Figure("fxk1", name, section.fxk1(level), "N/mm2", how + source, assumed)
    row, known = table("flexure")["gamma_M"], "control" in told
    source = f"class {masonry.control}, {cited(row['source'], row['standing'])}"
    how = "" if known else "assumed: "
    factor_m = en1996.gamma_M(masonry.control)
    yield Figure("gamma_M", "masonry in bending", factor_m, "", how + source, not known)
    by = factors("EQU")
    yield Figure("gamma_Q", "wind, unfavourable", by.gamma_Q, "", by.cited)
    yield Figure("gamma_G", "weight, favourable", by.gamma_G_fav, "", by.cited)
    if section.footing is not None:
        cast = limits()["concrete_weight"]
        yield Figure("", "weight of the footing's concrete", cast.value, cast.unit, cast.cited)


def wind_steps(section: Section, wind: Wind) -> Iterator[Figure]:
    """From the map's velocity to the pressure."""
    if wind.basic_velocity_m_s is None:
        return
    code = "BS EN 1991-1-4"
    z, place = section.finished / 1000, en1991.terrain(wind.terrain)
    calt = en1991.calt(wind.altitude_m)
    vb = wind.basic_velocity_m_s * calt
    yield Figure("calt", "altitude factor", calt, "", f"{code} UK NA.2a (from memory)")
    yield Figure("vb", "basic wind velocity of the site", vb, "m/s", f"{code} 4.2")
    yield Figure("cr", "roughness factor", en1991.cr(z, *place), "", f"{code} 4.3.2")
    yield Figure("Iv", "turbulence intensity", en1991.Iv(z, *place), "", f"{code} 4.4")
    yield Figure("ce", "exposure factor", en1991.ce(z, *place), "", f"{code} 4.5")
    yield Figure("qp", "peak velocity pressure", en1991.qp(z, vb, *place), "Pa", f"{code} 4.5")


def wall_steps(section: Section) -> Iterator[Figure]:
    """What holds the wall, level by level."""
    yield Figure("Z", "section modulus", en1996.Z(section.thickness) / 1e3, "cm3/m", "t2/6")
    for level in section.levels:
        at, z = level.name, level.z
        compression = section.compression(z)
        strength = en1996.fd(
            section.fxk1(level), en1996.gamma_M(section.masonry.control), compression
        )
        rule = "BS EN 1996-1-1 6.3.1"
        yield Figure("N", f"weight on the {at}", section.weight(z), "kN/m", "computed")
        yield Figure("gd", f"design compression, {at}", compression, "N/mm2", "gamma_G N / t")
        yield Figure("fd", f"design strength, {at}", strength, "N/mm2", "fxk1 / gamma_M + gd")
        yield Figure("MRd", f"resistance in bending, {at}", section.bending(level), "kNm/m", rule)
        held = section.stabilising(z)
        yield Figure("", f"resistance of a rigid body, {at}", held, "kNm/m", "gamma_G N t / 2")
