"""The commands that make papers: the drawings and the job pack."""

from __future__ import annotations

from typing import Annotated

import typer

from parametric_wall.cli_pricing import MaybeRates
from parametric_wall.cli_words import (
    AsJson,
    JobFile,
    Quiet,
    With,
    checked_or_stop,
    load_job,
    set_out_or_stop,
)
from parametric_wall.pack.folder import folder_of
from parametric_wall.pack.terminal import put


def draw(
    job: JobFile,
    out: Annotated[str, typer.Option("--out", metavar="DIR", help="where the drawings go")],
    changes: With = None,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> None:
    """Draw a job: plans, sections, elevations and gauge rod, as PDF, SVG and DXF."""
    from parametric_wall.export.dxf import no_fonts
    from parametric_wall.pack import screen
    from parametric_wall.pack.draw import draw as draw_job
    from parametric_wall.solid import kernel

    folder = folder_of(out)
    spec = load_job(job, changes)
    laid = set_out_or_stop(spec, as_json=as_json)
    with no_fonts():
        kernel.load("ezdxf")  # The largest of what drawing needs.
    drawn = draw_job(spec, laid, folder)
    if drawn.removed and not (quiet or as_json):
        put(f"removed older drawings: {', '.join(drawn.removed)}", "stderr")
    if as_json:
        put(screen.drawn_json(drawn))
    elif not quiet:
        put(screen.drawn_text(spec, drawn, folder))


def pack(
    job: JobFile,
    out: Annotated[str, typer.Option("--out", metavar="DIR", help="where the pack goes")],
    changes: With = None,
    rates: MaybeRates = None,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> None:
    """Pack a job for the site: one PDF of all its papers, and the same as pages and pictures."""
    from parametric_wall.order.price_files import load_prices
    from parametric_wall.pack import screen
    from parametric_wall.pack.job_pack import pack as pack_job

    folder = folder_of(out)
    spec = load_job(job, changes)
    prices = None if rates is None else load_prices(rates)
    laid, found = checked_or_stop(spec, as_json=as_json)
    packed = pack_job(spec, laid, found, folder, prices)
    if packed.removed and not (quiet or as_json):
        put(f"removed files of an older pack: {', '.join(packed.removed)}", "stderr")
    if as_json:
        put(screen.packed_json(packed))
    elif not quiet:
        put(screen.packed_text(spec, packed, folder))
