"""How much paper a text takes in the one font of all drawings, DejaVu Sans.

The font lies in `fonts/` with its licence, and beside it a table of its advance widths,
so that a length of text is known without reading the font. Kerning is left out: a format
that places its own letters must switch it off to keep to these widths.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from pathlib import Path
from unicodedata import category, normalize

EM = 2048.0
"""Units of the font's em, the unit of its table."""

CAPITAL = 1493.0 / EM
"""Height of a capital letter over the font's size: its letter H."""

DEPTH = 483.0 / 1493.0
"""How far the font reaches below the base line, in heights of a capital."""

RISE = 1638.0 / 1493.0
"""How far its plain letters and signs reach above the base line, in heights of a capital."""

ACCENTED = 1901.0 / 1493.0
"""The same of capitals with an accent."""

SHORTENED = "…"
LACKING = "\N{REPLACEMENT CHARACTER}"


def font_file(*, bold: bool = False) -> Path:
    """The font as a TrueType file."""
    return Path(str(files("parametric_wall.drawings"))) / "fonts" / _name(bold=bold)


def _name(*, bold: bool) -> str:
    return "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"


def width(text: str, height: float) -> float:
    """Length of a text on paper, mm.

    Args:
        text: one line.
        height: of a capital letter, mm of paper.

    Returns:
        The sum of the advance widths. A character that the font lacks counts as its
        widest: the letters of other fonts that stand in are narrower.
    """
    table, widest = _widths()
    units = sum(table.get(ord(character), widest) for character in text)
    return units / EM * height / CAPITAL


def drawn(text: str) -> str:
    """A text as the font draws it: a sign stands for each character that it lacks."""
    table, _ = _widths()
    shown = (" " if c.isspace() else c for c in normalize("NFC", text) if category(c) != "Cf")
    return "".join(c if ord(c) in table else LACKING for c in shown)


def rise(text: str, height: float) -> float:
    """How far a text reaches above its base line, mm of paper."""
    return height * (RISE if text.isascii() else ACCENTED)


def shortened(text: str, height: float, room: float) -> str:
    """A text as it is where it has room, else as much of it as has, and an ellipsis.

    Nothing where even that has none.

    Args:
        text: one line.
        height: of a capital letter, mm of paper.
        room: mm of paper.
    """
    if width(text, height) <= room:
        return text
    parts = (text[:kept].rstrip() + SHORTENED for kept in range(len(text) - 1, -1, -1))
    return next((part for part in parts if width(part, height) <= room), "")


@cache
def _widths() -> tuple[dict[int, int], int]:
    """Advance widths by code point, units of the em, and the greatest of them."""
    table: dict[int, int] = {}
    for line in font_file().with_suffix(".widths").read_text(encoding="utf-8").splitlines():
        first, *widths = line.split()
        table.update(enumerate(map(int, widths), int(first, 16)))
    return table, max(table.values())
