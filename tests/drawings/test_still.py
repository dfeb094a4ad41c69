"""The still picture: all of it on the paper, its sizes true and legible, its words right."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from helpers_still import painted
from shapely import LineString, Polygon

from parametric_wall import load, loads, set_out
from parametric_wall.drawings.still.axonometric import Still, still
from parametric_wall.drawings.still.faces import Face
from parametric_wall.drawings.still.overall import Stroke, Text
from parametric_wall.drawings.still.projection import DIMETRIC
from parametric_wall.drawings.still.viewpoint import View, view_of

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
SIZES = {
    "between-garages": {3610, 664},
    "bin-store": {2390, 1190, 613},
    "corner-seat": {2140, 1690, 514},
    "drive-edge": {5390, 600},
    "cottage-border": {7490, 2225, 614},
    "herb-planter": {1940, 1040, 465},
    "lawn-bank": {4490, 517},
    "orchard-wall": {10340, 3740, 590},
    "pond-bands": {2840, 1490, 605},
    "steps-pair": {1790, 1805, 455},
    "terrace-nook": {3600, 2700, 470},
    "too-tall": {3015, 1300},
}
"""Lengths as the job files state them; two walls 1600 apart and 102.5 thick, two faces out.

Heights by hand, courses, beds, coping, less what is below ground: herbs 3 x 150 - 50, a bed of
10, a slab of 50 and its fall of 6 in 240; tall 6 x 225 - 50; bank 5 x 110 - 110 + 10 + 60 and a
fall of 8 in 305 from the front of the wall to the back of the slab, 260.
"""


def picture(job: Path) -> Still:
    spec = load(job)
    return still(set_out(spec), spec)


def straight(length: int, courses: int = 3, more: str = "") -> Still:
    spec = loads(f"""
