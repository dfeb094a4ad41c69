"""A real browser, and pages of jobs to open in it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from helpers_page import FLAGS, HERBS, Opened, open_page, page_of
from playwright.sync_api import Browser, Playwright, sync_playwright
from validators import require


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    require("chromium")
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """Drawing without a graphics card."""
    started = playwright.chromium.launch(executable_path=require("chromium"), args=FLAGS)
    yield started
    started.close()


@pytest.fixture(scope="session")
def written(tmp_path_factory: pytest.TempPathFactory) -> object:
    """A function that writes the page of a job, once for all."""
    folder = tmp_path_factory.mktemp("pages")

    @cache
    def write(text: str) -> Path:
        path = folder / f"{len(list(folder.iterdir()))}.html"
        path.write_bytes(page_of(text))
        return path

    return write


@pytest.fixture
def desk(browser: Browser, written: object) -> Iterator[Opened]:
    """The planter's page on a desk; nothing moves by itself."""
    with open_page(browser, written(HERBS), reduced_motion="reduce") as opened:  # type: ignore[operator]
        yield opened
