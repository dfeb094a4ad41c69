"""What a DXF says once for all: units, layers, line types, how dimensions look."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from parametric_wall.drawings.dimension_lines import ABOVE, GAP, PAST, STROKE
from parametric_wall.drawings.layers import LAYERS, Layer
from parametric_wall.drawings.lettering import font_file

if TYPE_CHECKING:
    from ezdxf.document import Drawing

MILLIMETRES, METRIC = 4, 1
TEXT_HEIGHT = 2.5
STYLE = "drawings"
LINE_WIDTHS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100)
"""Hundredths of a mm: a layer may have no other."""


def set_up(doc: Drawing, scales: list[float]) -> None:
    """Units, text style, and one dimension style a scale; the first is the usual one."""
    doc.header["$INSUNITS"] = MILLIMETRES
    doc.header["$MEASUREMENT"] = METRIC
    doc.header["$LUNITS"], doc.header["$LUPREC"] = 2, 1
    doc.header["$LTSCALE"] = doc.header["$CELTSCALE"] = 1.0
    doc.header["$TEXTSTYLE"] = STYLE
    doc.header["$TEXTSIZE"] = TEXT_HEIGHT * scales[0]
    doc.styles.add(STYLE, font=font_file().name)
    for scale in scales:
        style: Any = doc.dimstyles.add(style_name(scale), dxfattribs=_look(scale))
        if scale == scales[0]:
            style.copy_to_header(doc)


def style_name(scale: float) -> str:
    """The dimension style of a scale."""
    return f"1-{scale:g}"


def _look(scale: float) -> dict[str, Any]:
    """Sizes are mm of paper; `dimscale` makes mm of the wall of them, and of lengths nothing."""
    return {
        "dimscale": scale,
        "dimlfac": 1.0,
        "dimtxt": TEXT_HEIGHT,
        "dimtxsty": STYLE,
        "dimtsz": STROKE,
        "dimasz": STROKE,
        "dimexo": GAP,
        "dimexe": PAST,
        "dimgap": ABOVE,
        "dimtad": 1,  # Above the line,
        "dimtih": 0,  # along it,
        "dimtoh": 0,
        "dimtix": 1,
        "dimtmove": 1,  # with a leader where it is moved.
        "dimlunit": 2,
        "dimdec": 1,
        "dimrnd": 0.0,
        "dimzin": 8,  # No noughts behind.
        "dimdsep": ord("."),
        "dimpost": "",
        "dimalt": 0,
        "dimtol": 0,
        "dimlim": 0,
        "dimcen": 0.0,
        "dimdli": 7.0,
        "dimtfac": 1.0,
        "dimfxl": 1.0,
        "dimazin": 0,
        "dimadec": 0,
        "dimclrd": 256,  # As the layer.
        "dimclre": 256,
        "dimclrt": 256,
        "dimlwd": -1,
        "dimlwe": -1,
    }


def set_up_layers(doc: Drawing) -> None:
    """The layers that something is drawn on."""
    used = {mark.dxf.layer for block in doc.blocks for mark in block}
    for name, layer in LAYERS.items():
        if name in used:
            _layer(doc, name, layer)


def _layer(doc: Drawing, name: str, layer: Layer) -> None:
    width = min(LINE_WIDTHS, key=lambda w: abs(w - 100 * layer.pen))
    made = doc.layers.add(name, linetype=_line_type(doc, layer.dash), lineweight=width, color=7)
    if layer.grey:
        level = round(255 * layer.grey)
        made.rgb = (level, level, level)


def _line_type(doc: Drawing, dash: tuple[float, ...]) -> str:
    """A line type, by a name that readers know which have their own of each."""
    if not dash:
        return "CONTINUOUS"
    usual = "DASHED" if len(dash) == 2 else "DASHDOT"
    name = next(n for n in (f"{usual}{end}" for end in ("TINY", "2", "")) if n not in doc.linetypes)
    signed = [d if i % 2 == 0 else -d for i, d in enumerate(dash)]
    doc.linetypes.add(name, [sum(dash), *signed])
    return name


CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]")


def plain(text: str) -> str:
    """A text that is read as it stands, and not as one of the format's codes.

    Not every reader knows all ways to write such a code out, so percent signs are set
    apart, and a caret from what follows it; a backslash is given by its number.
    """
    text = CONTROL.sub(" ", text).replace("\\", "\\U+005C").replace("^", "^ ")
    return re.sub("%(?=%)", "% ", text)
