"""Views as a DXF for designers: model space only, mm of the wall, views side by side.

Every word of its own is in plain English: layers by what is drawn, blocks by what is
laid, dimension styles by their scale. AutoCAD 2010's edition of the format, which nearly
every program reads.
"""

from __future__ import annotations

import io
import json
import os
import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from parametric_wall.drawings.paper import bounds
from parametric_wall.drawings.sheet import Text
from parametric_wall.drawings.view import Dimension, View
from parametric_wall.export.dxf_marks import Draughtsman
from parametric_wall.export.dxf_style import set_up, set_up_layers

EDITION = "R2010"
APART = 20.0
"""Between two views, mm of paper."""
TITLE = 5.0
"""Height of a view's title, mm of paper."""
CACHE = "XDG_CACHE_HOME"
"""The variable that tells where the library keeps its list of the system's fonts."""
NO_FONTS = {"version": 2, "font-faces": []}
"""Such a list, as the library reads it."""


def dxf(views: tuple[View, ...]) -> bytes:
    """The views of a job, one beside the other.

    Loads ezdxf, where it is not yet, without the system's fonts. A program that goes on
    to measure texts with it calls `ezdxf.fonts.fonts.load()` first.

    Raises:
        ValueError: there is none.
    """
    if not views:
        raise ValueError("a drawing has at least one view")
    # Only here: it takes a moment to load.
    with no_fonts():
        import ezdxf

    with _same_every_time():
        doc = ezdxf.new(EDITION)
        set_up(doc, _scales(views))
        _side_by_side(Draughtsman(doc), views)
        set_up_layers(doc)
        for kind in sorted(doc.entitydb.dxf_types_in_use()):
            doc.classes.add_class(kind)  # Else in the order of a set, which is chance.
        text = io.StringIO()
        doc.write(text)
    return text.getvalue().encode("utf-8", "replace")


def _scales(views: tuple[View, ...]) -> list[float]:
    """Every scale once, the one of most dimensions first."""
    dimensions: Counter[float] = Counter()
    for view in views:
        dimensions[view.scale] += sum(isinstance(mark, Dimension) for mark in view.marks)
    return sorted(dimensions, key=lambda scale: (-dimensions[scale], scale))


def _side_by_side(draughtsman: Draughtsman, views: tuple[View, ...]) -> None:
    """Draw views from the left to the right, their zeros level, a title under each."""
    x = top = bottom = 0.0
    for view in views:
        left, low, right, high = (edge * view.scale for edge in bounds(view))
        gap = APART * view.scale
        draughtsman.draw(view, (x - left, 0.0))
        title = Text("text", (x, low - gap / 2.0), f"{view.title}, 1:{view.scale:g}", TITLE)
        draughtsman.title(title, view.scale)
        x += right - left + gap
        bottom, top = min(bottom, low - gap), max(top, high)
    doc = draughtsman.doc
    doc.modelspace().reset_extents((0.0, bottom, 0.0), (x, top, 0.0))
    doc.set_modelspace_vport((top - bottom) * 1.1, (x / 2.0, (top + bottom) / 2.0))


@contextmanager
def _same_every_time() -> Iterator[None]:
    """No date and no chance in what is written; the library is left as it was found."""
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


@contextmanager
def no_fonts() -> Iterator[None]:
    """Where the library finds an empty list of fonts, if it is still to be loaded.

    Without one it would read every font of the system and write the list to the user's
    home, or print a note where it cannot. No text is measured here by its fonts.
    """
    if "ezdxf" in sys.modules:
        yield
        return
    before = os.environ.get(CACHE)
    with TemporaryDirectory() as folder:
        kept = Path(folder, "ezdxf", "font_manager_cache.json")
        kept.parent.mkdir()
        kept.write_text(json.dumps(NO_FONTS), encoding="utf-8")
        os.environ[CACHE] = folder
        try:
            yield
        finally:
            if before is None:
                del os.environ[CACHE]
            else:
                os.environ[CACHE] = before