title = "straight"
block = {{ size = "440x140x140" }}
[[walls]]
name = "one"
plan = {{ shape = "straight", length_mm = {length} }}
height = {{ courses = {courses} }}
{more}
""")
    return still(set_out(spec), spec)


def corners(mark: object) -> tuple[tuple[float, float], ...]:
    if isinstance(mark, Stroke | Text):
        return mark.corners()
    points: tuple[tuple[float, float], ...] = mark.points()  # type: ignore[attr-defined]
    return points


PICTURES = [pytest.param(picture(job), id=job.stem) for job in EXAMPLES]
PICTURES += [pytest.param(straight(n), id=f"straight {n}") for n in (440, 890, 20240, 60290)]
LEFT = """
title = "more is seen from the left"
block = { size = "440x140x140" }
coping = { size = "600x240x50" }
[[walls]]
name = "l"
plan = { shape = "legs", legs = [{ length_mm = 1590, turn = "left" }, { length_mm = 3140 }] }
height = { courses = 4 }
end = { kind = "abutment" }
"""


def from_the_left() -> Still:
    spec = loads(LEFT)
    return still(set_out(spec), spec)


PICTURES.append(pytest.param(from_the_left(), id="from the left"))
PICTURES.append(
    pytest.param(straight(1790, more='start = { kind = "abutment" }'), id="abutment at the left")
)
PICTURES.append(pytest.param(straight(890, 7), id="narrow and tall"))


@pytest.mark.parametrize("shown", PICTURES)
def test_all_of_it_is_on_the_paper(shown: Still) -> None:
    points = [p for mark in shown.marks for p in corners(mark)]
    assert min(x for x, _ in points) >= 4
    assert min(y for _, y in points) >= 4
    assert max(x for x, _ in points) <= shown.width - 4
    assert max(y for _, y in points) <= shown.height - 4
    assert (shown.width, shown.height <= 120) == (180, True)


@pytest.mark.parametrize("shown", PICTURES)
def test_no_text_lies_on_a_line_another_text_or_a_wall(shown: Still) -> None:
    texts = [Polygon(m.corners()) for m in shown.marks if isinstance(m, Text)]
    lines = [LineString((m.a, m.b)) for m in shown.marks if isinstance(m, Stroke)]
    walls = [Polygon(face.outline) for face in painted(shown).faces]
    assert len(texts) >= 2
    for i, text in enumerate(texts):
        for other in (*lines, *walls, *texts[:i]):
            assert not text.intersects(other)


@pytest.mark.parametrize("job", EXAMPLES, ids=lambda job: job.stem)
def test_main_sizes(job: Path) -> None:
    shown = picture(job)
    assert {m.text for m in shown.marks if isinstance(m, Text)} == {
        f"{size} mm" for size in SIZES[job.stem]
    }
    assert all(m.capital >= 2.5 for m in shown.marks if isinstance(m, Text))
    assert all(f"{size} mm" in shown.told for size in SIZES[job.stem])


def test_a_dimension_line_is_as_long_as_it_says_by_the_scale_of_its_axis() -> None:
    shown = picture(EXAMPLES[[job.stem for job in EXAMPLES].index("herb-planter")])
    lines = [m for m in shown.marks if isinstance(m, Stroke)]
    texts = [m for m in shown.marks if isinstance(m, Text)]
    for text, axis in zip(texts, (1.0, 0.5, 1.0), strict=True):
        line = min(
            (m for m in lines if m.pen == lines[0].pen),
            key=lambda m: abs(math.dist(m.a, m.b) - float(text.text[:-3]) * axis * shown.scale),
        )
        length = math.dist(line.a, line.b) / axis / shown.scale
        assert length == pytest.approx(float(text.text[:-3]), abs=0.5)


def test_the_front_is_seen_and_of_an_l_both_fronts() -> None:
    names = {job.stem: job for job in EXAMPLES}
    for stem, runs in (("herb-planter", 2), ("corner-seat", 2), ("pond-bands", 2)):
        spec = load(names[stem])
        view = view_of(spec, DIMETRIC)
        assert fronts_seen(view, stem) == runs


def fronts_seen(view: View, stem: str) -> int:
    """Runs whose front looks towards who looks, counted from their headings in the job files."""
    headings = {
        "herb-planter": (15, 105, 195, 285),
        "corner-seat": (0, 90),
        "pond-bands": (0, 90, 180),
    }[stem]
    seen = 0
    for heading in headings:
        turned = math.radians(heading - view.heading_deg)
        front = (math.sin(turned), -math.cos(turned))
        towards = view.projection.towards
        seen += front[0] * towards[0] + front[1] * towards[1] > 1e-9
    return seen


def test_a_wall_walked_the_other_way_is_the_same_picture_but_for_its_ids() -> None:
    one, other = straight(1790), straight(1790, more='body = "right"')
    flat, turned = (
        [value for mark in shown.marks for point in corners(mark) for value in point]
        for shown in (one, other)
    )
    assert flat == pytest.approx(turned)


def test_the_words_of_a_planter() -> None:
    shown = picture(EXAMPLES[[job.stem for job in EXAMPLES].index("herb-planter")])
    assert shown.title == "Herb planter by the kitchen door"
    assert shown.told == (
        "Dimetric view from the front right. Wall herbs: closed, runs of 1940 and 1040 and 1940 "
        "and 1040 mm, 465 mm high above ground, 3 courses of 140 mm blocks, copings and soil and "
        "plants inside. Overall 1940 mm long, 1040 mm across. A person of 1750 mm stands by for "
        "scale."
    )


def test_a_person_is_drawn_to_scale() -> None:
    """Crown and feet of the one grey figure are 1750 mm apart."""
    shown = straight(4490)
    grey = [m for m in shown.marks if getattr(m, "fill", "") == "#d0d3d6"]
    ys = [y for m in grey for _, y in corners(m)]
    assert (max(ys) - min(ys)) / shown.scale == pytest.approx(1750, rel=0.005)


def test_tones_are_the_same_every_time_and_vary_from_block_to_block() -> None:
    fills = [m.fill for m in straight(8990).marks if isinstance(m, Face) and len(m.pieces) == 1]
    assert fills == [
        m.fill for m in straight(8990).marks if isinstance(m, Face) and len(m.pieces) == 1
    ]
    assert len(set(fills)) > 4


def test_what_is_too_fine_to_see_is_not_painted() -> None:
    assert len(straight(20240).marks) > 150
    spec = loads("""
title = "long"
designed_by = "calculations for the wall"
block = { size = "440x140x140" }
[[walls]]
name = "one"
plan = { shape = "straight", length_mm = 400040 }
height = { courses = 3 }
""")
    assert len(still(set_out(spec), spec).marks) < 60


def test_a_job_that_no_bond_fills_still_has_a_picture() -> None:
    spec = loads("""
title = "unbonded"
block = { size = "440x140x140" }
bond = { min_lap_mm = 220 }
[[walls]]
name = "one"
plan = { shape = "straight", length_mm = 1000 }
height = { courses = 3 }
""")
    laid = set_out(spec)
    assert laid.walls[0].unbonded
    shown = still(laid, spec)
    assert "No main sizes are drawn." in shown.told


def test_the_longer_front_lies_along_the_picture_and_the_other_is_seen_beside_it() -> None:
    shown = from_the_left()
    assert not shown.view.right
    assert shown.view.heading_deg == 90
    assert shown.told.startswith("Dimetric view from the front left.")


@pytest.mark.parametrize("shown", PICTURES)
def test_ticks_stand_out_from_their_lines_and_extension_lines(shown: Still) -> None:
    """A size is five strokes: the line, two extension lines, two ticks."""
    strokes = [m for m in shown.marks if isinstance(m, Stroke)]
    assert len(strokes) % 5 == 0
    for n in range(0, len(strokes), 5):
        line, extension, _, tick, _ = strokes[n : n + 5]
        for other in (line, extension):
            turn = math.degrees(angle(tick) - angle(other)) % 180
            assert 20 < turn < 160


def angle(stroke: Stroke) -> float:
    return math.atan2(stroke.b[1] - stroke.a[1], stroke.b[0] - stroke.a[0])
