"""Calculations: what was worked out, from what, by which clause, and how near its limit it is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

State = Literal["within", "past", "no resistance"]


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a calculation.

    Attributes:
        symbol: the standard's own, for instance ``Ka``.
        name: in words.
        value: in `unit`.
        unit: for instance ``kN/m``; empty for a bare number.
        source: clause, table, or where it was given; "assumed" where nobody gave it.
        assumed: whether it is a default in place of something only the site can tell.
    """

    symbol: str
    name: str
    value: float
    unit: str = ""
    source: str = ""
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class Use:
    """How far something is used up: effect over resistance.

    Attributes:
        name: of what is held against what.
        effect: in `unit`.
        resistance: in `unit`, with the factors of its source in it.
        unit: of both.
        source: clause or rule.
        where: place along the wall, or empty.
    """

    name: str
    effect: float
    resistance: float
    unit: str
    source: str
    where: str = ""

    @property
    def ratio(self) -> float:
        """Effect over resistance: more than 1 is past the limit; infinite without resistance."""
        return self.effect / self.resistance if self.resistance > 0 else math.inf

    @property
    def state(self) -> State:
        """The ratio in a word."""
        if self.resistance <= 0:
            return "no resistance"
        return "past" if self.ratio > 1 else "within"


def shown_ratio(ratio: float) -> str:
    """A ratio as it is shown; in words where nothing resists."""
    return f"{ratio:.2f}" if math.isfinite(ratio) else "no resistance"


@dataclass(frozen=True, slots=True)
class Calculation:
    """One calculation of one wall.

    Attributes:
        code: stable, for instance ``earth-pressure``.
        title: in words.
        where: wall, or part of one.
        given: what it starts from.
        steps: what follows, in order.
        uses: how far each resistance is used up.
        not_counted: what helps or harms and is left out, in words.
        source: standard or handbook.
        beside: what a table says of the same, in words; neither proves the other.
    """

    code: str
    title: str
    where: str
    given: tuple[Figure, ...]
    steps: tuple[Figure, ...]
    uses: tuple[Use, ...]
    not_counted: tuple[str, ...]
    source: str
    beside: tuple[str, ...] = ()

    @property
    def wall(self) -> str:
        """Name of its wall."""
        return self.where.partition("/")[0]

    def figure(self, symbol: str) -> Figure:
        """The figure of a symbol.

        Raises:
            KeyError: it has none.
        """
        for figure in (*self.given, *self.steps):
            if figure.symbol == symbol:
                return figure
        raise KeyError(symbol)
