"""Every control of the page does what it says: in the state of the scene, and to be seen."""

from __future__ import annotations

import math

import pytest
from helpers_page import HERBS, Opened, differ, mean_colour
from playwright.sync_api import expect

from parametric_wall import loads, set_out
from parametric_wall.setting_out.model import VOIDS, Piece

SPEC = loads(HERBS)
LAID = set_out(SPEC)
PIECES = [p for wall in LAID.walls for p in wall.pieces if p.kind not in VOIDS]
STEPS = ["Footing", "Course 1", "Course 2", "Course 3", "Copings", "Soil"]
LENS_DEG = 26.0


def kinds(*names: str) -> int:
    return sum(p.kind in names for p in PIECES)


def seen_at(opened: Opened, point: tuple[float, float, float]) -> tuple[float, float]:
    """Where a point of the front's axes is on the screen: a pinhole camera that stands upright."""
    state = opened.state
    eye, target = state["eye"], state["target"]
    way = [t - e for t, e in zip(target, eye, strict=True)]
    size = math.hypot(*way)
    fx, fy, fz = (w / size for w in way)
    flat = math.hypot(fx, fy)
    right = (fy / flat, -fx / flat, 0.0)
    up = (
        right[1] * fz - right[2] * fy,
        right[2] * fx - right[0] * fz,
        right[0] * fy - right[1] * fx,
    )
    off = [p - e for p, e in zip(point, eye, strict=True)]
    depth, x, y = (
        sum(a * b for a, b in zip(off, axis, strict=True)) for axis in ((fx, fy, fz), right, up)
    )
    box = opened.tab.locator("#view canvas").bounding_box()
    assert box is not None
    half = box["height"] / 2 / math.tan(math.radians(LENS_DEG / 2))
    return (
        box["x"] + box["width"] / 2 + half * x / depth,
        box["y"] + box["height"] / 2 - half * y / depth,
    )


def touch(opened: Opened, point: tuple[float, float, float]) -> None:
    opened.tab.mouse.click(*seen_at(opened, point))
    opened.settle()


def test_all_of_it_is_shown_at_first(desk: Opened) -> None:
    state = desk.state
    assert (state["pieces"], state["drawn"]) == (len(PIECES), len(PIECES))
    assert (state["steps"], state["step"], state["view"]) == (STEPS, 5, "first")
    assert desk.tab.locator("#step").input_value() == "5"
    assert desk.tab.locator("#step-name").inner_text() == "Soil"
    assert state["sizes"] >= 2


def test_the_state_is_not_to_be_written(desk: Opened) -> None:
    desk.tab.evaluate(
        "() => { window.wallPage = 1; wallPage.state = 2; wallPage.state().step = 0; }"
    )
    assert desk.state["step"] == 5


def laid_by(step: int) -> int:
    """How many pieces stand when a step is done; copings and their beds are course 4."""

    def rank(piece: Piece) -> int:
        return 5 if piece.kind in ("soil", "drainage") else piece.course

    return sum(rank(p) <= step for p in PIECES)


def test_it_is_laid_course_by_course(desk: Opened) -> None:
    before = desk.picture()
    for step, name in enumerate(STEPS):
        desk.slide("step", step)
        state = desk.state
        assert (state["step"], state["drawn"]) == (step, laid_by(step))
        assert desk.tab.locator("#step-name").inner_text() == name
        assert desk.tab.locator("#step").get_attribute("aria-valuetext") == name
        assert state["open"] == (step == 0)  # Else the footing would not be seen.
    desk.slide("step", 1)
    assert differ(desk.tab, before, desk.picture()) > 0.01


def test_a_course_less_and_a_course_more(desk: Opened) -> None:
    desk.choose("#fewer")
    desk.choose("#fewer")
    assert desk.state["step"] == 3
    desk.choose("#more")
    assert desk.state["step"] == 4
    desk.choose("#more")
    desk.choose("#more")
    assert desk.state["step"] == 5


def test_it_lays_itself_and_stops(desk: Opened) -> None:
    desk.choose("#play")
    assert desk.state["step"] == 0
    assert desk.tab.locator("#play").inner_text() == "Stop"
    desk.tab.wait_for_function("() => window.wallPage.state().step === 5", timeout=20_000)
    assert desk.tab.locator("#play").inner_text() == "Lay it"


