"""What the tables of an order say that the walls of the job do not bear out."""

from __future__ import annotations

from parametric_wall.errors import Fault
from parametric_wall.job.model import Job


def order_faults(job: Job) -> list[Fault]:
    """Packs of sizes that no wall of the job is built of, or whose packs are a mix already."""
    known: dict[str, None] = {}
    for wall in job.walls:
        block, coping = wall.block or job.block, wall.coping or job.coping
        if block is not None and block.mix is None:
            known |= dict.fromkeys(map(block.name_at, block.heights))
        if coping is not None:
            size = f"{coping.length_mm:g}x{coping.width_mm:g}x{coping.thickness_mm:g}"
            known[size] = None
    hint = f"sizes of this job: {', '.join(known)}"
    return [
        Fault("packs.sizes", size, "is no block or coping of the job", hint)
        for size in job.packs.sizes
        if size not in known
    ]
