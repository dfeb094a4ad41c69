"""Sheets of all kinds: nothing over anything, nothing outside, nothing left out.

Lettering of 2.5 mm at the least and its clearances follow ISO 3098 and ISO 129-1; scales
are those of ISO 5455, sheets those of ISO 216.
"""

import re
from itertools import pairwise
from pathlib import Path

import pytest
from helpers_sheets import (
    box_of,
    golden,
    outside,
    overlaps,
    segments,
    sheets_of,
)
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from strategies import jobs, laid_out

from parametric_wall.drawings.elevations.elevation import divided, elevation
from parametric_wall.drawings.elevations.front import short
from parametric_wall.drawings.pages import SCALES, Drawing, pages
from parametric_wall.drawings.sheet import Line, Sheet, Text
from parametric_wall.drawings.view import Dimension, Label, Use, View
from parametric_wall.drawings.views import views
from parametric_wall.job.read import load, validate
from parametric_wall.job.resolve import resolve
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.cutting import cut_units

EXAMPLES = Path("examples")
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.toml"))
TITLES = ("A wall", "A wall whose title runs on and on " * 8, "砌" * 90, "Übermaß\nund mehr")
A4, A3 = {(297.0, 210.0), (210.0, 297.0)}, {(420.0, 297.0), (297.0, 420.0)}


def example(name):
    spec = load(EXAMPLES / f"{name}.toml")
    return spec, set_out(spec)


def job(**wall):
    usual = {"block": {"size": "440x100x140"}, "coping": {"size": "600x180x50"}}
    own = {key: wall.pop(key) for key in ("block", "coping", "movement") if key in wall}
    table = {
        "title": "A wall",
        **{key: value for key, value in (usual | own).items() if value},
        "walls": [{"name": "wall", "height": {"courses": 3}} | wall],
    }
    spec = resolve(validate(table))
    return spec, set_out(spec)


def straight(length, **more):
    return job(plan={"shape": "straight", "length_mm": length}, **more)


def clean(sheets):
    for sheet in sheets:
        assert list(overlaps(sheet)) == []
        frame = 20.0, 10.0, sheet.width - 10.0, sheet.height - 10.0
        assert list(outside(sheet, frame)) == []
        assert (sheet.width, sheet.height) in A4 | A3
        assert min(m.height for m in sheet.marks if isinstance(m, Text)) >= 2.5


@pytest.mark.parametrize("name", NAMES)
def test_no_text_of_an_example_stands_over_anything(name):
    clean(sheets_of(*example(name)))


@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(jobs(), st.sampled_from(TITLES))
def test_no_text_of_any_job_stands_over_anything(table, title):
    clean(sheets_of(*laid_out(table), title))


CROWDED = {
    "one block": lambda: straight(440),
    "shortest": lambda: straight(250),
    "twenty metres": lambda: straight(20_000),
    "two courses below ground": lambda: straight(
        2230, footing={"below_ground_mm": 350, "depth_mm": 225}
    ),
    "many cuts": lambda: straight(
        3333,
        block={"size": "215x102.5x65"},
        height={"courses": 12},
        bond={"wish": "third", "third": "raking"},
    ),
    "weathered coping": lambda: straight(
        500,
        block={"size": "440x140x140"},
        height={"courses": 1},
        end={"kind": "abutment", "joint": "mortar"},
        coping={
            "length_mm": 900,
            "width_mm": 220,
            "thickness_mm": 45,
            "overhang_front_mm": 30,
            "profile": "weathered",
            "fall": {"to": "front", "mm": 5, "in_mm": 220},
        },
    ),
    "short leg past a corner": lambda: job(
        block={"size": "215x102.5x65"},
        bond={"wish": "third", "third": "raking"},
        footing={"spread_mm": 0, "depth_mm": 150, "below_ground_mm": 0},
        plan={
            "shape": "legs",
            "legs": [
                {"length_mm": 3930, "turn": "right"},
                {"length_mm": 3930, "turn": "left"},
                {"length_mm": 900},
            ],
        },
        body="right",
        height={"courses": 1},
        start={"kind": "abutment", "joint": "movement"},
        end={"kind": "abutment", "joint": "movement"},
        movement={"spacing_mm": 1500},
        coping=None,
    ),
    "inner corner": lambda: job(
        plan={
            "shape": "legs",
            "legs": [{"length_mm": 2230, "turn": "right"}, {"length_mm": 1890}],
        },
    ),
}


