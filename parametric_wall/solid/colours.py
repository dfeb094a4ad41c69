"""What each kind looks like: plain sRGB colours, several for what varies in the yard."""

from __future__ import annotations

from parametric_wall.setting_out.model import Kind

Rgb = tuple[float, float, float]

_MORTAR: Rgb = (0.80, 0.79, 0.75)
_STONE: Rgb = (0.54, 0.52, 0.50)

TINTS: dict[Kind, tuple[Rgb, ...]] = {
    "footing": ((0.66, 0.66, 0.64),),
    "block": (
        (0.76, 0.65, 0.49),
        (0.72, 0.60, 0.45),
        (0.80, 0.70, 0.55),
        (0.74, 0.61, 0.48),
    ),
    "bed": (_MORTAR,),
    "perp": (_MORTAR,),
    "filler": (_MORTAR,),
    "weep": ((0.10, 0.10, 0.10),),
    "coping bed": (_MORTAR,),
    "coping joint": (_MORTAR,),
    "coping": (_STONE, (0.50, 0.48, 0.46)),
    "drainage": ((0.58, 0.58, 0.60),),
    "soil": ((0.34, 0.25, 0.18),),
}
"""The first of each is the kind's own colour, where a format has one colour a shape."""
