"""The command line. Each command calls the package and prints; none works by itself."""

from __future__ import annotations

import json
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Annotated

import typer

from parametric_wall import __version__, cli_papers, cli_pricing
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
    is_interrupt,
)
from parametric_wall.pack.folder import MODEL_SUFFIXES, PAGE, folder_of, keep, write_new
from parametric_wall.pack.mishaps import tell, watch_interrupts
from parametric_wall.pack.terminal import prepare, put

PROGRAM = "parametric-wall"
FORMAT_NAMES = tuple(suffix.removeprefix(".") for suffix in (*MODEL_SUFFIXES, PAGE))

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Sets out low garden walls and planters, and proves the quantities on a solid model.",
)

PRICING = (cli_pricing.days, cli_pricing.price, cli_pricing.rates, cli_pricing.options)
for command in (*PRICING, cli_papers.draw, cli_papers.pack):
    app.command()(command)


def run() -> None:
    """The program's entry: turns what was raised into a message and an exit code."""
    as_json = "--json" in sys.argv
    prepare(as_json=as_json)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(TERMINATED))
    pressed = watch_interrupts()
    try:
        code = app(prog_name=PROGRAM, standalone_mode=False) or GOOD
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
    rates: cli_pricing.MaybeRates = None,
    formats: Annotated[
        str | None, typer.Option(help="which files, for instance step,html; all by default")
    ] = None,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> None:
    """Build a job: models, setting-out, quantities, findings, and the proof of the quantities."""
    from parametric_wall.order.price_files import load_prices
    from parametric_wall.pack import screen
    from parametric_wall.pack.build import build as build_job
    from parametric_wall.solid import kernel

    suffixes, progress = _suffixes(formats), _progress(quiet or as_json)
    folder = folder_of(out)
    spec = load_job(job, changes)
    keep(job, folder, spec.name)
    prices = None if rates is None else load_prices(rates)
    built = build_job(spec, folder, suffixes, progress, kernel.load, prices)
    if built.removed and not (quiet or as_json):
        put(f"removed older results: {', '.join(built.removed)}", "stderr")
    if as_json:
        put(screen.built_json(built))
    elif not quiet or not built.good:
        put(screen.built_text(built, folder))
    raise typer.Exit(GOOD if built.good else STOPPED)


@app.command()
def check(
    job: JobFile,
    changes: With = None,
    on_site: Annotated[
        bool, typer.Option("--on-site", help="print the sheet to check the walls by on site, too")
    ] = False,
    as_json: AsJson = False,
    quiet: Quiet = False,
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
        put(screen.check_text(spec, laid, found, on_site=on_site))
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
def order(
    job: JobFile, changes: With = None, as_json: AsJson = False, quiet: Quiet = False
) -> None:
    """Order a job: materials in packs, the mixing sheet, what is dug and taken away."""
    from parametric_wall.pack import screen

    spec = load_job(job, changes)
    laid = set_out_or_stop(spec, as_json=as_json)
    if as_json:
        put(screen.order_json(spec, laid))
    elif not quiet:
        put(screen.order_text(spec, laid))


@app.command()
def preview(
    job: JobFile,
    out: Annotated[
        str | None, typer.Option("--out", metavar="FILE", help="the page; NAME.html by default")
    ] = None,
    changes: With = None,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> None:
    """Write the page for a client: the wall to look at on any screen, offline."""
    from parametric_wall.pack import screen
    from parametric_wall.pack.preview import preview as preview_job

    spec = load_job(job, changes)
    shown = preview_job(spec, Path(f"{spec.name}{PAGE}" if out is None else out))
    if shown.removed and not (quiet or as_json):
        put("removed the older page", "stderr")
    if shown.path is None or as_json or not quiet:
        put(screen.previewed(spec, shown, as_json=as_json))
    raise typer.Exit(STOPPED if shown.path is None else GOOD)


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
        str, typer.Argument(help="job, rates, or a written file: take-off, order, days, ...")
    ] = "job",
    as_json: AsJson = False,  # noqa: ARG001 (every command has it; a schema is JSON anyway)
) -> None:
    """Print a JSON schema: of the job file, of a price list, or of what is written."""
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
