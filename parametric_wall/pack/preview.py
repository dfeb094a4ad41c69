"""The page for a client: made with its still picture, and written by itself."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path

from parametric_wall.checks.check import check
from parametric_wall.checks.finding import Finding, stops
from parametric_wall.drawings.still.axonometric import still
from parametric_wall.errors import OutputError
from parametric_wall.export.page import is_page, page_bytes
from parametric_wall.export.still_svg import still_svg
from parametric_wall.job.resolve import JobSpec
from parametric_wall.pack.folder import STAGE, write
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.quantities import quantities


@dataclass(frozen=True, slots=True)
class Previewed:
    """What a preview gave. Where a finding stops the job there is no page.

    Attributes:
        findings: all of them.
        path: the page; None where the job was stopped.
        size: of the page, bytes.
        removed: whether an older page of that name was removed and not made again.
    """

    findings: tuple[Finding, ...]
    path: Path | None
    size: int = 0
    removed: bool = False


def preview(spec: JobSpec, path: Path) -> Previewed:
    """Write a job's page; where the job is stopped, see that no older one looks current.

    Raises:
        OutputError: a file that is no page stands in the way, or it cannot be written;
            what was there before is untouched.
    """
    older = _older(path)
    laid = set_out(spec)
    findings = check(spec, laid)
    if stops(findings):
        if older:
            path.unlink()
        return Previewed(findings, None, removed=older)
    picture = still_svg(still(laid, spec))
    page = page_bytes(spec, laid, findings, quantities(spec, laid), picture)
    _replace(path, page)
    return Previewed(findings, path, len(page))


def _older(path: Path) -> bool:
    """Whether an earlier page stands there.

    Raises:
        OutputError: something else does.
    """
    try:
        with path.open("rb") as file:
            if is_page(file.read(4000)):
                return True
    except FileNotFoundError:
        return False
    except OSError as error:
        raise OutputError(f"{path}: cannot be written: {error.strerror or error}") from error
    raise OutputError(f"{path}: is no page that was written here before, and is left as it is")


def _replace(path: Path, data: bytes) -> None:
    """Let a page take the place of the older one, whole or not at all."""
    try:
        with tempfile.TemporaryDirectory(prefix=STAGE, dir=path.parent) as stage:
            whole = Path(stage) / "page"
            write(whole, data)
            whole.replace(path)
    except OSError as error:
        raise OutputError(f"{path}: cannot be written: {error.strerror or error}") from error