@pytest.mark.parametrize("which", CROWDED)
def test_crowded_walls_are_drawn_clean(which):
    spec, laid = CROWDED[which]()
    assert not laid.walls[0].unbonded
    for title in TITLES:
        clean(sheets_of(spec, laid, title))


def test_a_text_put_over_another_is_found():
    sheet = next(s for s in sheets_of(*example("herb-planter")) if "elevation" in s.name)
    texts = [mark for mark in sheet.marks if isinstance(mark, Text)]
    for what in (
        Text("text", texts[0].at, "over a text"),
        Text("text", next(m for m in sheet.marks if isinstance(m, Line)).points[0], "over a line"),
    ):
        spoilt = Sheet("x", "x", "x", sheet.width, sheet.height, (*sheet.marks, what))
        assert list(overlaps(spoilt)) != []
    beyond = Text("text", (sheet.width - 12.0, 50.0), "past the frame")
    spoilt = Sheet("x", "x", "x", sheet.width, sheet.height, (beyond,))
    assert list(outside(spoilt, (20.0, 10.0, sheet.width - 10.0, sheet.height - 10.0))) != []


def test_a_scale_at_which_texts_meet_is_left_out():
    def make(scale):
        at = [(0.0, 0.0), (0.0, 0.0 if scale < 20.0 else 1000.0)]
        marks = tuple(Label("text", place, "text") for place in at)
        return View("view", "View", "", scale, (), marks)

    (page,) = pages("A wall", "", [Drawing(make)])
    assert page.views[0].view.scale == 20.0


def test_a_very_long_wall_is_drawn():
    spec, laid = straight(60_000)
    scales = {
        placed.view.name: placed.view.scale
        for page in pages("A wall", "", views(spec, laid))
        for placed in page.views
    }
    assert scales["footing-plan-wall"] == 200.0  # 60 m are 600 mm at 1:100: more than A3.
    clean(sheets_of(spec, laid))


def test_course_plans_of_a_wall_stand_together():
    drawn = [
        [placed.view.name for placed in page.views]
        for page in pages("A wall", "", views(*example("herb-planter")))
    ]
    assert ["course-plan-herbs-c01", "course-plan-herbs-c02", "frame"] in drawn


def told_cuts(view):
    """Lengths of the cut pieces as the marks of a view tell them."""
    found, length, waits = {}, "", None
    for mark in (m for m in view.marks if isinstance(m, Label)):
        if re.fullmatch(r"[\d.]+", mark.text) and mark.anchor == "middle":
            waits = mark.text
        elif waits is not None:
            found[mark.text], waits = waits, None
        elif re.match(r"[\d.]+: ", mark.text) or (length and re.match(r".*/\d", mark.text)):
            told = mark.text
            if ": " in told:
                length, told = told.split(": ")
            found |= dict.fromkeys(told.split(", "), length)
    return found


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("scale", [5.0, 10.0, 20.0, 25.0])
def test_every_cut_piece_is_marked_with_its_length_of_the_cut_list(name, scale):
    spec, laid = example(name)
    cuts = [piece for unit in cut_units(spec, laid) for piece in unit.pieces]
    for wall, out in zip(spec.walls, laid.walls, strict=True):
        for number in wall.path.numbers:
            listed = {
                short(piece): f"{piece.length:.1f}"
                for piece in cuts
                if (piece.wall, piece.run) == (wall.name, number)
            }
            for parts in (
                [elevation(wall, out, number, scale)],
                divided(wall, out, number, scale, 3),
            ):
                told = {}
                for view in parts:
                    for mark, length in told_cuts(view).items():
                        assert told.setdefault(mark, length) == length
                assert {mark: f"{float(length):.1f}" for mark, length in told.items()} == listed


