"""The take-off: what the job needs, net and to order, each with its unit and its rule."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from parametric_wall.job.model import Job
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.reference.tables import limit, table
from parametric_wall.setting_out.model import Kind, SettingOut
from parametric_wall.setting_out.packs import Mixture
from parametric_wall.setting_out.panels import tie_count
from parametric_wall.takeoff.closed_form import blocks_by_area, closed_form, measure
from parametric_wall.takeoff.counted import counted
from parametric_wall.takeoff.cutting import cut_units, unit_names
from parametric_wall.units import cubic_metres, metres, square_metres


@dataclass(frozen=True, slots=True)
class Quantity:
    """One line of the take-off.

    Attributes:
        item: what it is.
        unit: nr, m, m2, m3 or kg.
        net: as built.
        order: to order; None where nothing is ordered.
        rule: how the order follows from the net figure.
    """

    item: str
    unit: str
    net: float
    order: float | None
    rule: str


def waste(name: str, job: Job | None = None) -> float:
    """Waste of a material, per cent: the job's own figure, else the usual one."""
    given = None if job is None else getattr(job.waste, f"{name}_percent")
    return float(table("waste")[name]["value"] if given is None else given)


def quantities(spec: JobSpec, laid: SettingOut) -> tuple[Quantity, ...]:
    """The take-off of a whole job."""
    return tuple(
        q for q in (*_units(spec, laid), *_volumes(spec, laid), *_measured(spec, laid)) if q.net > 0
    )


@dataclass(frozen=True, slots=True)
class UnitCount:
    """How many units of one size go into a job.

    Attributes:
        kind: block or coping.
        size: work sizes, for instance ``440x100x140``.
        whole: laid as they come.
        pieces: cut pieces.
        cut: units that those are cut from.
    """

    kind: Literal["block", "coping"]
    size: str
    whole: int
    pieces: int
    cut: int

    @property
    def net(self) -> int:
        """Units that are used up."""
        return self.whole + self.cut


def unit_counts(spec: JobSpec, laid: SettingOut) -> tuple[UnitCount, ...]:
    """Blocks and copings by number: whole ones, and one for every unit that is cut."""
    names, mixed = unit_names(spec), {f"block {m.name}" for m in laid.mixtures}
    whole: Counter[tuple[Literal["block", "coping"], str]] = Counter()
    cut: Counter[str] = Counter()
    for wall in laid.walls:
        for piece in wall.pieces:
            if piece.kind == "block" or piece.kind == "coping":  # noqa: PLR1714 (narrows the type)
                name, _ = names[piece.wall, piece.course]
                if name in mixed:
                    continue
                whole[piece.kind, name] += not piece.cut
                cut[name] += piece.cut
    units = Counter(u.unit for u in cut_units(spec, laid))
    return tuple(
        UnitCount(kind, name.split()[1], count, cut[name], units[name])
        for (kind, name), count in whole.items()
    )


def _units(spec: JobSpec, laid: SettingOut) -> Iterator[Quantity]:
    """Blocks and copings, net and to order."""
    for c in unit_counts(spec, laid):
        add = waste(c.kind, spec.job)
        rule = f"{c.whole} whole and {c.cut} for {c.pieces} cut pieces; + {add:g} %, rounded up"
        order = up(c.net * (1 + add / 100))
        yield Quantity(f"{c.kind}s, {c.size}", "nr", c.net, order, rule)
    for taken in laid.mixtures:
        yield from _mixed(taken, waste("block", spec.job))


def _mixed(taken: Mixture, add: float) -> Iterator[Quantity]:
    """Blocks of mixed lengths, length by length; where they come in packs, packs are ordered."""
    more = 1 + add / 100
    shares = zip(taken.lengths, taken.whole, taken.cut, taken.used, taken.shares, strict=True)
    for length, whole, cut, used, share in shares:
        rule = f"{whole} whole and {cut} to be cut, {share:.0%} of the blocks"
        rule += "; they come in packs" if taken.mix else f"; + {add:g} %, rounded up"
        order = None if taken.mix else up(used * more)
        yield Quantity(f"blocks, {taken.one_of(length)}", "nr", used, order, rule)
    if taken.mix:
        rule = (
            f"{of_each(taken, taken.mix)} each; no fewer than {taken.least}; left over "
            f"{of_each(taken, taken.left_over)}; + {add:g} %, rounded up"
        )
        order = packs_to_order(taken, add)
        yield Quantity(f"packs of blocks, {taken.name}", "nr", taken.packs, order, rule)


def packs_to_order(taken: Mixture, waste_percent: float) -> int:
    """Packs that hold every length with its waste."""
    more = 1 + waste_percent / 100
    return max(up(n * more / m) for n, m in zip(taken.used, taken.mix, strict=True))


