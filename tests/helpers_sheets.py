"""Sheets for tests: all of a job, and what stands over what on them."""

from itertools import pairwise

from parametric_wall.drawings.lower import lower
from parametric_wall.drawings.pages import pages
from parametric_wall.drawings.placing.boxes import text_box
from parametric_wall.drawings.sheet import Area, Line, Text
from parametric_wall.drawings.views import views


def sheets_of(spec, laid, title="A wall"):
    return [lower(page) for page in pages(title, "2026-03-14", views(spec, laid))]


def box_of(text):
    return text_box(text.text, text.at, text.height, text.anchor, text.turn_deg)


def segments(line):
    points = (*line.points, line.points[0]) if line.closed else line.points
    return list(pairwise(points))


def overlaps(sheet):
    """Texts over texts, and texts over lines, in words."""
    boxes = [box_of(mark) for mark in sheet.marks if isinstance(mark, Text)]
    bounds = [box.bounds() for box in boxes]
    lines = [(m.layer, s) for m in sheet.marks if isinstance(m, Line) for s in segments(m)]
    for i, (a, at) in enumerate(zip(boxes, bounds, strict=True)):
        for b, other in zip(boxes[:i], bounds[:i], strict=True):
            if _near(at, other) and a.meets(b):
                yield f"{sheet.name}: {a.text!r} over {b.text!r}"
        for layer, ((x0, y0), (x1, y1)) in lines:
            span = min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)
            if _near(at, span) and a.crossed(((x0, y0), (x1, y1))):
                yield f"{sheet.name}: {a.text!r} over a line of {layer} at {span}"


def _near(a, b):
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def outside(sheet, frame):
    """Marks that are not within a frame: x0, y0, x1, y1, mm."""
    x0, y0, x1, y1 = frame
    for mark in sheet.marks:
        points = {Line: "points", Area: "outline"}.get(type(mark))
        found = getattr(mark, points) if points else box_of(mark).corners
        for x, y in found:
            if not (x0 - 1e-6 <= x <= x1 + 1e-6 and y0 - 1e-6 <= y <= y1 + 1e-6):
                yield f"{sheet.name}: {mark} outside"
                break


def golden(sheets):
    """Sheets as text, a sorted line a mark, to a hundredth of a mm."""
    lines = []
    for sheet in sheets:
        lines.append(f"{sheet.name} {sheet.width:g} {sheet.height:g}")
        lines += sorted(_told(mark) for mark in sheet.marks)
    return "\n".join(lines) + "\n"


def _told(mark):
    if isinstance(mark, Text):
        place = f"{_pair(mark.at)} {mark.anchor} {mark.turn_deg:g} {mark.height:g}"
        return f"{mark.layer}: text {place} {mark.text}"
    points = mark.points if isinstance(mark, Line) else mark.outline
    kind = "area" if isinstance(mark, Area) else "outline" if mark.closed else "line"
    return f"{mark.layer}: {kind} {' '.join(map(_pair, points))}"


def _pair(point):
    x, y = (round(value, 2) + 0.0 for value in point)
    return f"{x:g},{y:g}"