@pytest.mark.parametrize("name", NAMES)
def test_every_block_and_coping_of_a_run_is_drawn(name):
    spec, laid = example(name)
    for wall, out in zip(spec.walls, laid.walls, strict=True):
        for number in wall.path.numbers:
            own = [p for p in out.pieces if p.run == number and p.kind in ("block", "coping")]
            view = elevation(wall, out, number, 20.0)
            ends = sum(m.symbol.startswith("end-") for m in view.marks if isinstance(m, Use))
            assert sum(isinstance(m, Use) for m in view.marks) == len(own) + ends
            convex = sum(turn == 1 for turn in turns(wall.path, number) if turn is not None)
            # Of the two runs at a corner the other goes through in half of the courses.
            courses = wall.gauge.courses
            low, high = convex * (courses // 2), convex * (-(-courses // 2) + 1)
            assert low <= ends <= high


def turns(path, number):
    run = path.numbers.index(number)
    return path.turn_before(run), path.turn_after(run)


def test_dimensions_along_the_foot_add_up_to_the_run():
    spec, laid = example("orchard-wall")
    view = elevation(spec.walls[0], laid.walls[0], 1, 20.0)
    level = [m for m in view.marks if isinstance(m, Dimension) and m.turn_deg == 0.0]
    rows = {}
    for mark in level:
        rows.setdefault(mark.through[1], []).append(mark.end[0] - mark.start[0])
    nearest, *_, furthest = (rows[y] for y in sorted(rows, reverse=True))
    assert sum(nearest) == pytest.approx(spec.walls[0].path.lengths[0])
    spread = spec.walls[0].footing.spread_mm
    assert furthest == [pytest.approx(sum(nearest) + 2 * spread)]


def test_a_long_wall_goes_on_at_a_match_line_at_one_scale():
    spec, laid = straight(20_000)
    parts, captions = [], []
    for page in pages("A wall", "", views(spec, laid)):
        *drawn, frame = [placed.view for placed in page.views]
        number = int(page.name.split("-")[0])
        heads = [
            m.text for m in frame.marks if isinstance(m, Label) and ": elevation, 1:" in m.text
        ]
        shown = [view for view in drawn if view.name.startswith("elevation")]
        assert len(heads) == len(shown)
        parts += [(number, view) for view in shown]
        captions += heads
    assert len(parts) > 2
    assert len({view.scale for _, view in parts}) == 1
    assert len({number for number, _ in parts}) > 1
    for k, ((here, view), (there, after)) in enumerate(pairwise(parts)):
        lines = [
            {m.text for m in v.marks if isinstance(m, Label) and m.text.startswith("match line at")}
            for v in (view, after)
        ]
        assert len(lines[0] & lines[1]) == 1
        on, since = (
            (f"continues on sheet {there}", f"from sheet {here}")
            if here != there
            else ("continues below", "from above")
        )
        assert on in captions[k]
        assert since in captions[k + 1]
        uses = [{(m.symbol, m.at) for m in v.marks if isinstance(m, Use)} for v in (view, after)]
        # One piece of every course is on both: no perp stands at the match line.
        assert len(uses[0] & uses[1]) >= 4


@pytest.mark.parametrize("name", NAMES)
def test_a_check_bar_of_100_mm_stands_on_every_sheet(name):
    for sheet in sheets_of(*example(name)):
        label = next(m for m in sheet.marks if isinstance(m, Text) and m.text == "100 mm check")
        bar = [
            b[0] - a[0]
            for m in sheet.marks
            if isinstance(m, Line)
            for a, b in segments(m)
            if a[1] == b[1] == label.at[1] and b[0] < label.at[0]
        ]
        assert bar == [pytest.approx(100.0, abs=1e-9)]
        ratio = next(m.text for m in sheet.marks if isinstance(m, Text) and " on A" in m.text)
        assert float(ratio.removeprefix("1:").split()[0]) in {1.0, *SCALES}


def test_the_tiles_of_a_rod_are_as_large_as_they_are():
    spec, laid = example("herb-planter")
    gauge = spec.walls[0].gauge
    (sheet,) = (s for s in sheets_of(spec, laid) if "full size" in s.title)
    # Three courses of 140 on beds of 10: the marks stand 150 apart.
    figures = {m.text: m for m in sheet.marks if isinstance(m, Text)}
    for course in (1, 2, 3):
        assert f"{course * 150}" in figures
    foot = figures["foot"].at
    low = min(
        y for m in sheet.marks if isinstance(m, Line) if m.closed for _, y in m.points[:1] if y > 45
    )
    first = [
        m.points[0][1] - low
        for m in sheet.marks
        if isinstance(m, Line) and m.layer == "frame" and m.points[0][0] < foot[0] < m.points[1][0]
    ]
    assert pytest.approx(150.0) in first
    assert gauge.course_base(2) - gauge.base == 150.0


@pytest.mark.parametrize("name", ["herb-planter", "terrace-nook"])
def test_sheets_are_as_they_were(name):
    written = Path(__file__).parent / "golden" / f"{name}.txt"
    assert golden(sheets_of(*example(name), name)) == written.read_text(encoding="utf-8")


def test_a_title_is_shortened_and_not_clipped():
    sheet = sheets_of(*straight(440), TITLES[1])[0]
    title = next(m for m in sheet.marks if isinstance(m, Text) and m.text.endswith("…"))
    assert box_of(title).bounds()[2] < sheet.width - 10.0 - 46.0
