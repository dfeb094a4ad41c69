"""Every job can be drawn, in every format, and nothing of it is at fault."""

from __future__ import annotations

import io
from typing import Any

import ezdxf
from hypothesis import given, settings
from strategies import jobs, laid_out

from parametric_wall.drawings.lower import lower
from parametric_wall.export.dxf import dxf
from parametric_wall.export.pdf import pdf
from parametric_wall.export.svg import svg
from parametric_wall.pack.draw import drawings_of


@settings(max_examples=8, deadline=None)
@given(jobs())
def test_a_job_is_drawn_in_every_format(table: dict[str, Any]) -> None:
    pages, views = drawings_of(*laid_out(table))
    assert len({page.name for page in pages}) == len(pages)
    document = pdf("t", [(sheet, svg(sheet)) for sheet in map(lower, pages)])
    assert b"pdfuaid" in document
    doc = ezdxf.read(io.StringIO(dxf(views).decode("utf-8")))
    auditor = doc.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    assert any(view.symbols for view in views)
    assert doc.modelspace().query("DIMENSION")
