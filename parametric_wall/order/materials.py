"""The whole order of a job: what is bought and hauled. The one door to its lines."""

from __future__ import annotations

from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.digging import digging, earth_lines
from parametric_wall.order.line import OrderLine
from parametric_wall.order.planting import planter_lines
from parametric_wall.order.sundries import sundry_lines
from parametric_wall.order.units import unit_lines
from parametric_wall.order.wet import wet_lines
from parametric_wall.setting_out.model import SettingOut


def order_lines(spec: JobSpec, laid: SettingOut) -> tuple[OrderLine, ...]:
    """Every line of a job's order, from the ground up as it is bought.

    The net quantities are the take-off's, and so are blocks, copings, mortar, concrete and
    fill with their waste; packs, parts of mixes and what is used again come on top here.
    """
    dug = digging(spec, laid)
    return (
        *unit_lines(spec, laid),
        *wet_lines(spec, laid),
        *sundry_lines(spec, laid),
        *planter_lines(spec, laid, dug.reused),
        *earth_lines(spec, dug),
    )
