"""The still picture in words, for who cannot see it."""

from __future__ import annotations

from parametric_wall.drawings.still.overall import Overall
from parametric_wall.drawings.still.viewpoint import View
from parametric_wall.job.model import Abutment
from parametric_wall.job.resolve import JobSpec, WallSpec


def told(spec: JobSpec, view: View, overall: Overall | None) -> str:
    """What is to be seen, in sentences."""
    side = "right" if view.right else "left"
    said = [f"{view.projection.name.capitalize()} view from the front {side}."]
    said += [_wall(wall) for wall in spec.walls]
    if overall is None:
        said.append("No main sizes are drawn.")
    else:
        x0, y0, x1, y1 = overall.plan
        across = f", {y1 - y0:.0f} mm across" if overall.depth else ""
        said.append(f"Overall {x1 - x0:.0f} mm long{across}.")
    said.append("A person of 1750 mm stands by for scale.")
    return " ".join(said)


def _wall(wall: WallSpec) -> str:
    path = wall.path
    shape = "closed" if path.closed else "straight" if len(path.lengths) == 1 else "angled"
    legs = " and ".join(f"{length:.0f}" for length in path.lengths)
    parts = [f"{wall.gauge.courses} courses of {_heights(wall)} mm blocks"]
    if wall.coping is not None:
        parts.append("copings")
    if wall.fill is not None:
        parts.append("soil and plants inside")
    kept = sum(isinstance(end, Abutment) for end in (path.start, path.end))
    if kept:
        parts.append("an existing wall at each end" if kept == 2 else "an existing wall at one end")
    *most, last = parts
    listed = f"{', '.join(most)} and {last}" if most else last
    high = f"{wall.gauge.finished:.0f} mm high above ground"
    return f"Wall {wall.name}: {shape}, runs of {legs} mm, {high}, {listed}."


def _heights(wall: WallSpec) -> str:
    return " and ".join(f"{height:g}" for height in dict.fromkeys(wall.gauge.heights))
