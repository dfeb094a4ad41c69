"""Small jobs whose quantities are plain arithmetic."""

from __future__ import annotations

from parametric_wall.job.read import loads
from parametric_wall.job.resolve import JobSpec

STRAIGHT = """
title = "straight"
designed_by = "{designed_by}"
block = {{ {block} }}
[footing]
spread_mm = 100
depth_mm = 200
below_ground_mm = 50
{more}
[[walls]]
name = "front"
plan = {{ shape = "straight", length_mm = {length:g} }}
height = {{ courses = {courses} }}
"""


def straight(
    courses: int = 3,
    length: float = 3590,
    block: str = 'size = "440x140x140"',
    more: str = "",
    designed_by: str = "",
) -> JobSpec:
    return loads(
        STRAIGHT.format(
            courses=courses, length=length, block=block, more=more, designed_by=designed_by
        )
    )
