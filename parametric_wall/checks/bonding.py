"""How the wall bonds: laps, wishes, and runs that cannot be bonded."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.corners import Unbonded
from parametric_wall.setting_out.model import WallSetOut


def bond_findings(spec: WallSpec, wall: WallSetOut) -> Iterator[Finding]:
    """Findings of every run of a wall."""
    for failed in wall.unbonded:
        yield _unbonded(spec, failed)
    for laid in wall.bonded:
        bond = laid.bond
        if bond.opened:
            width, nominal = bond.courses[0].joint, spec.joints.perp_mm
            text = f"perps of {width:.1f} in place of {nominal:g}"
            where = f"{spec.name}/{laid.run.name}"
            yield Finding("perps-adjusted", Grade.KNOW, where, text, width, None, "mm")
        if bond.misses:
            least = bond.lap
            text = (
                f"{spec.bond.wish} bond is not kept in {bond.misses} courses; "
                f"the smallest lap is {least:.0f}"
            )
            where = f"{spec.name}/{laid.run.name}"
            yield Finding("wish-not-met", Grade.KNOW, where, text, least, None, "mm")


def _unbonded(spec: WallSpec, failed: Unbonded) -> Finding:
    run, rules = failed.run, spec.rules
    near = [f"{x:.0f}" for x in (failed.shorter, failed.longer) if x is not None]
    advice = f"nearest lengths that work: {' and '.join(near)}" if near else "no near length works"
    text = (
        f"a run of {run.length:.0f} ({run.start} to {run.end}) has no bond with laps of "
        f"{rules.min_lap:.0f}, cuts of {rules.min_cut:.0f} and closers of "
        f"{rules.min_closer:.0f}; {advice}"
    )
    if failed.frees:
        names = {"lap": rules.min_lap, "cut": rules.min_cut, "closer": rules.min_closer}
        freed = [f"a {name} of {v:.0f}, not {names[name]:.0f}" for name, v in failed.frees]
        text += f"; this length would bond with {' or '.join(freed)}"
    where = f"{spec.name}/{run.name}"
    return Finding("no-legal-bond", Grade.STOP, where, text, run.length, None, "mm")
