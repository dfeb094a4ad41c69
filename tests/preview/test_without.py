"""Where there is no WebGL, or no script at all, the still picture and the tables remain."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from helpers_page import HERBS, Opened, open_page
from playwright.sync_api import Browser, Playwright, expect
from validators import require

NO_3D = ("--no-sandbox", "--disable-gpu", "--disable-3d-apis", "--disable-software-rasterizer")


def still_and_tables(opened: Opened) -> None:
    tab = opened.tab
    picture = tab.locator("#still")
    expect(picture).to_be_visible()
    assert picture.evaluate("e => e.complete && e.naturalWidth > 0")
    assert "Herb planter" in (picture.get_attribute("alt") or "")
    for name in ("#quantities table", "#courses table", "#sizes table", "#cautions li"):
        expect(tab.locator(name).first).to_be_visible()
    expect(tab.locator("#panel")).not_to_be_visible()
    assert tab.locator("canvas").count() == 0


def test_without_webgl(playwright: Playwright, written: Callable[[str], Path]) -> None:
    browser = playwright.chromium.launch(executable_path=require("chromium"), args=NO_3D)
    with open_page(browser, written(HERBS), live=False) as opened:
        assert not opened.tab.evaluate("!!document.createElement('canvas').getContext('webgl2')")
        still_and_tables(opened)
        expect(opened.tab.locator("#no-view")).to_be_visible()
        assert opened.tab.evaluate("typeof window.wallPage") == "undefined"
    browser.close()


def test_without_script(browser: Browser, written: Callable[[str], Path]) -> None:
    with open_page(browser, written(HERBS), live=False, java_script_enabled=False) as opened:
        still_and_tables(opened)


def test_the_context_is_lost_on_the_way(desk: Opened) -> None:
    desk.tab.locator("canvas").evaluate(
        "c => c.getContext('webgl2').getExtension('WEBGL_lose_context').loseContext()"
    )
    desk.tab.locator("#no-view").wait_for(state="visible")
    expect(desk.tab.locator("#still")).to_be_visible()
    expect(desk.tab.locator("#panel")).not_to_be_visible()
    desk.said[:] = [line for line in desk.said if "Context Lost" not in line]