def of_each(taken: Mixture, counts: Sequence[int]) -> str:
    """So many blocks of each length in words: ``1 x 190 + 2 x 290``."""
    lengths = zip(taken.lengths, counts, strict=True)
    return " + ".join(f"{n} x {length:g}" for length, n in lengths if n) or "none"


def up(value: float) -> int:
    """Rounded up to a whole number; a float's last digit does not count."""
    return math.ceil(round(value, 6))


MORTAR: tuple[Kind, ...] = ("bed", "perp", "coping bed", "coping joint")
"""Kinds of piece that are mortar."""


def placed_volumes(laid: SettingOut) -> dict[Kind, float]:
    """Volume of every kind of piece over the whole job, m3; 0 of what there is none of."""
    total: dict[Kind, float] = defaultdict(float)
    for wall in laid.walls:
        for kind, volume in counted(wall).items():
            total[kind] += cubic_metres(volume)
    return total


def _volumes(spec: JobSpec, laid: SettingOut) -> Iterator[Quantity]:
    total = placed_volumes(laid)
    mortar = sum(total[kind] for kind in MORTAR)
    rows = (
        ("concrete in the footing", total["footing"], "concrete"),
        ("mortar", mortar, "mortar"),
        ("drainage layer", total["drainage"], "drainage"),
        ("soil", total["soil"], "soil"),
    )
    for item, net, name in rows:
        add = waste(name, spec.job)
        yield Quantity(item, "m3", net, net * (1 + add / 100), f"net + {add:g} %")
    for item, net in (("blocks", total["block"]), ("copings", total["coping"])):
        yield Quantity(f"{item}, volume", "m3", net, None, "added up over the placed pieces")
    trench = sum(cubic_metres(closed_form(w).get("trench", 0.0)) for w in spec.walls)
    yield Quantity("trench, in the ground", "m3", trench, None, "plan of the footing x depth")


def _measured(spec: JobSpec, laid: SettingOut) -> Iterator[Quantity]:
    """Lengths and areas on the centre line."""
    area = sum(square_metres(_face(w)) for w in spec.walls)
    yield Quantity(
        "wall, on its centre line", "m2", area, None, "centre-line girth x masonry height"
    )
    estimate = sum(map(blocks_by_area, spec.walls))
    rule = "wall area over one block and its joints: an estimate that knows no bond"
    yield Quantity("blocks, by the area method", "nr", estimate, None, rule)
    coped = sum(metres(centre_line(w)) for w in spec.walls if w.coping is not None)
    yield Quantity("coping, on the centre line", "m", coped, None, "centre-line girth")
    dpc = sum(metres(centre_line(w)) for w in spec.walls if w.dpc is not None)
    yield Quantity("damp-proof course", "m", dpc, None, "centre-line girth; laps come on top")
    filler = sum(metres(p.shape.height) for w in laid.walls for p in w.pieces if p.kind == "filler")
    yield Quantity("movement joint", "m", filler, None, "height of the joint")
    ties = sum(tie_count(w) * measure(w).between for w in spec.walls)
    rule = f"across each joint, one every {limit('movement_tie_spacing'):g} mm of height"
    yield Quantity("slip ties", "nr", ties, ties, rule)
    yield Quantity("weep holes", "nr", _weeps(spec, laid), None, "spacing of the job")
    mass = sum(_mass(spec, laid).values())
    yield Quantity("blocks and copings, mass", "kg", mass, None, "volume x density")


def centre_line(spec: WallSpec) -> float:
    """Length of a wall on its centre line, mm."""
    return measure(spec).girth(spec.thickness / 2)


def _face(spec: WallSpec) -> float:
    return centre_line(spec) * spec.gauge.masonry


def _weeps(spec: JobSpec, laid: SettingOut) -> float:
    open_perps = sum(p.kind == "weep" for w in laid.walls for p in w.pieces)
    return open_perps + sum(map(weep_tubes, spec.walls))


def weep_tubes(spec: WallSpec) -> int:
    """Tubes through one wall, by their spacing."""
    if spec.weeps is None or spec.weeps.kind != "tubes":
        return 0
    return max(1, math.floor(centre_line(spec) / spec.weeps.spacing_mm))


def _mass(spec: JobSpec, laid: SettingOut) -> dict[str, float]:
    """Mass of each wall's blocks and copings, kg."""
    found = {}
    for wall, placed in zip(spec.walls, laid.walls, strict=True):
        volumes = counted(placed)
        mass = cubic_metres(volumes.get("block", 0.0)) * wall.block.density_kg_m3
        if wall.coping is not None:
            density = wall.coping.coping.density_kg_m3
            mass += cubic_metres(volumes.get("coping", 0.0)) * density
        found[wall.name] = mass
    return found
