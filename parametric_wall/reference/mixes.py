"""Mixes by volume as they are written: ``1:3``, ``1:1:6``, ``1:2:4``."""

from __future__ import annotations

import re

_MIX = re.compile(r"\d{1,2}(\.\d{1,2})?(:\d{1,2}(\.\d{1,2})?)+")
MOST_PARTS = 12
"""Of one material to one of cement: beyond, nothing binds."""


def parts_of(mix: str) -> tuple[float, ...]:
    """The parts of a mix, cement first: ``1:2:4`` is (1, 2, 4)."""
    return tuple(float(part) for part in mix.split(":"))


def checked(mix: str, lengths: tuple[int, ...]) -> str:
    """A mix as it was given.

    Raises:
        ValueError: it is no mix of as many materials, or has a part of nothing.
    """
    if not _MIX.fullmatch(mix) or len(parts_of(mix)) not in lengths:
        example = ":".join("124"[: lengths[-1]])
        count = " or ".join(map(str, lengths))
        msg = f"must be {count} parts by volume with colons, cement first, as {example}"
        raise ValueError(msg)
    cement, *rest = parts_of(mix)
    if not cement or not all(rest):
        msg = "has a part of nothing: every part is more than 0"
        raise ValueError(msg)
    if max(rest) > MOST_PARTS * cement:
        msg = f"has more than {MOST_PARTS} parts of one material to 1 of cement"
        raise ValueError(msg)
    return mix