def test_it_is_pulled_apart(desk: Opened) -> None:
    before = desk.picture()
    desk.slide("apart", 100)
    assert (desk.state["apart"], desk.state["sizes"]) == (1, 0)
    assert differ(desk.tab, before, desk.picture()) > 0.05
    desk.slide("apart", 0)
    assert differ(desk.tab, before, desk.picture()) < 0.002


@pytest.mark.parametrize("way", ["across", "along"])
def test_it_is_cut_through(desk: Opened, way: str) -> None:
    before = desk.picture()
    assert desk.tab.locator("#cut-at").is_disabled()
    desk.choose(f"label:has([value={way}])")
    assert desk.state["cut"] == {"way": way, "share": 0.5}
    half = desk.picture()
    assert differ(desk.tab, before, half) > 0.05
    desk.slide("cut-at", 250)
    assert desk.state["cut"]["share"] == 0.25
    assert differ(desk.tab, half, desk.picture()) > 0.02
    desk.choose("label:has([value=off])")
    assert differ(desk.tab, before, desk.picture()) < 0.002


def test_a_cut_is_closed(desk: Opened) -> None:
    """On the plane of a cut a piece is seen and picked, where else one would look into it."""
    thick, share = 140.0, 0.1
    desk.choose("label:has([value=along])")
    desk.slide("cut-at", share * 1000)
    desk.tab.locator("[data-view=front]").click()
    spread = 105.0  # The footing's, where the cut begins to be counted.
    plane = -spread + share * (1040.0 + 2 * spread)
    assert 0.0 < plane < thick
    # The block's own cut face, hatched: light, and more red than blue. Behind it is dark soil.
    x, y = seen_at(desk, (700.0, plane, 100.0))
    clip = {"x": x - 8, "y": y - 8, "width": 16, "height": 16}
    red, green, blue = mean_colour(desk.tab, desk.tab.screenshot(clip=clip))
    assert red > 130
    assert red > green > blue + 15
    touch(desk, (700.0, plane, 100.0))
    assert desk.state["picked"]["kind"] in {"block", "bed", "perp"}
    desk.choose("label:has([value=measure])")
    touch(desk, (905.0, plane, 105.0))
    assert desk.state["measured"][0][1] == pytest.approx(plane, abs=1.0)


@pytest.mark.parametrize(
    ("part", "gone", "least"),
    [
        ("mortar", kinds("bed", "perp", "coping bed", "coping joint"), 0.002),
        ("copings", kinds("coping"), 0.01),
        ("soil", kinds("soil", "drainage"), 0.005),
        ("sizes", 0, 0.002),
        ("person", 0, 0.005),
    ],
)
def test_a_part_is_hidden_and_shown(desk: Opened, part: str, gone: int, least: float) -> None:
    before = desk.picture()
    desk.choose(f"label:has([data-part={part}])")
    state = desk.state
    assert (state["shown"][part], state["drawn"]) == (False, len(PIECES) - gone)
    assert differ(desk.tab, before, desk.picture()) > least
    desk.choose(f"label:has([data-part={part}])")
    assert desk.state["shown"][part] is True
    assert differ(desk.tab, before, desk.picture()) < 0.002


def test_the_ground_is_dug_out_and_the_footing_hidden(desk: Opened) -> None:
    before = desk.picture()
    desk.choose("label:has([data-part=pit])")
    opened = desk.picture()
    assert desk.state["open"] is True
    assert differ(desk.tab, before, opened) > 0.005
    desk.choose("label:has([data-part=footing])")
    assert desk.state["drawn"] == len(PIECES) - 1
    assert differ(desk.tab, opened, desk.picture()) > 0.002


@pytest.mark.parametrize("view", ["front", "corner", "above"])
def test_a_fixed_view_and_the_way_back(desk: Opened, view: str) -> None:
    before, first = desk.picture(), desk.state["eye"]
    desk.tab.locator(f"[data-view={view}]").click()
    assert desk.state["view"] == view
    assert differ(desk.tab, before, desk.picture()) > 0.05
    desk.tab.locator("[data-view=first]").click()
    assert desk.state["eye"] == pytest.approx(first)
    assert differ(desk.tab, before, desk.picture()) < 0.002


