"""Writes a font's table of advance widths beside it: ``python tests/tools/font_widths.py TTF``."""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools.ttLib import TTFont

PER_LINE = 24


def table(font: Path) -> str:
    """Lines of a first code point and the widths from it on, units of the em."""
    read = TTFont(font)
    metrics = read["hmtx"].metrics
    widths = {code: metrics[name][0] for code, name in sorted(read.getBestCmap().items())}
    lines: list[list[int]] = []
    for code, width in widths.items():
        if not lines or code != lines[-1][0] + len(lines[-1]) - 1 or len(lines[-1]) > PER_LINE:
            lines.append([code])
        lines[-1].append(width)
    return "".join(f"{line[0]:04x} {' '.join(map(str, line[1:]))}\n" for line in lines)


if __name__ == "__main__":
    path = Path(sys.argv[1])
    path.with_suffix(".widths").write_text(table(path), encoding="utf-8")
