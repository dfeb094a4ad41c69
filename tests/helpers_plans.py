"""Plans and sections for tests: what stands in a view, measured."""

from pathlib import Path

import pytest

from parametric_wall.drawings.dimension_lines import dimension_ends
from parametric_wall.drawings.placing.boxes import boxes
from parametric_wall.drawings.placing.clear import segments
from parametric_wall.drawings.view import Dimension, Label, Use
from parametric_wall.drawings.views import views
from parametric_wall.job.read import load, validate
from parametric_wall.job.resolve import resolve
from parametric_wall.setting_out.set_out import set_out

EXAMPLES = Path("examples")


def example(name):
    spec = load(EXAMPLES / f"{name}.toml")
    return spec, set_out(spec)


def job(wall, **more):
    table = {"title": "A wall", "block": {"size": "440x140x140"}, "walls": [wall], **more}
    spec = resolve(validate(table))
    return spec, set_out(spec)


def drawn(spec, laid, scale=20.0):
    """Every view of a job at one scale, by its name."""
    made = [one.make(scale) for one in views(spec, laid) if scale in one.scales]
    assert len({view.name for view in made}) == len(made)
    return {view.name: view for view in made}


def of_kind(made, kind):
    """The views whose names begin so."""
    found = [view for name, view in made.items() if name.startswith(kind)]
    assert found
    return found


def length(dimension):
    return dimension_ends(
        dimension.start, dimension.end, dimension.through, dimension.turn_deg
    ).length


def dimensions(view):
    return [mark for mark in view.marks if isinstance(mark, Dimension)]


def lengths(view, turn=None):
    """What is dimensioned in a view, mm; of one direction only if given."""
    return [length(d) for d in dimensions(view) if turn is None or d.turn_deg == turn]


def rows(view, turn):
    """The dimension lines of one direction: lengths in order, line by line."""
    found = {}
    for one in dimensions(view):
        if one.turn_deg == turn:
            ends = dimension_ends(one.start, one.end, one.through, turn)
            line, at = (ends.start[1], ends.start[0]) if turn == 0 else ends.start
            found.setdefault(round(line, 3), []).append((at, ends.length))
    # To a millionth of a mm: the floats of a sum and of what is summed differ beyond that.
    return [[round(size, 6) for _, size in sorted(row)] for row in found.values()]


def has(view, wanted, turn=None):
    """Whether a length is dimensioned, to a thousandth of a mm."""
    return any(size == pytest.approx(wanted, abs=1e-3) for size in lengths(view, turn))


def texts(view):
    return [mark.text for mark in view.marks if isinstance(mark, Label)]


def over_one_another(view):
    """Texts over texts and texts over lines, mm of paper."""
    found, lines = boxes(view), segments(view.marks, view.scale, view.symbols)
    for i, box in enumerate(found):
        yield from (f"{box.text!r} over {o.text!r}" for o in found[:i] if box.meets(o))
        yield from (f"{box.text!r} over a line at {s}" for s in lines if box.crossed(s))


def undefined(view):
    """Symbols that are used and not there."""
    known = [symbol.name for symbol in view.symbols]
    assert len(set(known)) == len(known)
    return {mark.symbol for mark in view.marks if isinstance(mark, Use)} - set(known)
