"""The lines of an order: what is bought or hauled, and how that follows from the net quantity."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

NOT_GIVEN = "not given"
"""Standing of a step whose figure nobody gave."""
LEAST = 1e-9
"""Less than this of a unit is a float's last digits."""


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that makes the order differ from the net quantity.

    Attributes:
        what: in words, for instance ``waste 5 %`` or ``rounded up to packs of 48``.
        adds: what it adds, in the line's unit.
        source: of the rule: published, common practice, or the job file.
        standing: read, computed, common practice, from memory, the job file's, or not given.
    """

    what: str
    adds: float
    source: str
    standing: str


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One thing to order, hire, or have taken away.

    Attributes:
        key: stable name under which a price list knows it, for instance ``block 440x100x140``.
        group: blocks, copings, cement, mortar, concrete, planter, sundries, or away.
        unit: nr, m, m2, m3, t, kg, l or ml.
        net: as built, in `unit`.
        steps: what leads from the net quantity to the order, in order.
        pack: size of what is sold, in `unit`; 1 where it is sold by the piece or loose.
        pack_name: what that is called, for instance ``bag of 25 kg``; empty where loose.
        mass_kg: of the order.
        where: what it is for, in words.
    """

    key: str
    group: str
    unit: str
    net: float
    steps: tuple[Step, ...]
    pack: float = 1.0
    pack_name: str = ""
    mass_kg: float = 0.0
    where: str = ""

    @property
    def order(self) -> float:
        """What is ordered, in `unit`: the net quantity and all steps."""
        return self.net + sum(step.adds for step in self.steps)

    @property
    def known(self) -> bool:
        """Whether the quantity is known; without a dosage it is not."""
        return all(step.standing != NOT_GIVEN for step in self.steps)

    @property
    def needed(self) -> bool:
        """Whether anything is ordered; a float's last digits are nothing."""
        return self.order > LEAST

    @property
    def packs(self) -> float:
        """How many packs that is."""
        return self.order / self.pack


SYMBOL_LETTERS = 2
"""A unit's symbol is no longer, and has no plural."""


def plural(name: str, count: Decimal | int) -> str:
    """A pack's or a unit's name for so many of them: ``bags of 25 kg``, ``days``, ``m3``."""
    if count == 1 or len(name) <= SYMBOL_LETTERS:
        return name
    noun, *rest = name.split(" of ")
    return " of ".join([f"{noun}{'es' if noun.endswith('x') else 's'}", *rest])
