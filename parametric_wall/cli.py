"""The command line. Each command calls the package and prints; none works by itself."""

from __future__ import annotations

import json
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Annotated

import typer

from parametric_wall import __version__
from parametric_wall.cli_words import (
    BAD_INPUT,
    GOOD,
    STOPPED,
    TERMINATED,
    AsJson,
    JobFile,
    Quiet,
    With,
    load_job,
    set_out_or_stop,
)
from parametric_wall.errors import (
    INTERRUPTED,
    STOPPED_TEXT,
    Fault,
    JobError,
    OutputError,
    is_interrupt,
)
from parametric_wall.pack.folder import MODEL_SUFFIXES, names_of, write_new
from parametric_wall.pack.mishaps import tell, watch_interrupts
from parametric_wall.pack.terminal import prepare, put

FORMAT_NAMES = tuple(suffix.removeprefix(".") for suffix in MODEL_SUFFIXES)

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Sets out low garden walls and planters, and proves the quantities on a solid model.",
)


def run() -> None:
    """The program's entry: turns what was raised into a message and an exit code."""
    as_json = "--json" in sys.argv
    prepare(as_json=as_json)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(TERMINATED))
    pressed = watch_interrupts()
    try:
        code = app(standalone_mode=False) or GOOD
    except KeyboardInterrupt:
        code = INTERRUPTED
    except ImportError as error:
        stopped = bool(pressed) or is_interrupt(error)
        code = INTERRUPTED if stopped else _bad(error, as_json)
    except Exception as error:  # noqa: BLE001 (nobody is to be met with a traceback)
        code = _bad(error, as_json)
    if code == INTERRUPTED:  # The command line's own library catches it and gives this.
        tell(InterruptedError(STOPPED_TEXT), as_json=as_json)
    sys.exit(code)


def _bad(error: Exception, as_json: bool) -> int:
    tell(error, as_json=as_json)
    return BAD_INPUT


def _progress(quiet: bool) -> Callable[[str], None]:
    return (lambda _: None) if quiet else (lambda text: put(f"... {text}", "stderr"))


def _suffixes(formats: str | None) -> tuple[str, ...] | None:
    if formats is None:
        return None
    names = [n.strip().lower().removeprefix(".") for n in formats.split(",") if n.strip()]
    unknown = [n for n in names if n not in FORMAT_NAMES]
    if unknown or not names:
        hint = f"choose from {', '.join(FORMAT_NAMES)}"
        raise JobError([Fault("--formats", formats, "is not a list of known formats", hint)])
    return tuple(f".{n}" for n in names)


def _folder(out: str) -> Path:
    if not out.strip():
        raise JobError([Fault("--out", "", "names no folder", "use . for the one you are in")])
    return Path(out)


def _keep(job: str, out: Path, name: str) -> None:
    """See that no result takes the place of the job file itself."""
    own = out / Path(job).name
    if own.name in names_of(name) and own.exists() and own.samefile(job):
        raise OutputError(f"{job}: a result would take its place: choose another folder")


@app.callback(invoke_without_command=True)
def main(
    version: Annotated[bool, typer.Option("--version", help="print the version")] = False,
) -> None:
    """Sets out low garden walls and planters, and proves the quantities on a solid model."""
    if version:
        put(__version__)
        raise typer.Exit


