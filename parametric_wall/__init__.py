"""Sets out low garden walls in walling blocks with copings, and proves the quantities.

The whole way, for a script:

    >>> from parametric_wall import load, set_out, check, take_off, assembly
    >>> spec = load("herbs.toml")
    >>> laid = set_out(spec)
    >>> assembly(laid).export("herbs.step")  # a cadquery.Assembly

Lengths are mm, volumes mm3, unless a name says otherwise.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from parametric_wall.errors import Fault, JobError, OutputError, WallError

if TYPE_CHECKING:
    import cadquery as cq

    from parametric_wall.checks.finding import Finding
    from parametric_wall.job.resolve import JobSpec
    from parametric_wall.order.line import OrderLine
    from parametric_wall.pack.build import Built
    from parametric_wall.pack.draw import Drawn
    from parametric_wall.pack.job_pack import Packed
    from parametric_wall.setting_out.model import SettingOut
    from parametric_wall.takeoff.quantities import Quantity
    from parametric_wall.verify.again import Again

__version__ = "0.1.0"

__all__ = [
    "Fault",
    "JobError",
    "OutputError",
    "WallError",
    "__version__",
    "assembly",
    "build",
    "check",
    "draw",
    "job_pack",
    "load",
    "loads",
    "order_lines",
    "set_out",
    "take_off",
    "verify_folder",
]


def load(path: Path | str) -> JobSpec:
    """Read a job file.

    Raises:
        JobError: with every fault in it.
        OSError: it cannot be read.
    """
    from parametric_wall.job.read import load as load_job

    return load_job(path)


def loads(text: bytes | str, name: str = "job") -> JobSpec:
    """Read a job from TOML text; see `load`."""
    from parametric_wall.job.read import loads as loads_job

    return loads_job(text, name=name)


def set_out(spec: JobSpec) -> SettingOut:
    """Place every piece of every wall."""
    from parametric_wall.setting_out.set_out import set_out as set_out_job

    return set_out_job(spec)


def check(spec: JobSpec, laid: SettingOut) -> tuple[Finding, ...]:
    """Findings of a job, the gravest first."""
    from parametric_wall.checks.check import check as check_job

    return check_job(spec, laid)


def take_off(spec: JobSpec, laid: SettingOut) -> tuple[Quantity, ...]:
    """Quantities of a job, net and to order."""
    from parametric_wall.takeoff.quantities import quantities

    return quantities(spec, laid)


def order_lines(spec: JobSpec, laid: SettingOut) -> tuple[OrderLine, ...]:
    """What a job buys and has taken away, each line with what leads to it from its net."""
    from parametric_wall.order.materials import order_lines as lines_of

    return lines_of(spec, laid)


def assembly(laid: SettingOut) -> cq.Assembly:
    """The solid model as a `cadquery.Assembly`, grouped, named and coloured."""
    from parametric_wall.solid.assembly import assembly_of
    from parametric_wall.solid.model import model_of

    return assembly_of(model_of(laid))


def build(spec: JobSpec, folder: Path | str) -> Built:
    """Build a job into a folder: models, setting-out, quantities, findings and proof.

    Raises:
        OutputError: the results cannot be written.
    """
    from parametric_wall.pack.build import build as build_job

    return build_job(spec, Path(folder))


def draw(spec: JobSpec, laid: SettingOut, folder: Path | str) -> Drawn:
    """Draw a job into a folder: its sheets as PDF and SVG, its views as DXF.

    Raises:
        OutputError: the drawings cannot be written.
    """
    from parametric_wall.pack.draw import draw as draw_job

    return draw_job(spec, laid, Path(folder))


def job_pack(spec: JobSpec, laid: SettingOut, folder: Path | str) -> Packed:
    """Make the pack that goes to site: one PDF, and the same as pages and pictures.

    Raises:
        OutputError: the pack cannot be written.
    """
    from parametric_wall.pack.job_pack import pack

    return pack(spec, laid, check(spec, laid), Path(folder))


def verify_folder(folder: Path | str) -> Again:
    """Measure the files of a built folder again.

    Raises:
        OutputError: the folder holds no build.
    """
    from parametric_wall.pack.build import load_record
    from parametric_wall.verify.again import verify_folder as verify_built

    return verify_built(Path(folder), load_record(Path(folder)))
