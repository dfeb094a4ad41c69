"""The still picture as a file: sound XML without style or script, whatever a job is called."""

from __future__ import annotations

import re
import shutil
import subprocess
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest

from parametric_wall import load, set_out
from parametric_wall.drawings.still.axonometric import Still, still
from parametric_wall.export.still_svg import still_svg

ROOT = Path(__file__).parents[2]
SVG = "{http://www.w3.org/2000/svg}"
ELEMENTS = {"svg", "title", "desc", "rect", "path", "ellipse", "text"}
ATTRIBUTES = {
    *("role", "width", "height", "viewBox", "fill", "fill-opacity", "d", "cx", "cy", "rx", "ry"),
    *("stroke", "stroke-width", "transform", "text-anchor", "font-family", "font-size"),
}
HOSTILE = {
    "markup": "</title></svg><script>alert(1)</script><img onerror=\"x\" src='y'>",
    "script end": "</script><img onerror=alert(1)>",
    "entities": "&amp;&lt;&#x0;&bogus;]]>",
    "long": "wall " * 40,
    "emoji": "Gartenmauer 🧱🪴 für Zoë",
    "right to left": "جدار الحديقة \u202e left",
}
FORBIDDEN = {
    "control": "a\x00b\x07c\x1bd",
    "surrogate": "a\ud800b",
    "not a character": "a\ufffeb",
}


@pytest.fixture(scope="module")
def shown() -> Still:
    spec = load(ROOT / "examples" / "herb-planter.toml")
    return still(set_out(spec), spec)


@pytest.mark.parametrize("title", HOSTILE.values(), ids=HOSTILE)
def test_a_title_is_text_and_nothing_else(shown: Still, title: str) -> None:
    root = ET.fromstring(still_svg(replace(shown, title=title, told=title)))
    assert root.findtext(f"{SVG}title") == title
    assert root.findtext(f"{SVG}desc") == title
    assert {e.tag.removeprefix(SVG) for e in root.iter()} == ELEMENTS


@pytest.mark.parametrize("title", FORBIDDEN.values(), ids=FORBIDDEN)
def test_what_xml_has_no_place_for_is_shown_as_such(shown: Still, title: str) -> None:
    """XML 1.0, section 2.2: no control characters, no surrogates, no U+FFFE."""
    found = ET.fromstring(still_svg(replace(shown, title=title))).findtext(f"{SVG}title")
    assert found is not None
    assert found[0] == "a"
    assert "\N{REPLACEMENT CHARACTER}" in found
    assert set(found) <= set(title) | {"\N{REPLACEMENT CHARACTER}"}
    assert len(found) == len(title)


def test_nothing_that_a_strict_page_refuses(shown: Still) -> None:
    data = still_svg(shown)
    root = ET.fromstring(data)
    assert {name for e in root.iter() for name in e.attrib} <= ATTRIBUTES
    assert root.get("role") == "img"
    assert [e.tag for e in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    for word in (b"style", b"script", b"href", b"url(", b"<!", b"id="):
        assert word not in data


def test_lengths_are_mm_with_three_decimals_at_most(shown: Still) -> None:
    text = still_svg(shown).decode()
    root = ET.fromstring(text)
    assert root.get("viewBox") == f"0 0 {shown.width:g} {float(root.get('height', '')[:-2]):g}"
    assert root.get("width") == "180mm"
    assert not re.search(r"\d\.\d{4}", text)
    assert "e-" not in "".join(e.get("d", "") for e in root.iter())


def test_a_path_read_back_is_what_was_painted(shown: Still) -> None:
    """Steps are added up again by the rules of SVG paths, to a hundredth of a mm."""
    root = ET.fromstring(still_svg(shown))
    read = [ring for e in root.iter(f"{SVG}path") for ring in rings(e.get("d", "")) if ring]
    faces = [m.outline for m in shown.marks if hasattr(m, "outline")]
    assert len(read) == len(faces)
    for ring, outline in zip(read, faces, strict=True):
        for x, y in ring:
            near = min(abs(x - px) + abs(y - (shown.height - py)) for px, py in outline)
            assert near < 0.011


def rings(d: str) -> list[list[tuple[float, float]]]:
    """Closed outlines of a path of M, l and z."""
    found = []
    for part in re.findall(r"M([^Mz]*)z", d):
        numbers = [float(n) for n in re.findall(r"-?(?:\d+\.?\d*|\.\d+)", part)]
        points = list(zip(numbers[::2], numbers[1::2], strict=True))
        ring = points[:1]
        for dx, dy in points[1:]:
            ring.append((ring[-1][0] + dx, ring[-1][1] + dy))
        found.append(ring)
    return found


def test_the_same_bytes_every_time_and_few_of_them() -> None:
    for job in sorted((ROOT / "examples").glob("*.toml")):
        spec = load(job)
        laid = set_out(spec)
        data = still_svg(still(laid, spec))
        assert data == still_svg(still(laid, spec))
        assert len(data) < 100_000


def test_a_renderer_draws_it(shown: Still, tmp_path: Path) -> None:
    program = shutil.which("rsvg-convert")
    if program is None:
        pytest.skip("rsvg-convert is not here")
    (tmp_path / "still.svg").write_bytes(still_svg(shown))
    command = [program, "-w", "360", str(tmp_path / "still.svg"), "-o", str(tmp_path / "s.png")]
    subprocess.run(command, check=True, capture_output=True)
    assert (tmp_path / "s.png").stat().st_size > 5000
