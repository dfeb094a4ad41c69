"""axe-core, other people's checker of WCAG's rules, finds nothing serious on the page."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from helpers_page import HERBS, PHONE, open_page
from playwright.sync_api import Browser, Page
from validators import MODULES, require

STATES = {
    "desk": ({}, None),
    "phone": (PHONE, None),
    "picked": ({}, "#next"),
    "phone, showing": (PHONE, "#tabs button:nth-child(5)"),
}


def serious(tab: Page) -> list[str]:
    require("axe-core")
    tab.add_script_tag(path=MODULES["axe-core"] / "axe-core" / "axe.min.js")
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    report: dict[str, Any] = tab.evaluate(
        "tags => axe.run(document, { runOnly: { type: 'tag', values: tags } })", tags
    )
    assert len(report["passes"]) > 15
    return [
        f"{found['id']}: {found['help']} {found['nodes'][0]['html'][:200]}"
        for found in report["violations"]
        if found["impact"] in ("serious", "critical")
    ]


@pytest.mark.parametrize("name", STATES)
def test_nothing_serious(browser: Browser, written: Callable[[str], Path], name: str) -> None:
    options, press = STATES[name]
    with open_page(browser, written(HERBS), bypass_csp=True, **options) as opened:
        if press:
            opened.tab.locator(press).click()
        assert serious(opened.tab) == []


def test_nothing_serious_without_script(browser: Browser, written: Callable[[str], Path]) -> None:
    """As it is where there is no WebGL either: axe itself needs a script, so the canvas goes."""
    with open_page(browser, written(HERBS), bypass_csp=True) as opened:
        opened.tab.evaluate(
            "() => { document.body.className = 'still-only';"
            " document.querySelector('canvas').remove();"
            " document.getElementById('no-view').hidden = false; }"
        )
        assert serious(opened.tab) == []


def test_it_would_find_something(browser: Browser, written: Callable[[str], Path]) -> None:
    """Else the tests above could not fail."""
    with open_page(browser, written(HERBS), bypass_csp=True) as opened:
        opened.tab.evaluate("() => { document.querySelector('h1').style.color = '#e0dccf'; }")
        assert any("color-contrast" in line for line in serious(opened.tab))
