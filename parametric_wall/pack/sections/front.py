"""The first page of the pack: what is built, in a picture and in numbers."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.drawings.dimension_lines import measured_text
from parametric_wall.drawings.still.axonometric import still
from parametric_wall.export.document import (
    Block,
    Column,
    Entry,
    Group,
    Heading,
    Picture,
    Table,
    Words,
)
from parametric_wall.export.still_svg import still_svg
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.order.days import Schedule
from parametric_wall.order.line import OrderLine
from parametric_wall.pack.order_screen import brought
from parametric_wall.pack.pricing import summary
from parametric_wall.setting_out.model import SettingOut, WallSetOut

NUMBERS = (Column(""), Column("", 1.0))
PICTURE = 80.0
"""No higher is the still picture, mm: the numbers stand under it on the same page."""


def front(
    spec: JobSpec,
    laid: SettingOut,
    lines: tuple[OrderLine, ...],
    plan: Schedule,
    missing: tuple[str, ...],
) -> tuple[Block, ...]:
    """Whose job it is, the still picture, the job in numbers, and what is not in the pack.

    Args:
        spec: the job.
        laid: its setting-out.
        lines: its order.
        plan: its days.
        missing: what is left out and why.
    """
    job = spec.job
    picture = still(laid, spec, height_mm=PICTURE)
    date = job.date.isoformat() if job.date else ""
    whose = ", ".join(text for text in (job.client, date) if text)
    blocks: list[Block] = [Words(whose)] if whose else []
    if job.designed_by:
        blocks.append(Words(f"Designed by: {job.designed_by}"))
    file = f"{spec.name}-pack-still.svg"
    blocks += [
        Picture(file, still_svg(picture), picture.width, picture.height, picture.told),
        Heading("The job in numbers"),
        _numbers(spec, laid, lines, plan),
    ]
    if job.notes:
        blocks.append(Entry("Notes in the job file", tuple(job.notes.splitlines())))
    if missing:
        blocks.append(Entry("Not in this pack", missing))
    return (*blocks, Heading("What is in this pack"))


def _numbers(
    spec: JobSpec, laid: SettingOut, lines: tuple[OrderLine, ...], plan: Schedule
) -> Table:
    walls = [
        Group(tuple(_wall(one, placed)), one.name)
        for one, placed in zip(spec.walls, laid.walls, strict=True)
    ]
    job = Group((("to bring", brought(lines)), ("days", summary(plan))), "The whole job")
    return Table(NUMBERS, (*walls, job))


def _wall(spec: WallSpec, placed: WallSetOut) -> Iterator[tuple[str, str]]:
    gauge, block = spec.gauge, spec.block
    runs = " + ".join(measured_text(length) for length in spec.path.lengths)
    yield "outer face, mm", f"{runs}{', closed' if spec.path.closed else ''}"
    long = "/".join(f"{x:g}" for x in block.lengths)
    tall = "/".join(f"{x:g}" for x in dict.fromkeys(gauge.heights))
    yield "courses", f"{gauge.courses} of blocks {long} x {block.width_mm:g} x {tall} mm"
    yield "height", f"finishes {gauge.finished:.0f} mm above ground"
    if spec.footing is not None:
        wide = spec.thickness + 2 * spec.footing.spread_mm
        deep = f"{spec.footing.depth_mm:g} mm thick, its underside {-spec.underside:.0f} mm deep"
        yield "footing", f"{measured_text(wide)} mm wide, {deep}"
    yield "pieces", "; ".join(_pieces(placed))


def _pieces(placed: WallSetOut) -> Iterator[str]:
    for kind, name in (("block", "blocks"), ("coping", "copings")):
        cuts = [piece.cut for piece in placed.pieces if piece.kind == kind]
        if cuts:
            yield f"{len(cuts)} {name}, {sum(cuts)} of them cut"
