"""Views as a DXF for designers: model space only, mm of the wall, views side by side.

Every word of its own is in plain English: layers by what is drawn, blocks by what is
laid, dimension styles by their scale. AutoCAD 2010's edition of the format, which nearly
every program reads.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager

from parametric_wall.drawings.boxes import text_box
from parametric_wall.drawings.lower import view_marks
from parametric_wall.drawings.sheet import Line, Mark, Point, Text
from parametric_wall.drawings.view import Placed, View
from parametric_wall.export.dxf_marks import Draughtsman
from parametric_wall.export.dxf_style import set_up, set_up_layers

EDITION = "R2010"
APART = 20.0
"""Between two views, mm of paper."""
TITLE = 5.0
"""Height of a view's title, mm of paper."""


def dxf(views: tuple[View, ...]) -> bytes:
    """The views of a job, one beside the other.

    Raises:
        ValueError: there is none.
    """
    if not views:
        raise ValueError("a drawing has at least one view")
    # Only here: it takes a moment to load.
    import ezdxf

    with _same_every_time():
        doc = ezdxf.new(EDITION)
        set_up(doc, sorted({view.scale for view in views}))
        _side_by_side(Draughtsman(doc), views)
        set_up_layers(doc)
        text = io.StringIO()
        doc.write(text)
    return text.getvalue().encode("utf-8", "replace")


def _side_by_side(draughtsman: Draughtsman, views: tuple[View, ...]) -> None:
    """Draw views from the left to the right, their zeros level, a title under each."""
    x = top = bottom = 0.0
    for view in views:
        left, low, right, high = _bounds(view)
        gap = APART * view.scale
        draughtsman.draw(view, (x - left, 0.0))
        title = Text("text", (x, low - gap / 2.0), f"{view.title}, 1:{view.scale:g}", TITLE)
        draughtsman.title(title, view.scale)
        x += right - left + gap
        bottom, top = min(bottom, low - gap), max(top, high)
    doc = draughtsman.doc
    doc.header["$EXTMIN"], doc.header["$EXTMAX"] = (0.0, bottom, 0.0), (x, top, 0.0)
    doc.set_modelspace_vport((top - bottom) * 1.1, (x / 2.0, (top + bottom) / 2.0))


def _bounds(view: View) -> tuple[float, float, float, float]:
    """Least x and y, greatest x and y of everything that is drawn, mm of the wall."""
    points = [p for mark in view_marks(Placed(view, (0.0, 0.0))) for p in _points(mark)]
    xs, ys = [x * view.scale for x, _ in points], [y * view.scale for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _points(mark: Mark) -> tuple[Point, ...]:
    if isinstance(mark, Text):
        return text_box(mark.text, mark.at, mark.height, mark.anchor, mark.turn_deg).corners
    return mark.points if isinstance(mark, Line) else mark.outline


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
