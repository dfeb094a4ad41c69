"""What goes into a planter: drainage, geotextile, soil with its settlement, the back face."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.job.resolve import JobSpec, WallSpec
from parametric_wall.order.line import OrderLine, Step
from parametric_wall.order.lines import JOB_FILE, density, loose_line, waste_step
from parametric_wall.reference.tables import table
from parametric_wall.setting_out.model import SettingOut
from parametric_wall.takeoff.closed_form import measure
from parametric_wall.takeoff.plan_area import inner_face, outline_area
from parametric_wall.takeoff.quantities import placed_volumes
from parametric_wall.units import square_metres


def planter_lines(spec: JobSpec, laid: SettingOut, reused_m3: float) -> Iterator[OrderLine]:
    """Layers by volume, sheets by area.

    Args:
        spec: the job.
        laid: its setting-out.
        reused_m3: dug soil that goes into the planters, m3 as it lies there.
    """
    volumes = placed_volumes(laid)
    gravel, soil = volumes["drainage"], volumes["soil"]
    if gravel > 0:
        kg = density("drainage gravel")
        steps = [waste_step(spec, "drainage", gravel * kg)]
        where = f"{gravel:.3f} m3 as placed"
        yield loose_line(spec, "drainage gravel", "planter", gravel * kg, steps, kg, where)
    if soil > 0:
        kg = density("topsoil")
        again = Step("dug soil used again", -reused_m3 * kg, JOB_FILE, JOB_FILE)
        settles = waste_step(spec, "soil", (soil - reused_m3) * kg, "settlement")
        where = f"{soil:.3f} m3 once settled"
        yield loose_line(spec, "topsoil", "planter", soil * kg, [again, settles], kg, where)
    job, planters = spec.job.planting, [w for w in spec.walls if w.fill is not None]
    if job.geotextile:
        drained = [w for w in planters if w.fill is not None and w.fill.drainage_mm > 0]
        yield from _sheet("geotextile", sum(map(_clear, drained)), "over the drainage layer")
    if job.back_face == "membrane":
        area = sum(map(_back, planters))
        yield from _sheet("back-face membrane", area, "inside of the walls, up to the soil")


def _clear(spec: WallSpec) -> float:
    """Plan area inside a planter, mm2."""
    return outline_area(inner_face(spec.path, spec.thickness))


def _back(spec: WallSpec) -> float:
    """Inside of a planter's walls that soil or drainage lies against, mm2."""
    assert spec.fill is not None
    low = max(spec.fill.base_level_mm, spec.gauge.base)
    return measure(spec).girth(spec.thickness) * (spec.soil_top - low)


def _sheet(key: str, area_mm2: float, where: str) -> Iterator[OrderLine]:
    if area_mm2 <= 0:
        return
    row, net = table("bags")["sheet_lap"], square_metres(area_mm2)
    percent = float(row["value"])
    text = f"laps and edges {percent:g} %"
    step = Step(text, net * percent / 100, row["source"], row["standing"])
    yield OrderLine(key, "planter", "m2", net, (step,), where=where)
