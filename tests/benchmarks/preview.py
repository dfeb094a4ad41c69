"""How long the page takes to be ready, against a bare three.js page with one box; and a step.

Ready is when the wall is first drawn and every control is live; its shadows, its grain, the
sizes and the person come with the second picture, of which the time is printed too.

Printed, never asserted: machines are noisy.

python tests/benchmarks/preview.py
"""

from __future__ import annotations

import subprocess
import tempfile
from pathlib import Path
from statistics import median
from typing import Any

from playwright.sync_api import Browser, Page, sync_playwright
from run import long_job

from parametric_wall import check, loads, set_out, take_off
from parametric_wall.drawings.still.axonometric import still
from parametric_wall.export.page import page_bytes
from parametric_wall.export.still_svg import still_svg

HERE = Path(__file__).parent
WEB = HERE.parents[1] / "parametric_wall" / "export" / "web"
ROUNDS = 7
STEPS = 15
FLAGS = ("--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")

PIXEL = """
const canvas = document.querySelector("canvas");
const gl = canvas.getContext("webgl2");
const seen = () => gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
const frame = () => new Promise((done) => requestAnimationFrame(done));
const timed = async (act) => {
  seen();
  const start = performance.now();
  act();
  await frame();
  seen();
  return performance.now() - start;
};
"""
WATCH = """
const mark = performance.mark.bind(performance);
performance.mark = (name) => {
  const gl = document.querySelector("canvas").getContext("webgl2");
  gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
  (window.at ??= {})[name] = performance.now();
  return mark(name);
};
"""
"""A page marks that it is shown; the picture is there when one of its pixels can be read."""
REDRAW = f"""async (count) => {{ {PIXEL}
  const times = [];
  for (let i = 0; i < count; i++) {{
    const key = i % 2 ? "ArrowLeft" : "ArrowRight";
    times.push(await timed(() => canvas.dispatchEvent(new KeyboardEvent("keydown", {{ key }}))));
  }}
  return times;
}}"""
STEP = f"""async (count) => {{ {PIXEL}
  const slider = document.getElementById("step");
  const times = [];
  for (let i = 0; i < count; i++) {{
    const to = Number(slider.max) - (i % 2);
    times.push(await timed(() => {{
      slider.value = String(to);
      slider.dispatchEvent(new Event("input"));
    }}));
  }}
  return times;
}}"""


def bare(folder: Path) -> Path:
    """The bare page."""
    script = folder / "bare.mjs"
    command = [WEB / "node_modules/.bin/esbuild", HERE / "bare.js", "--bundle", "--minify"]
    subprocess.run(
        [*command, f"--outfile={script}", "--log-level=warning"],
        check=True,
        env={"NODE_PATH": str(WEB / "node_modules"), "PATH": "/usr/bin:/bin"},
    )
    page = folder / "bare.html"
    text = f"<!doctype html><body><script>{script.read_text(encoding='utf-8')}</script>"
    page.write_text(text, encoding="utf-8")
    return page


def job_page(folder: Path, metres: float) -> tuple[str, Path, int]:
    """The page of a straight wall, how many pieces it has, and its size."""
    spec = loads(long_job(metres * 1000))
    laid = set_out(spec)
    count = sum(p.kind != "weep" for wall in laid.walls for p in wall.pieces)
    page = folder / f"{count}.html"
    picture = still_svg(still(laid, spec))
    page.write_bytes(page_bytes(spec, laid, check(spec, laid), take_off(spec, laid), picture))
    return f"{count} pieces", page, page.stat().st_size


def ready(browser: Browser, page: Path) -> dict[str, float]:
    """ms from asking for a page until a picture is drawn: the first, and that with shadows."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    tab = context.new_page()
    tab.add_init_script(WATCH)
    tab.goto(page.as_uri())
    tab.wait_for_function("() => window.at?.whole")
    took: dict[str, float] = tab.evaluate("window.at")
    context.close()
    return took


def steps(tab: Page) -> tuple[float, float]:
    """ms of a plain redraw, and of a step of the build-up."""
    found: list[Any] = [median(tab.evaluate(script, STEPS)) for script in (REDRAW, STEP)]
    return found[0], found[1]


def main() -> None:
    """All pages in turn, round after round."""
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        folder = Path(name)
        jobs = [job_page(folder, metres) for metres in (6.59, 67.5)]
        pages = {"bare, one box": bare(folder), **{name: page for name, page, _ in jobs}}
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)
        times: dict[str, list[float]] = {
            name + then: [] for then in ("", ", shadows") for name in pages
        }
        for _ in range(ROUNDS):
            for what, page in pages.items():
                found = ready(browser, page)
                times[what].append(found["shown"])
                times[f"{what}, shadows"].append(found["whole"])
        base, least = (f(times["bare, one box"]) for f in (median, min))
        print(f"{'ready':24} {'median ms':>9} {'ratio':>7} {'least ms':>9} {'ratio':>7}")
        for what, found in times.items():
            row = f"{median(found):9.0f} {median(found) / base:7.2f}"
            print(f"{what:24} {row} {min(found):9.0f} {min(found) / least:7.2f}")
        for what, _, size in jobs:
            print(f"{what}: {size / 1e6:.2f} MB")
        print("(at most 1.5 and 1.0 MB at 200, 3 and 1.5 MB at 2,000)")
        tab = browser.new_page(viewport={"width": 1280, "height": 800})
        tab.goto(jobs[-1][1].as_uri())
        tab.wait_for_function("() => window.wallPage")
        plain, step = steps(tab)
        print(f"step / redraw, {jobs[-1][0]}: {step:.0f} / {plain:.0f} ms = {step / plain:.2f}")
        print("(at most 2)")
        browser.close()


if __name__ == "__main__":
    main()