def test_a_piece_is_picked(desk: Opened) -> None:
    """What is read is what was set out: id, course, size; mass is volume x density."""
    desk.tab.locator("[data-view=front]").click()
    before = desk.picture()
    touch(desk, (970.0, 0.0, 60.0))
    found = desk.state["picked"]
    piece = next(p for p in PIECES if p.id == found["id"])
    assert (piece.kind, found["kind"], found["cut"]) == ("block", "block", piece.cut)
    assert (found["course"], found["length_mm"]) == (f"Course {piece.course}", piece.length)
    density = SPEC.walls[0].block.density_kg_m3
    assert found["mass_kg"] == pytest.approx(290 * 140 * 140 / 1e9 * density, abs=0.05)
    assert found["size"] == "290 × 140 × 140 mm"
    said = desk.tab.locator("#said").inner_text()
    assert piece.id in said
    assert "whole, 290 × 140 × 140 mm" in said
    assert differ(desk.tab, before, desk.picture()) > 0.001
    desk.tab.locator("#next").click()
    assert desk.state["picked"]["id"] != piece.id
    desk.tab.locator("#previous").click()
    assert desk.state["picked"]["id"] == piece.id


def test_a_hidden_piece_stays_no_longer_picked(desk: Opened) -> None:
    desk.tab.locator("#previous").click()
    assert desk.state["picked"]["kind"] in {"soil", "drainage"}
    desk.choose("label:has([data-part=soil])")
    assert desk.state["picked"] is None


def test_a_length_is_measured(desk: Opened) -> None:
    """From corner to corner of the wall's front: 1940, as the job says."""
    desk.tab.locator("[data-view=front]").click()
    desk.choose("label:has([value=measure])")
    before = desk.picture()
    top = SPEC.walls[0].gauge.masonry_top
    touch(desk, (4.0, 0.0, top - 4.0))
    touch(desk, (1936.0, 0.0, top - 4.0))
    assert desk.state["distance_mm"] == pytest.approx(1940.0, abs=0.2)
    assert "1940 mm apart: 1940 level, 0 upright" in desk.tab.locator("#said").inner_text()
    assert differ(desk.tab, before, desk.picture()) > 0.001
    desk.choose("label:has([value=pick])")
    assert desk.state["measured"] == []


def test_a_picture_is_saved(desk: Opened) -> None:
    with desk.tab.expect_download() as download:
        desk.tab.locator("#save").click()
    path = download.value.path()
    data = path.read_bytes()
    assert data.startswith(b"\x89PNG")
    assert len(data) > 20_000
    assert download.value.suggested_filename == "wall.png"


def test_it_is_printed_as_the_still_picture_and_the_tables(desk: Opened) -> None:
    desk.tab.locator("#print").click()
    assert desk.tab.evaluate("window.printed") == 1
    desk.tab.emulate_media(media="print")
    expect(desk.tab.locator("#still")).to_be_visible()
    for hidden in ("#view", "#panel"):
        expect(desk.tab.locator(hidden)).not_to_be_visible()
    for shown in ("#quantities table", "#cautions", ".indicative"):
        expect(desk.tab.locator(shown)).to_be_visible()


def test_it_is_turned_moved_and_neared_by_mouse(desk: Opened) -> None:
    box = desk.tab.locator("#view canvas").bounding_box()
    assert box is not None
    x, y = box["x"] + 60, box["y"] + 60
    first = desk.state
    desk.tab.mouse.move(x, y)
    desk.tab.mouse.down()
    desk.tab.mouse.move(x + 80, y + 10, steps=4)
    desk.tab.mouse.up()
    turned = desk.state
    assert turned["eye"] != pytest.approx(first["eye"])
    assert turned["target"] == pytest.approx(first["target"])
    assert (turned["view"], turned["picked"]) == ("own", None)
    desk.tab.mouse.down(button="right")
    desk.tab.mouse.move(x, y, steps=4)
    desk.tab.mouse.up(button="right")
    moved = desk.state
    assert moved["target"] != pytest.approx(turned["target"])
    desk.tab.mouse.wheel(0, -300)
    desk.settle()
    near = desk.state
    assert math.dist(near["eye"], near["target"]) < math.dist(moved["eye"], moved["target"])


def test_nothing_is_drawn_while_nothing_changes(desk: Opened) -> None:
    desk.settle()
    before = desk.state["frames"]
    desk.tab.wait_for_timeout(400)
    assert desk.state["frames"] == before
