"""The command line. Each command calls the package and prints; none works by itself."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any

import typer

from parametric_wall import __version__
from parametric_wall.errors import Fault, JobError, OutputError, WallError
from parametric_wall.job.resolve import JobSpec

GOOD, STOPPED, BAD_INPUT, INTERRUPTED = 0, 1, 2, 130
FORMAT_NAMES = ("step", "stl", "glb")

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Sets out low garden walls and planters, and proves the quantities on a solid model.",
)

JobFile = Annotated[str, typer.Argument(metavar="JOB.toml", help="job file; - for standard input")]
With = Annotated[
    list[str] | None,
    typer.Option(
        "--with",
        metavar="KEY=VALUE",
        help="another value for one key, for instance walls.0.height.courses=4; may be repeated",
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="print JSON")]
Quiet = Annotated[bool, typer.Option("--quiet", help="print only what went wrong")]


def run() -> None:
    """The program's entry: turns what was raised into a message and an exit code."""
    as_json = "--json" in sys.argv
    try:
        app()
    except JobError as error:
        _fail({"faults": [_fault(f) for f in error.faults]}, _faults_text(error), as_json)
    except WallError as error:
        _fail({"error": str(error)}, str(error), as_json)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(GOOD)
    except OSError as error:
        text = f"{error.filename or ''}: {error.strerror or error}".lstrip(": ")
        _fail({"error": text}, text, as_json)
    except ImportError as error:
        text = (
            f"a library is missing: {error}. The CAD kernel needs libGL.so.1 and libX11.so.6 "
            "from the system (Debian: libgl1 and libx11-6)."
        )
        _fail({"error": text}, text, as_json)
    except KeyboardInterrupt:
        print("stopped; earlier results are untouched", file=sys.stderr)
        sys.exit(INTERRUPTED)


def _fail(record: dict[str, Any], text: str, as_json: bool) -> None:
    if as_json:
        print(json.dumps(record, ensure_ascii=False))
    print(text, file=sys.stderr)
    sys.exit(BAD_INPUT)


def _fault(fault: Fault) -> dict[str, str]:
    return {
        "path": fault.path,
        "value": fault.value,
        "problem": fault.problem,
        "hint": fault.hint,
    }


def _faults_text(error: JobError) -> str:
    many = len(error.faults)
    head = f"{many} fault{'s' if many > 1 else ''} in the job file:"
    return "\n".join([head, *(f"  {f}" for f in error.faults)])


def _load(job: str, changes: list[str] | None) -> JobSpec:
    from parametric_wall.job.read import load, loads

    wanted = {}
    for change in changes or []:
        key, equals, value = change.partition("=")
        if not equals or not key:
            raise JobError([Fault("--with", change, "must be KEY=VALUE")])
        wanted[key.strip()] = value.strip()
    if job == "-":
        return loads(sys.stdin.buffer.read(), changes=wanted)
    return load(job, changes=wanted)


def _progress(quiet: bool) -> Callable[[str], None]:
    return (lambda _: None) if quiet else (lambda text: print(f"... {text}", file=sys.stderr))


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
        print(__version__)
        raise typer.Exit


@app.command()
def build(
    job: JobFile,
    out: Annotated[Path, typer.Option("--out", metavar="DIR", help="where the results go")],
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

    suffixes = _suffixes(formats)
    built = build_job(_load(job, changes), out, suffixes, _progress(quiet or as_json))
    if as_json:
        print(screen.built_json(built))
    elif not quiet or not built.good:
        print(screen.built_text(built, out))
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

    spec = _load(job, changes)
    laid = set_out(spec)
    found = check_job(spec, laid)
    if as_json:
        print(screen.findings_json(spec, found))
    elif not quiet or stops(found):
        print(screen.check_text(spec, laid, found))
    raise typer.Exit(STOPPED if stops(found) else GOOD)


@app.command()
def takeoff(
    job: JobFile, changes: With = None, as_json: AsJson = False, quiet: Quiet = False
) -> None:
    """Take off the quantities of a job, net and to order."""
    from parametric_wall.checks.check import check as check_job
    from parametric_wall.checks.finding import stops
    from parametric_wall.pack import screen
    from parametric_wall.setting_out.set_out import set_out

    spec = _load(job, changes)
    laid = set_out(spec)
    found = check_job(spec, laid)
    if stops(found):
        print(screen.findings_json(spec, found) if as_json else screen.stopped_text(spec, found))
        raise typer.Exit(STOPPED)
    if as_json:
        print(screen.takeoff_json(spec, laid))
    elif not quiet:
        print(screen.takeoff_text(spec, laid))


@app.command()
def verify(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="a built folder")],
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> None:
    """Measure the files of a built folder again; fails if one was changed."""
    from parametric_wall.pack import screen
    from parametric_wall.pack.build import load_record
    from parametric_wall.verify.again import verify_folder

    again = verify_folder(folder, load_record(folder))
    if as_json:
        print(screen.again_json(again))
    elif not quiet or not again.agrees:
        print(screen.again_text(again))
    raise typer.Exit(GOOD if again.agrees else STOPPED)


@app.command()
def new(
    path: Annotated[Path, typer.Argument(metavar="JOB.toml", help="the file to write")],
) -> None:
    """Write a commented job file to start from; never over an existing one."""
    from parametric_wall.job.starter import STARTER

    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(STARTER)
    except FileExistsError:
        raise OutputError(f"{path}: exists already, and is left as it is") from None
    print(f"wrote {path}")


@app.command()
def sizes(as_json: AsJson = False) -> None:
    """List the known sizes of blocks and copings."""
    from parametric_wall.pack import screen

    print(screen.sizes_json() if as_json else screen.sizes_text())


@app.command()
def schema(
    what: Annotated[
        str, typer.Argument(help="job, setting-out, take-off, findings or verification")
    ] = "job",
) -> None:
    """Print a JSON schema: of the job file, or of a written file."""
    from parametric_wall.pack.schemas import schema as schema_of

    print(json.dumps(schema_of(what), indent=2, ensure_ascii=False))


@app.command()
def explain(
    code: Annotated[str | None, typer.Argument(help="a finding's code")] = None,
    as_json: AsJson = False,
) -> None:
    """Explain a finding's code; list all codes without one."""
    from parametric_wall.pack import screen

    print(screen.explain(code, as_json=as_json))
