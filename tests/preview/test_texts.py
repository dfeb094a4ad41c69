"""What a job says is shown as it was written, and does nothing; the page asks for nothing."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from helpers_cli import JOB
from helpers_page import HERBS, PHONE, ROOT, open_page, page_of
from playwright.sync_api import Browser, expect

from parametric_wall import loads, set_out

EXAMPLES = [p for p in sorted((ROOT / "examples").glob("*.toml")) if p.stem != "too-tall"]
TITLES = {
    "hostile": "</script><img src=x onerror=alert(1)>\"'><svg onload=alert(2)> &lt;b&gt; $title",
    "comment": "<!-- <script> ]]> --!> \\u003c/script\\u003e",
    "long": "A wall of which the title goes on " * 5 + "and on and so on until it ends",
    "one word": "W" * 200,
    "emoji": "🧱🌿 Garden wall 👩‍🌾",
    "right to left": "جدار الحديقة שלום wall",
    "override": "wall \u202ellaw\u202c end",
}


def titled(title: str) -> str:
    quoted = json.dumps(title, ensure_ascii=False)
    return JOB.replace('"Low wall"', quoted).replace("block =", f"client = {quoted}\nblock =", 1)


@pytest.mark.parametrize("name", TITLES)
def test_a_title_is_a_text(browser: Browser, written: Callable[[str], Path], name: str) -> None:
    title = TITLES[name]
    shown = " ".join(title.split())
    with open_page(browser, written(titled(title)), **PHONE) as opened:
        tab = opened.tab
        assert tab.locator("h1").evaluate("e => e.textContent") == shown
        assert tab.title() == shown
        assert tab.locator(".meta").evaluate("e => e.textContent") == shown
        assert shown in (tab.locator("canvas").get_attribute("aria-label") or "")
        assert tab.locator("img").count() == 1
        assert tab.locator("svg").count() == 0
        assert tab.locator("script").count() == 2
        tab.wait_for_function("document.documentElement.scrollWidth <= 390")
        expect(tab.locator("#canvas")).to_be_visible()


def test_a_text_begins_where_its_own_script_begins(
    browser: Browser, written: Callable[[str], Path]
) -> None:
    with open_page(browser, written(titled(TITLES["right to left"]))) as opened:
        way = opened.tab.locator("h1").evaluate("e => getComputedStyle(e).direction")
        assert way == "rtl"


def test_the_policy_lets_nothing_in_but_what_stands_there() -> None:
    page = page_of(HERBS).decode()
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', page)
    assert policy is not None
    rules = dict(rule.strip().split(" ", 1) for rule in policy[1].split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["img-src"] == "data: blob:"
    for name, tag in (("script-src", "script"), ("style-src", "style")):
        inline = re.findall(rf"<{tag}>(.*?)</{tag}>", page, flags=re.DOTALL)
        assert len(inline) == 1
        digest = base64.b64encode(hashlib.sha256(inline[0].encode()).digest()).decode()
        assert rules[name] == f"'sha256-{digest}'"
    # Before anything that it is to hold back.
    assert page.index("Content-Security-Policy") < page.index("<style>")


def test_nothing_in_it_points_outside() -> None:
    page = page_of(HERBS).decode()
    outside = page.split("<script>")[0]
    assert not re.search(r'(?:src|href)="(?!data:|#)', outside)
    assert "@import" not in outside
    assert "url(" not in outside


@pytest.mark.parametrize("job", EXAMPLES, ids=lambda job: job.stem)
def test_an_example_has_a_page_with_every_piece(job: Path) -> None:
    text = job.read_text(encoding="utf-8")
    laid = set_out(loads(text))
    scene = re.search(rb'id="scene">(.*?)</script>', page_of(text), flags=re.DOTALL)
    assert scene is not None
    found = json.loads(scene[1])
    ids = [p.id for wall in laid.walls for p in wall.pieces if p.kind != "weep"]
    assert [row[6] for row in found["pieces"]] == ids
    # Where a wall meets an existing one, that is sketched beside it.
    assert len(found["existing"]) == text.count('kind = "abutment"')


def test_the_same_job_gives_the_same_bytes() -> None:
    assert page_of(HERBS) == page_of(HERBS)


def test_it_says_what_the_job_is_and_what_it_does_not_say() -> None:
    page = page_of(HERBS).decode()
    for text in (
        "Herb planter by the kitchen door",
        "2026-03-14",
        "Indicative only",
        "do not say that a wall is safe",
        "Wet mortar and concrete burn skin",
        "Local rules come first",
    ):
        assert text in page, text


STRAIGHT = """
title = "long"
[block]
size = "440x140x140"
[coping]
size = "600x220x50"
fall = {{ to = "front", mm = 5, in_mm = 220 }}
[footing]
below_ground_mm = 150
[[walls]]
name = "long"
plan = {{ shape = "straight", length_mm = {length} }}
height = {{ courses = 6 }}
"""


@pytest.mark.parametrize(
    ("length", "pieces", "most"), [(6590, 200, 1_000_000), (67_490, 2000, 1_500_000)]
)
def test_it_is_no_larger_than_a_letter_can_carry(length: int, pieces: int, most: int) -> None:
    page = page_of(STRAIGHT.format(length=length))
    scene = re.search(rb'id="scene">(.*?)</script>', page, flags=re.DOTALL)
    assert scene is not None
    assert len(json.loads(scene[1])["pieces"]) >= pieces
    assert len(page) <= most
