"""How a line of an order is made: waste, whole units, whole packs, and what it weighs."""

from __future__ import annotations

from collections.abc import Iterable

from parametric_wall.job.ordering import Packs
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.line import OrderLine, Step
from parametric_wall.reference.tables import table
from parametric_wall.takeoff.quantities import up, waste

JOB_FILE = "the job file"
COMMON = "common practice"
KG_PER_T = 1000.0


def waste_step(spec: JobSpec, name: str, base: float, what: str = "waste") -> Step:
    """What waste adds to a quantity, in its unit; the job's own percentage or the usual one."""
    percent = waste(name, spec.job)
    row = table("waste")[name]
    given = getattr(spec.job.waste, f"{name}_percent") is not None
    source, standing = (JOB_FILE, JOB_FILE) if given else (row["source"], row["standing"])
    return Step(f"{what} {percent:g} %", base * percent / 100, source, standing)


def rounded(amount: float, pack: float, what: str, source: str = COMMON) -> Step:
    """What rounding up to whole packs adds; the last digits of a float do not count."""
    return Step(f"rounded up to {what}", up(amount / pack) * pack - amount, source, source)


def counted_line(
    key: str,
    group: str,
    noun: str,
    net: float,
    steps: Iterable[Step] = (),
    pack: int = 1,
    pack_name: str = "",
) -> OrderLine:
    """A line of what is bought by the piece, or in packs of so many pieces.

    Args:
        key: of the line.
        group: of the line.
        noun: what one of it is called.
        net: as built, pieces.
        steps: what comes on top, pieces; rounding up is added here.
        pack: pieces to a pack.
        pack_name: what that is called; empty where it is sold by the piece.
    """
    found = list(steps)
    amount = net + sum(s.adds for s in found)
    found.append(rounded(amount, 1, f"whole {noun}s"))
    if pack > 1:
        found.append(rounded(amount + found[-1].adds, pack, f"whole packs of {pack}", JOB_FILE))
    return OrderLine(key, group, "nr", net, that_count(found), float(pack), pack_name)


def loose_line(
    spec: JobSpec,
    key: str,
    group: str,
    net_kg: float,
    steps_kg: Iterable[Step],
    density: float,
    where: str = "",
) -> OrderLine:
    """A line of sand, ballast, gravel or soil, in what the job buys such things in.

    Args:
        spec: the job.
        key: of the line.
        group: of the line.
        net_kg: as built, kg.
        steps_kg: what comes on top, kg.
        density: loose, kg/m3.
        where: what it is for.
    """
    loose = spec.job.packs.loose
    unit, per_kg = ("m3", 1 / density) if loose == "loose m3" else ("t", 1 / KG_PER_T)
    steps = [Step(s.what, s.adds * per_kg, s.source, s.standing) for s in steps_kg]
    net = net_kg * per_kg
    order = net + sum(s.adds for s in steps)
    pack = _pack(spec.job.packs, order * KG_PER_T) if unit == "t" else None
    if pack is None:
        return OrderLine(
            key, group, unit, net, that_count(steps), mass_kg=order / per_kg, where=where
        )
    size, name, source, standing = pack
    adds = rounded(order, size, "").adds
    steps.append(Step("rounded up to whole bags", adds, source, standing))
    mass = (order + adds) / per_kg
    return OrderLine(key, group, unit, net, that_count(steps), size, name, mass, where)


def _pack(packs: Packs, kg: float) -> tuple[float, str, str, str] | None:
    """The bags for a mass: size in t, name, source and standing of the size; None where loose."""
    bags = table("bags")
    few = kg <= float(bags["few_bags"]["value"]) * bag_kg()
    if packs.loose == "25 kg bags" or (packs.loose == "as it suits" and few):
        return bag_kg() / KG_PER_T, f"bag of {bag_kg():g} kg", COMMON, COMMON
    if packs.loose == "loose tonnes":
        return None
    row, given = bags["bulk_bag"], packs.bulk_bag_kg
    if given is not None:
        return given / KG_PER_T, f"bulk bag of {given:g} kg", JOB_FILE, JOB_FILE
    size = float(row["value"])
    return size / KG_PER_T, f"bulk bag of {size:g} kg", row["source"], row["standing"]


def bag_kg() -> float:
    """Mass of a bag of cement, or of other things by the bag."""
    return float(table("bags")["bag"]["value"])


def density(material: str) -> float:
    """Of a loose material, kg/m3."""
    return float(table("bags")["density"][material]["value"])


def that_count(steps: Iterable[Step]) -> tuple[Step, ...]:
    """The steps that change something."""
    return tuple(s for s in steps if s.adds)