@app.command()
def build(
    job: JobFile,
    out: Annotated[str, typer.Option("--out", metavar="DIR", help="where the results go")],
    changes: With = None,
    formats: Annotated[
        str | None, typer.Option(help="models to write, for instance step,glb; all by default")
    ] = None,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> None:
    """Build a job: models, setting-out, quantities, findings, and the proof of the quantities."""
    from parametric_wall.pack import screen
    from parametric_wall.pack.build import build as build_job
    from parametric_wall.solid import kernel

    suffixes, progress = _suffixes(formats), _progress(quiet or as_json)
    folder = _folder(out)
    spec = load_job(job, changes)
    _keep(job, folder, spec.name)
    built = build_job(spec, folder, suffixes, progress, kernel.load)
    if built.removed and not (quiet or as_json):
        put(f"removed older results: {', '.join(built.removed)}", "stderr")
    if as_json:
        put(screen.built_json(built))
    elif not quiet or not built.good:
        put(screen.built_text(built, folder))
    raise typer.Exit(GOOD if built.good else STOPPED)


@app.command()
def check(
    job: JobFile, changes: With = None, as_json: AsJson = False, quiet: Quiet = False
) -> None:
    """Check a job: what is worth knowing, what to look at, what not to build."""
    from parametric_wall.checks.check import check as check_job
    from parametric_wall.checks.finding import stops
    from parametric_wall.pack import screen
    from parametric_wall.setting_out.set_out import set_out

    spec = load_job(job, changes)
    laid = set_out(spec)
    found = check_job(spec, laid)
    if as_json:
        put(screen.findings_json(spec, found))
    elif not quiet or stops(found):
        put(screen.check_text(spec, laid, found))
    raise typer.Exit(STOPPED if stops(found) else GOOD)


@app.command()
def takeoff(
    job: JobFile, changes: With = None, as_json: AsJson = False, quiet: Quiet = False
) -> None:
    """Take off the quantities of a job, net and to order."""
    from parametric_wall.pack import screen

    spec = load_job(job, changes)
    laid = set_out_or_stop(spec, as_json=as_json)
    if as_json:
        put(screen.takeoff_json(spec, laid))
    elif not quiet:
        put(screen.takeoff_text(spec, laid))


@app.command()
def draw(
    job: JobFile,
    out: Annotated[str, typer.Option("--out", metavar="DIR", help="where the drawings go")],
    changes: With = None,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> None:
    """Draw a job: plans, sections, elevations and gauge rod, as PDF, SVG and DXF."""
    from parametric_wall.export.dxf import no_fonts
    from parametric_wall.pack import screen
    from parametric_wall.pack.draw import draw as draw_job
    from parametric_wall.solid import kernel

    folder = _folder(out)
    spec = load_job(job, changes)
    laid = set_out_or_stop(spec, as_json=as_json)
    with no_fonts():
        kernel.load("ezdxf")  # The largest of what drawing needs.
    drawn = draw_job(spec, laid, folder)
    if drawn.removed and not (quiet or as_json):
        put(f"removed older drawings: {', '.join(drawn.removed)}", "stderr")
    if as_json:
        put(screen.drawn_json(drawn))
    elif not quiet:
        put(screen.drawn_text(spec, drawn, folder))


@app.command()
def verify(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="a built folder")],
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> None:
    """Measure the files of a built folder again; fails if one was changed."""
    from parametric_wall.pack import screen
    from parametric_wall.pack.build import load_record

    record = load_record(folder)
    # Only here: it brings the CAD kernel with it.
    from parametric_wall.verify.again import verify_folder

    again = verify_folder(folder, record)
    if as_json:
        put(screen.again_json(again))
    elif not quiet or not again.agrees:
        put(screen.again_text(again))
    raise typer.Exit(GOOD if again.agrees else STOPPED)


@app.command()
def new(
    path: Annotated[Path, typer.Argument(metavar="JOB.toml", help="the file to write")],
    as_json: AsJson = False,
) -> None:
    """Write a commented job file to start from; never over an existing one."""
    from parametric_wall.job.starter import STARTER

    if str(path) == "-":
        raise JobError([Fault("new", "-", "is no name for a file", "name one: new my-wall.toml")])
    write_new(path, STARTER.encode())
    put(json.dumps({"wrote": str(path)}) if as_json else f"wrote {path}")


@app.command()
def bonds(job: JobFile, changes: With = None, as_json: AsJson = False) -> None:
    """Compare bonds of a job: blocks, cuts, waste, laps; and lengths and heights that suit it."""
    from parametric_wall.export.records import json_bytes
    from parametric_wall.pack.compare import compared_record, compared_text

    spec = load_job(job, changes)
    put(json_bytes(compared_record(spec)).decode() if as_json else compared_text(spec))


@app.command()
def sizes(as_json: AsJson = False) -> None:
    """List the known sizes of blocks and copings."""
    from parametric_wall.pack import screen

    put(screen.sizes_json() if as_json else screen.sizes_text())


@app.command()
def schema(
    what: Annotated[
        str,
        typer.Argument(
            help="job, setting-out, take-off, findings, bonds, drawings or verification"
        ),
    ] = "job",
    as_json: AsJson = False,  # noqa: ARG001 (every command has it; a schema is JSON anyway)
) -> None:
    """Print a JSON schema: of the job file, of a written file, or of what bonds says."""
    from parametric_wall.pack.schemas import schema as schema_of

    put(json.dumps(schema_of(what), indent=2, ensure_ascii=False))


@app.command()
def meaning(
    code: Annotated[str | None, typer.Argument(help="a finding's code")] = None,
    as_json: AsJson = False,
) -> None:
    """Say what a finding's code means; list all codes without one."""
    from parametric_wall.pack import screen

    put(screen.meaning(code, as_json=as_json))
