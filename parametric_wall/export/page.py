"""One HTML page that shows a job to whom it is built for: offline, nothing asked of any server.

Script, style, picture and data stand in it; its own policy lets a browser run these and
nothing else. Every text of the job is escaped where it is set in.
"""

from __future__ import annotations

import hashlib
import json
from base64 import b64encode
from html import escape
from importlib.resources import files
from string import Template
from typing import Any
from urllib.parse import quote

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.export.page_facts import facts
from parametric_wall.export.scene import scene_record
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.quantities import Quantity

GENERATOR = "parametric-wall page"
"""What says of a page that this package wrote it."""
PLAIN = " !$&'()*+,-./:;=?@[]^_{|}~\n"
"""Signs that may stand in a data address within double quotes as they are."""


def page_bytes(
    spec: JobSpec,
    laid: SettingOut,
    findings: tuple[Finding, ...],
    lines: tuple[Quantity, ...],
    still: bytes,
) -> bytes:
    """The page of a job, the same bytes for the same job.

    Args:
        spec: the job; no finding stops it.
        laid: its setting-out.
        findings: all of them.
        lines: the take-off.
        still: a picture of the job as SVG, for paper and where there is no 3D.
    """
    assert not any(f.grade is Grade.STOP for f in findings)
    script, style = _asset("page.js"), _asset("page.css")
    job = spec.job
    meta = " · ".join(escape(_line(str(part))) for part in (job.client, job.date) if part)
    page = Template(_asset("page.html")).substitute(
        policy=_policy(script, style),
        generator=GENERATOR,
        title=escape(_line(job.title)),
        meta=f"<bdi>{meta}</bdi>" if meta else "",
        name=escape(spec.name),
        label=escape(f"{_line(job.title)}: the wall in three dimensions"),
        still=f"data:image/svg+xml,{quote(still, safe=PLAIN)}".replace("&", "%26"),
        style=style,
        script=script,
        scene=_data(scene_record(spec, laid)),
        facts=facts(spec, laid, findings, lines),
    )
    return page.encode("utf-8")


def is_page(data: bytes) -> bool:
    """Whether this package wrote a file that begins like this."""
    return f'<meta name="generator" content="{GENERATOR}">'.encode() in data[:2000]


def _asset(name: str) -> str:
    folder = files("parametric_wall.export") / "web"
    return (folder / name).read_text(encoding="utf-8")


def _policy(script: str, style: str) -> str:
    """Only this script, this style, and pictures that stand in the page or are made by it."""
    return (
        f"default-src 'none'; script-src {_hash(script)}; style-src {_hash(style)}; "
        "img-src data: blob:; base-uri 'none'; form-action 'none'"
    )


def _hash(text: str) -> str:
    return f"'sha256-{b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _data(record: Any) -> str:
    """JSON that nothing in it can end: no sign opens a tag or a comment."""
    text = json.dumps(record, ensure_ascii=True, allow_nan=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def _line(text: str) -> str:
    """A text on one line."""
    return " ".join(text.split())
