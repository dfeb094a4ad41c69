"""May it be built: height table, planning, streets, neighbours. Questions, no rulings."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.checks.footing import dug
from parametric_wall.geometry import TOLERANCE
from parametric_wall.job.model import Masonry
from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.job.site import Site
from parametric_wall.reference import highways_act, party_wall_act
from parametric_wall.reference.planning import enclosure_height_max
from parametric_wall.reference.wall_heights import ZONES, HeightLimit, Kind, height_limit, source

BRICKS = ("clay", "concrete brick")
"""Units to which the height table's rows of bricks apply; those of blocks are the stricter."""

FREE, ROADSIDE = (enclosure_height_max(next_to_vehicles=near) for near in (False, True))


def permission_findings(spec: WallSpec, job: JobSpec) -> Iterator[Finding]:
    """What a wall's height and digging ask of the planning office, the street and neighbours."""
    yield from _height_table(spec, job)
    yield from _planning(spec, job.job.site)
    yield from _street(spec, job.job.site)
    yield from _neighbour(spec, job.job.site)


def tabled(spec: WallSpec) -> bool:
    """Whether the height table is for such a wall: a free-standing one, with no soil behind it."""
    return not spec.holds_soil


def _row(spec: WallSpec, site: Site, masonry: Masonry) -> list[HeightLimit]:
    """The height table's row for a wall, zone by zone; empty where it has none."""
    kind: Kind = "brick" if masonry.unit in BRICKS else "block"
    cells = (height_limit(kind, spec.thickness, zone, sheltered=site.sheltered) for zone in ZONES)
    return [cell for cell in cells if cell is not None]


def height_table(spec: WallSpec, site: Site, masonry: Masonry) -> str:
    """What the public height table has for a wall, in words, beside a calculation."""
    row = _row(spec, site, masonry)
    if not row:
        said = f"has no row for {spec.thickness:g} thick"
    elif site.exposure_zone is None:
        said = f"goes from {row[-1].height:.0f} to {row[0].height:.0f} by the zone ({row[0].row})"
    else:
        cell = row[site.exposure_zone - 1]
        said = f"goes up to {cell.height:.0f} in zone {site.exposure_zone} ({cell.row})"
    return (
        f"the public height table {said}, the wall is {spec.gauge.finished:.0f}; "
        "neither proves the other"
    )


def _height_table(spec: WallSpec, job: JobSpec) -> Iterator[Finding]:
    if not tabled(spec):
        return
    site, tall = job.job.site, spec.gauge.finished
    limits = _row(spec, site, job.job.masonry)
    if not limits:
        text = f"{spec.thickness:g} thick: thinner than every row of the height table"
        yield Finding("height-table", Grade.LOOK, spec.name, text)
        return
    best, worst, zone = limits[0], limits[-1], site.exposure_zone
    if zone is None:
        text = (
            f"by the zone of the place, the row of {best.row} goes up to between "
            f"{worst.height:.0f} and {best.height:.0f}; this wall is {tall:.0f}"
        )
        yield Finding("zone-not-given", Grade.KNOW, spec.name, text)
    cell = best if zone is None else limits[zone - 1]
    if tall > cell.height + TOLERANCE.coincident:
        place = "in every zone" if zone is None else f"in zone {zone}"
        place += ", sheltered" if cell.sheltered else ""
        text = f"{tall:.0f} above ground, {spec.thickness:g} thick; row of {cell.row}, {place}"
        rule = (source(), cell.standing)
        yield Finding(
            "height-table", Grade.LOOK, spec.name, text, tall, cell.height, "mm", rule=rule
        )


def _planning(spec: WallSpec, site: Site) -> Iterator[Finding]:
    tall = spec.gauge.finished
    if tall <= ROADSIDE + TOLERANCE.coincident:
        return
    past = tall > FREE + TOLERANCE.coincident
    most = ROADSIDE if site.highway == "vehicles" and not past else FREE
    text = f"{tall:.0f} above ground"
    grade = Grade.LOOK
    if not past and site.highway is None:
        text += f", and over {ROADSIDE:.0f} next to a highway used by vehicles asks for permission"
        text += "; whether one is near is not given"
        yield Finding("planning-height", grade, spec.name, text)
        return
    if not past and site.highway != "vehicles":
        text += (
            f"; no highway used by vehicles is next to it, as the job file says: up to {most:.0f}"
        )
        yield Finding("planning-height", Grade.KNOW, spec.name, text)
        return
    text += ", next to a highway used by vehicles" if most == ROADSIDE else ""
    yield Finding("planning-height", grade, spec.name, text, tall, most, "mm")


def _street(spec: WallSpec, site: Site) -> Iterator[Finding]:
    if spec.retained <= 0:
        return
    away, level = site.street_distance_mm, site.street_level_mm
    if away is None or (level is None and away <= highways_act.NEAR):
        missing = "its distance from the street" if away is None else "the level of the boundary"
        text = f"it holds back soil, and {missing} is not given"
        yield Finding("street-not-given", Grade.KNOW, spec.name, text)
    elif level is not None and highways_act.needs_approval(away, spec.gauge.finished - level):
        above = spec.gauge.finished - level
        text = f"{away:.0f} from the street and {above:.0f} above the boundary there"
        most = highways_act.ABOVE
        yield Finding("street-retaining-wall", Grade.LOOK, spec.name, text, above, most, "mm")


def _neighbour(spec: WallSpec, site: Site) -> Iterator[Finding]:
    deep = dug(spec)
    if deep <= 0:
        return
    away, founded = site.neighbour_distance_mm, site.neighbour_founded_mm
    if away is None:
        text = (
            f"dug {deep:.0f} deep; how far off a neighbour's building or wall stands is not given"
        )
        yield Finding("neighbour-not-given", Grade.KNOW, spec.name, text)
        return
    known = founded or 0.0  # Not known, it may be as shallow as can be.
    near = party_wall_act.notice_within_3_m(away, known, deep)
    if not near and not party_wall_act.notice_within_6_m(away, known, deep):
        return
    most = known if near else party_wall_act.plane_depth(away, known)
    section = "6(1)" if near else "6(2)"
    text = f"dug {deep:.0f} deep, {away:.0f} from a neighbour's building or wall, section {section}"
    if founded is None:
        text += "; how deep it is founded is not given"
        yield Finding("party-wall-notice", Grade.LOOK, spec.name, text)
    else:
        yield Finding("party-wall-notice", Grade.LOOK, spec.name, text, deep, most, "mm")
