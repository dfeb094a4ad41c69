"""From where a job is looked at: from the front, so that most of the face is seen."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from parametric_wall.drawings.still.projection import Projection
from parametric_wall.geometry import Placement, direction
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.runs import runs_of


@dataclass(frozen=True, slots=True)
class View:
    """A way of looking at a job.

    Attributes:
        projection: seen from the front right, or mirrored.
        heading_deg: on the site, of the drawing's x axis.
        origin: on the site, of the drawing's axes.
        right: whether it is seen from the front right, not from the front left.
    """

    projection: Projection
    heading_deg: float
    origin: Placement
    right: bool

    def seen(self, place: Placement) -> Placement:
        """A place on the site, in the drawing's axes."""
        # Moved first: far from the origin a turn would lose digits.
        x, y = place.x - self.origin.x, place.y - self.origin.y
        moved = Placement(x, y, place.z, place.heading_deg)
        return moved.then(Placement(heading_deg=-self.heading_deg))


def view_of(spec: JobSpec, projection: Projection) -> View:
    """The view along the runs that shows the largest area of front faces on paper.

    Of equal ones, the one along an earlier run and from the right is taken.
    """
    fronts = list(_fronts(spec))
    headings = list(
        dict.fromkeys((h + turn) % 360 for h, _ in fronts for turn in (0, 90, 180, 270))
    )
    origin = spec.walls[0].place

    def shown(view: View) -> float:
        vx, vy, _ = view.projection.towards
        total = 0.0
        for heading, area in fronts:
            c, d = direction(heading - view.heading_deg)
            facing = d * vx - c * vy  # The front looks to the right of the run's way.
            total += area * facing if facing > 0 else 0.0
        return round(total, 3)

    views = [
        View(projection if right else projection.mirrored(), heading, origin, right)
        for heading in headings
        for right in (True, False)
    ]
    return max(views, key=shown)


def _fronts(spec: JobSpec) -> Iterator[tuple[float, float]]:
    """Heading on the site and area of the front of every run, m2."""
    for wall in spec.walls:
        for run in runs_of(wall):
            area = run.length * max(wall.gauge.finished, 0.0) / 1e6
            yield (wall.place.heading_deg + run.place.heading_deg) % 360, area
