"""How the wall bonds: laps, wishes, and runs that cannot be bonded."""

from __future__ import annotations

from collections.abc import Iterator

from parametric_wall.checks.finding import Finding, Grade
from parametric_wall.job.resolve import WallSpec
from parametric_wall.setting_out.corners import BondedRun, Unbonded
from parametric_wall.setting_out.mixed import longest_alike
from parametric_wall.setting_out.model import SettingOut, WallSetOut
from parametric_wall.setting_out.ranking import Bond


def bond_findings(spec: WallSpec, wall: WallSetOut) -> Iterator[Finding]:
    """Findings of every run of a wall."""
    for failed in wall.unbonded:
        yield _unbonded(spec, failed)
    for laid in wall.bonded:
        bond = laid.bond
        if bond.opened:
            nominal = spec.joints.perp_mm
            width = max((c.joint for c in bond.courses), key=lambda joint: abs(joint - nominal))
            text = f"perps of {_perps(bond, nominal)} in place of {nominal:g}"
            where = f"{spec.name}/{laid.run.name}"
            yield Finding("perps-adjusted", Grade.KNOW, where, text, width, None, "mm")
        if bond.misses and spec.block.lengths_mm:
            yield _alike(spec, laid)
        elif bond.misses:
            least = bond.lap
            text = (
                f"{spec.bond.wish} bond is not kept in {bond.misses} courses; "
                f"the smallest lap is {least:.0f}"
            )
            where = f"{spec.name}/{laid.run.name}"
            yield Finding("wish-not-met", Grade.KNOW, where, text, least, None, "mm")


MOST_LEFT = 0.2
"""A greater share of the blocks bought, left over, is not a mix kept (common practice)."""
GRAVE_LEFT = 0.5


def mix_findings(laid: SettingOut) -> Iterator[Finding]:
    """Families of lengths whose packs leave many blocks over: the mix was asked for in vain."""
    for taken in laid.mixtures:
        bought, left = taken.packs * sum(taken.mix), sum(taken.left_over)
        if not taken.mix or left <= MOST_LEFT * bought:
            continue
        asked, got = ("/".join(f"{x:.0%}" for x in s) for s in (taken.asked, taken.shares))
        text = (
            f"{taken.name}: asked {asked} of each length, got {got}; {taken.packs} packs are "
            f"{bought} blocks, and {left} of them are left over; no bond needs fewer than "
            f"{taken.least} packs"
        )
        grade = Grade.LOOK if left > GRAVE_LEFT * bought else Grade.KNOW
        most = 100 * MOST_LEFT
        yield Finding("mix-not-kept", grade, "", text, 100 * left / bought, most, "%")


def _perps(bond: Bond, nominal: float) -> str:
    """The width of the perps that are not the nominal ones; by course, where courses differ."""
    widths: dict[str, list[str]] = {}
    for number, course in enumerate(bond.courses, 1):
        if course.joint != nominal:
            widths.setdefault(f"{course.joint:.1f}", []).append(str(number))
    if sum(map(len, widths.values())) == len(bond.courses) and len(widths) == 1:
        return next(iter(widths))
    return ", ".join(f"{x} in course {' and '.join(on)}" for x, on in widths.items())


def _alike(spec: WallSpec, laid: BondedRun) -> Finding:
    most = spec.bond.most_alike
    found = max(map(longest_alike, laid.bond.courses))
    text = (
        f"{found} blocks of one length stand side by side in {laid.bond.misses} courses; "
        "no other bond was found for the run"
    )
    where = f"{spec.name}/{laid.run.name}"
    return Finding("more-alike", Grade.KNOW, where, text, found, most, "blocks")


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
