"""What goes between and into the masonry: damp-proof courses, ties, filler, weep tubes."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace

from parametric_wall.geometry import Bar
from parametric_wall.job.model import Abutment
from parametric_wall.job.path import LEFT, RIGHT
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.order.line import OrderLine, Step
from parametric_wall.order.lines import JOB_FILE, counted_line, rounded, that_count
from parametric_wall.reference.tables import table
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.setting_out.panels import tie_count
from parametric_wall.takeoff.closed_form import measure
from parametric_wall.takeoff.quantities import centre_line, up, weep_tubes
from parametric_wall.units import metres

FACES = 2
TO_EXISTING = "ends at existing walls: fixed as their maker says, into sound masonry"


def sundry_lines(spec: JobSpec, laid: SettingOut) -> Iterator[OrderLine]:
    """Damp-proof courses, filler and sealant, ties, weep tubes; nothing the job has no use for."""
    yield from _dpc(spec)
    yield from _movement(laid)
    yield from _ties(spec)
    tubes = sum(map(weep_tubes, spec.walls))
    if tubes:
        yield replace(counted_line("weep tube", "sundries", "tube", tubes), where=_through(spec))


def _through(spec: JobSpec) -> str:
    thick = {w.thickness for w in spec.walls if weep_tubes(w)}
    return f"through walls {' and '.join(f'{t:g}' for t in sorted(thick))} thick"


def _dpc(spec: JobSpec) -> Iterator[OrderLine]:
    """A line a width: the length, laps at corners, and laps where a roll ends."""
    row, roll = table("bags")["lap"], spec.job.packs.dpc_roll_m
    for width in sorted({w.thickness for w in spec.walls if w.dpc is not None}):
        walls = [w for w in spec.walls if w.dpc is not None and w.thickness == width]
        net = sum(metres(centre_line(w)) for w in walls)
        turns = sum(w.path.turns.count(LEFT) + w.path.turns.count(RIGHT) for w in walls)
        adds = metres(turns * width)
        steps = [Step(f"laps at {turns} corners", adds, row["source"], row["standing"])]
        if roll is not None:
            lap = metres(float(row["value"]))
            joints = max(1, up((net + adds - lap) / (roll - lap))) - 1
            text = f"laps of {row['value']:g} at {joints} ends of rolls"
            steps.append(Step(text, joints * lap, row["source"], row["standing"]))
            amount = net + sum(s.adds for s in steps)
            steps.append(rounded(amount, roll, "whole rolls", JOB_FILE))
        else:
            more = table("bags")["dpc_laps"]
            text = f"{more['value']} % for laps at ends of rolls, whose length is not given"
            lost = (net + adds) * more["value"] / 100
            steps.append(Step(text, lost, more["source"], more["standing"]))
        name = "" if roll is None else f"roll of {roll:g} m"
        key, where = f"damp-proof course {width:g} wide", ", ".join(w.name for w in walls)
        yield OrderLine(
            key, "sundries", "m", net, that_count(steps), roll or 1.0, name, where=where
        )


def _movement(laid: SettingOut) -> Iterator[OrderLine]:
    """Filler and sealant by the height of the joints."""
    heights: dict[float, float] = defaultdict(float)
    for wall in laid.walls:
        for piece in wall.pieces:
            shape = piece.shape
            if piece.kind == "filler" and isinstance(shape, Bar):
                heights[round(shape.end.at - shape.start.at, 6)] += metres(shape.height)
    for width, height in sorted(heights.items()):
        where = "movement joints, courses and copings"
        yield OrderLine(f"joint filler {width:g} wide", "sundries", "m", height, (), where=where)
        where = "both faces of the movement joints"
        key = f"joint sealant {width:g} wide"
        yield OrderLine(key, "sundries", "m", FACES * height, (), where=where)


def _ties(spec: JobSpec) -> Iterator[OrderLine]:
    """Slip ties across movement joints, and ties where a wall meets an existing one."""
    counts: Counter[str] = Counter()
    for wall in spec.walls:
        counts["slip tie"] += tie_count(wall) * measure(wall).between
        for end in _abutments(wall):
            if end.fixing == "ties":
                counts["end tie, sliding" if end.joint == "movement" else "end tie"] += _rows(wall)
    box = spec.job.packs.ties
    for key, count in counts.items():
        if count:
            name = f"box of {box}" if box > 1 else ""
            where = "movement joints" if key == "slip tie" else TO_EXISTING
            line = counted_line(key, "sundries", "tie", count, (), box, name)
            yield replace(line, where=where)


def _abutments(wall: WallSpec) -> list[Abutment]:
    if wall.path.closed:
        return []
    return [end for end in (wall.path.start, wall.path.end) if isinstance(end, Abutment)]


def _rows(wall: WallSpec) -> int:
    """Ties at one end: one every so much height."""
    spacing = float(table("bags")["tie_spacing"]["value"])
    return math.ceil(round(wall.gauge.masonry / spacing, 9))
