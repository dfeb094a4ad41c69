"""Pages of jobs, and what a browser shows of them."""

from __future__ import annotations

import base64
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page

from parametric_wall import check, loads, set_out, take_off
from parametric_wall.drawings.still.axonometric import still
from parametric_wall.export.page import page_bytes
from parametric_wall.export.still_svg import still_svg

ROOT = Path(__file__).parents[1]
HERBS = (ROOT / "examples" / "herb-planter.toml").read_text(encoding="utf-8")
FLAGS = ("--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")
"""WebGL without a graphics card; a container is sandbox enough."""
DESK = {"width": 1000, "height": 700}
PHONE: dict[str, Any] = {
    "viewport": {"width": 390, "height": 844},
    "device_scale_factor": 2,
    "has_touch": True,
    "is_mobile": True,
}

WATCH = """
window.violations = [];
document.addEventListener("securitypolicyviolation", (e) => violations.push(e.violatedDirective));
window.printed = 0;
window.print = () => { window.printed += 1; };
"""
PIXELS = """const pixels = async (source) => {
    const image = new Image();
    image.src = "data:image/png;base64," + source;
    await image.decode();
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [image.width, image.height];
    const pen = canvas.getContext("2d");
    pen.drawImage(image, 0, 0);
    return pen.getImageData(0, 0, image.width, image.height).data;
  };
"""
COMPARE = f"""async ([a, b]) => {{ {PIXELS}
  const [p, q] = [await pixels(a), await pixels(b)];
  if (p.length !== q.length) return 1;
  let differ = 0;
  for (let i = 0; i < p.length; i += 4) {{
    const off = Math.max(...[0, 1, 2].map((k) => Math.abs(p[i + k] - q[i + k])));
    differ += off > 10;
  }}
  return differ / (p.length / 4);
}}"""
MEAN = f"""async (source) => {{ {PIXELS}
  const data = await pixels(source);
  const sums = [0, 0, 0];
  for (let i = 0; i < data.length; i++) if (i % 4 < 3) sums[i % 4] += data[i];
  return sums.map((sum) => (4 * sum) / data.length);
}}"""


def page_of(text: str) -> bytes:
    """The page of a job given as TOML, as the command makes it."""
    spec = loads(text, name="wall")
    laid = set_out(spec)
    lines = take_off(spec, laid)
    return page_bytes(spec, laid, check(spec, laid), lines, still_svg(still(laid, spec)))


@dataclass
class Opened:
    """A page in a browser, and everything that went wrong in it."""

    tab: Page
    said: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    @property
    def state(self) -> dict[str, Any]:
        """What the page says that it shows."""
        found: dict[str, Any] = self.tab.evaluate("window.wallPage.state()")
        return found

    def settle(self) -> None:
        """Wait until what was asked for is drawn."""
        self.tab.evaluate(
            "() => new Promise((d) => requestAnimationFrame(() => requestAnimationFrame(d)))"
        )

    def picture(self) -> bytes:
        """The view as it is on the screen."""
        self.settle()
        return self.tab.locator("#view").screenshot(animations="allow")

    def slide(self, name: str, value: float) -> None:
        """Draw a slider somewhere."""
        self.tab.locator(f"#{name}").evaluate(
            "(s, v) => { s.value = v; s.dispatchEvent(new Event('input', { bubbles: true })); }",
            value,
        )
        self.settle()

    def choose(self, selector: str) -> None:
        """Press what a finger would press: the label of a hidden input."""
        self.tab.locator(selector).click()
        self.settle()


def differ(tab: Page, before: bytes, after: bytes) -> float:
    """The share of pixels that differ to the eye between two pictures."""
    share: float = _beside(tab, COMPARE, [_coded(before), _coded(after)])
    return share


def mean_colour(tab: Page, picture: bytes) -> tuple[float, float, float]:
    """Red, green and blue of a picture on the average, 0 to 255."""
    red, green, blue = _beside(tab, MEAN, _coded(picture))
    return red, green, blue


def _coded(picture: bytes) -> str:
    return base64.b64encode(picture).decode()


def _beside(tab: Page, script: str, given: Any) -> Any:
    """Run a script in a page of its own: the policy of the job's page allows none."""
    helper = tab.context.new_page()
    found = helper.evaluate(script, given)
    helper.close()
    return found


@contextmanager
def open_page(
    browser: Browser, path: Path, *, live: bool = True, **options: Any
) -> Iterator[Opened]:
    """Open a page; at the end see that it asked for nothing and complained of nothing."""
    context = browser.new_context(**{"viewport": DESK, **options})
    tab = context.new_page()
    opened = Opened(tab)
    tab.on("console", lambda message: opened.said.append(f"{message.type}: {message.text}"))
    tab.on("pageerror", lambda error: opened.said.append(f"error: {error}"))
    tab.on("request", lambda request: opened.asked.append(request.url))
    tab.on("dialog", lambda dialog: opened.said.append(f"dialog: {dialog.message}"))
    tab.add_init_script(WATCH)
    try:
        tab.goto(path.as_uri())
        if live:
            tab.wait_for_function("() => window.wallPage && window.wallPage.state().whole")
            opened.settle()
        yield opened
        if options.get("java_script_enabled", True):
            assert tab.evaluate("window.violations") == []
        outside = [url for url in opened.asked if not url.startswith(("data:", "blob:"))]
        assert outside == [path.as_uri()]
        assert opened.said == []
    finally:
        context.close()
