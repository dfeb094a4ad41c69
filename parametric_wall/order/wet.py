"""Mortar and footing concrete: how much is made, and the sand, cement and ballast for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from parametric_wall.job.ordering import Mortar
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.line import NOT_GIVEN, OrderLine, Step
from parametric_wall.order.lines import (
    JOB_FILE,
    bag_kg,
    density,
    loose_line,
    rounded,
    that_count,
    waste_step,
)
from parametric_wall.order.mixes import Mix, concrete_mix, mortar_mix
from parametric_wall.reference.tables import table
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.quantities import MORTAR, placed_volumes

MAKERS_DOSAGE = "the dosage is the maker's: give [mortar] plasticiser_ml_per_bag"


@dataclass(frozen=True, slots=True)
class Making:
    """What is mixed on site.

    Attributes:
        what: mortar or concrete.
        mix: of what.
        net_m3: as placed.
        waste: what is added, m3.
    """

    what: Literal["mortar", "concrete"]
    mix: Mix
    net_m3: float
    waste: Step

    @property
    def made_m3(self) -> float:
        """What is mixed, m3."""
        return self.net_m3 + self.waste.adds


def makings(spec: JobSpec, laid: SettingOut) -> tuple[Making, ...]:
    """What of mortar and concrete is mixed on site."""
    total = placed_volumes(laid)
    mortar = sum(total[kind] for kind in MORTAR)
    found = [Making("mortar", mortar_mix(spec.job), mortar, waste_step(spec, "mortar", mortar))]
    mix, footing = concrete_mix(spec.job), total["footing"]
    if mix is not None and footing > 0:
        found.append(Making("concrete", mix, footing, waste_step(spec, "concrete", footing)))
    return tuple(found)


def wet_lines(spec: JobSpec, laid: SettingOut) -> Iterator[OrderLine]:
    """Cement, lime, sand, aggregates, plasticiser, and concrete that comes ready-mixed."""
    made = makings(spec, laid)
    yield _bagged("cement", made)
    if any(p.material == "lime" for m in made for p in m.mix.parts):
        yield _bagged("lime", made)
    for making in made:
        for part in making.mix.parts:
            if part.material not in ("cement", "lime"):
                steps = [_scaled(making.waste, part.kg)]
                # Ballast has its own loose density by the rule of its mix.
                loose = part.kg / part.loose_m3
                net = making.net_m3 * part.kg
                where = _where(making)
                yield loose_line(spec, part.material, making.what, net, steps, loose, where)
    yield from _plasticiser(spec, made[0])
    yield from _ready_mixed(spec, placed_volumes(laid)["footing"])


def _bagged(material: str, made: tuple[Making, ...]) -> OrderLine:
    """What comes in 25 kg bags, for mortar and concrete together: one last part bag, not two."""
    uses = [(m, p.kg) for m in made for p in m.mix.parts if p.material == material]
    net = sum(m.net_m3 * kg for m, kg in uses)
    steps = [
        replace(_scaled(m.waste, kg), what=f"{m.waste.what} of the {m.what}") for m, kg in uses
    ]
    amount = net + sum(s.adds for s in steps)
    steps.append(rounded(amount, bag_kg(), "whole bags"))
    order = net + sum(s.adds for s in steps)
    where = " + ".join(f"{m.what} {m.made_m3 * kg:.0f} kg" for m, kg in uses)
    name = f"bag of {bag_kg():g} kg"
    some = that_count(steps)
    return OrderLine(material, "cement", "kg", net, some, bag_kg(), name, order, where)


def _scaled(step: Step, by: float) -> Step:
    return replace(step, adds=step.adds * by)


def _where(making: Making) -> str:
    return f"{making.what} {making.mix.name}, {making.made_m3:.3f} m3"


def plasticised(making: Making, job: Mortar) -> bool:
    """Whether plasticiser goes in: into mortar without lime, as the job wants it."""
    limed = any(p.material == "lime" for p in making.mix.parts)
    return making.what == "mortar" and job.plasticiser and not limed


def _plasticiser(spec: JobSpec, mortar: Making) -> Iterator[OrderLine]:
    job = spec.job.mortar
    if not plasticised(mortar, job):
        return
    where = _where(mortar)
    if job.plasticiser_ml_per_bag is None:
        step = Step(MAKERS_DOSAGE, 0.0, "the label", NOT_GIVEN)
        yield OrderLine("plasticiser", "mortar", "ml", 0.0, (step,), where=where)
        return
    per_m3 = job.plasticiser_ml_per_bag * mortar.mix.cement.kg / bag_kg()
    steps = (_scaled(mortar.waste, per_m3),)
    some = that_count(steps)
    yield OrderLine("plasticiser", "mortar", "ml", mortar.net_m3 * per_m3, some, where=where)


def _ready_mixed(spec: JobSpec, net: float) -> Iterator[OrderLine]:
    job = spec.job.concrete
    if job.made_of != "ready-mix" or net <= 0:
        return
    steps = [waste_step(spec, "concrete", net)]
    least, part = table("mixes")["least_load"], table("mixes")["part_load"]
    most = float(least["value"]) if job.least_load_m3 is None else job.least_load_m3
    amount = net + steps[0].adds
    if amount < most:
        given = job.least_load_m3 is not None
        source, standing = (JOB_FILE, JOB_FILE) if given else (least["source"], least["standing"])
        steps.append(Step(f"least load of {most:g} m3", most - amount, source, standing))
    where = f"footing, {table('mixes')['ready_mix'][job.ready_mix]['strength']}"
    if max(amount, most) < float(part["value"]):
        where += f"; expect a part-load charge under about {part['value']:g} m3"
    order = net + sum(s.adds for s in steps)
    key, kg = f"ready-mixed concrete {job.ready_mix}", order * density("concrete")
    some = that_count(steps)
    yield OrderLine(key, "concrete", "m3", net, some, mass_kg=kg, where=where)
