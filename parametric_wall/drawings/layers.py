"""The layers of all sheets: how each is drawn. Legible in black and white."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Layer:
    """How the marks of a layer are drawn.

    Attributes:
        pen: width of its lines, paper mm.
        grey: of its areas and lines, 0 black to 1 white.
        dash: lengths drawn and left out in turn, paper mm; empty for a whole line.
    """

    pen: float
    grey: float = 0.0
    dash: tuple[float, ...] = ()


LAYERS = {
    "axis": Layer(0.25),
    "grid": Layer(0.13, 0.6),
    "limit": Layer(0.5, 0.0, (3.0, 1.5)),
    "curve": Layer(0.5),
    "second curve": Layer(0.5, 0.0, (0.8, 0.8)),
    "load": Layer(0.35, 0.35),
    "load area": Layer(0.13, 0.85),
    "masonry": Layer(0.35, 0.75),
    "concrete": Layer(0.35, 0.9),
    "bar": Layer(0.25, 0.4),
    "idle": Layer(0.13, 0.9),
    "outline": Layer(0.35),
    "text": Layer(0.25),
    "dimensions": Layer(0.18),
    "hatch": Layer(0.13, 0.45),
    "footing": Layer(0.35),
    "blocks": Layer(0.25),
    "mortar": Layer(0.13),
    "copings": Layer(0.25),
    "ground": Layer(0.5),
    "drainage": Layer(0.25),
    "soil": Layer(0.18),
    "existing": Layer(0.35),
    "hidden lines": Layer(0.18, 0.0, (2.0, 1.0)),
    "setting out": Layer(0.25),
    "string lines": Layer(0.25, 0.0, (6.0, 1.0, 0.8, 1.0)),
    "damp course": Layer(0.7),
    "membrane": Layer(0.5, 0.0, (1.5, 0.8)),
    "weeps": Layer(0.25, 0.0, (1.0, 0.6)),
    "leaders": Layer(0.13),
    "axes": Layer(0.35),
    "fillers": Layer(0.25),
    "break lines": Layer(0.18),
    "profiles": Layer(0.7),
    "section line": Layer(0.5),
    "cut pieces": Layer(0.5),
    "weep holes": Layer(0.7),
    "match line": Layer(0.5, 0.0, (8.0, 1.5, 1.0, 1.5, 1.0, 1.5)),
    "frame": Layer(0.5),
}
