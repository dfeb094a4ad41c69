"""The commands for days, price, price lists and options."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Annotated

import typer

from parametric_wall.cli_words import (
    GOOD,
    STOPPED,
    AsJson,
    JobFile,
    Quiet,
    With,
    load_job,
    set_out_or_stop,
)
from parametric_wall.errors import Fault, JobError
from parametric_wall.pack.terminal import put

RatesFile = Annotated[
    Path, typer.Option("--rates", metavar="FILE", help="your price list, TOML or CSV")
]
MaybeRates = Annotated[
    Path | None, typer.Option("--rates", metavar="FILE", help="your price list, TOML or CSV")
]


def days(job: JobFile, changes: With = None, as_json: AsJson = False, quiet: Quiet = False) -> None:
    """List the days of a job: tasks, people, hours, and nights that have to pass."""
    from parametric_wall.order.days import schedule
    from parametric_wall.pack import screen

    spec = load_job(job, changes)
    plan = schedule(spec, set_out_or_stop(spec, as_json=as_json))
    if as_json:
        put(screen.days_json(spec, plan))
    elif not quiet:
        put(screen.days_text(spec, plan))


def price(
    job: JobFile,
    rates: RatesFile,
    changes: With = None,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> None:
    """Price a job by your own price list; what has no rate is listed apart."""
    from parametric_wall.order.days import schedule
    from parametric_wall.order.estimate import estimate, items
    from parametric_wall.order.materials import order_lines
    from parametric_wall.order.price_files import load_prices
    from parametric_wall.pack import screen

    spec, prices = load_job(job, changes), load_prices(rates)
    laid = set_out_or_stop(spec, as_json=as_json)
    found = estimate(items(order_lines(spec, laid), schedule(spec, laid)), prices)
    if as_json:
        put(screen.price_json(spec, found))
    elif not quiet:
        put(screen.price_text(spec, found))


def rates(
    job: JobFile,
    path: Annotated[Path, typer.Argument(metavar="FILE", help="to write: .toml or .csv")],
    changes: With = None,
    as_json: AsJson = False,
) -> None:
    """Write a price list to fill in, for what a job needs; never over an existing file."""
    from parametric_wall.order.days import schedule
    from parametric_wall.order.estimate import items, wanted
    from parametric_wall.order.materials import order_lines
    from parametric_wall.order.price_files import blank_csv, blank_toml
    from parametric_wall.pack.folder import write_new

    writers = {".toml": blank_toml, ".csv": blank_csv}
    writer = writers.get(path.suffix.lower())
    if writer is None:
        hint = "end it with .toml or .csv"
        raise JobError([Fault("rates", str(path), "is no name for a price list", hint)])
    spec = load_job(job, changes)
    laid = set_out_or_stop(spec, as_json=as_json)
    rows = wanted(items(order_lines(spec, laid), schedule(spec, laid)))
    write_new(path, writer(rows).encode("utf-8"))
    put(json.dumps({"wrote": str(path)}) if as_json else f"wrote {path}: {len(rows)} rates to give")


def options(
    job: JobFile,
    others: Annotated[
        list[str] | None, typer.Argument(metavar="[OTHER.toml]...", help="other job files")
    ] = None,
    changes: With = None,
    instead: Annotated[
        list[str] | None,
        typer.Option(
            "--or",
            metavar="KEY=VALUE",
            help="the first job with another value, as an option of its own; may be repeated",
        ),
    ] = None,
    rates: MaybeRates = None,
    as_json: AsJson = False,
) -> None:
    """Compare options: other jobs, or this one with another value; what they take and cost."""
    from parametric_wall.order.options import option
    from parametric_wall.order.price_files import load_prices
    from parametric_wall.pack import screen
    from parametric_wall.pack.pricing import options_text

    if not others and not instead:
        hint = "name another job file, or give --or KEY=VALUE"
        raise JobError([Fault("options", "", f"{job} alone is nothing to compare", hint)])
    if job == "-" and instead:
        hint = "save the job as a file"
        raise JobError([Fault("--or", "", "standard input can be read only once", hint)])
    prices = None if rates is None else load_prices(rates)
    wanted = [(_name(job), job, changes, "--with")]
    wanted += [(change, job, [*(changes or []), change], "--or") for change in instead or []]
    wanted += [(_name(other), other, changes, "--with") for other in others or []]
    found = []
    for name, path, values, word in wanted:
        with _named(name):
            found.append(option(name, load_job(path, values, word), prices))
    if as_json:
        put(screen.options_json(tuple(found)))
    else:
        put(options_text(tuple(found)))
    raise typer.Exit(STOPPED if any(o.stops for o in found) else GOOD)


@contextmanager
def _named(name: str) -> Iterator[None]:
    """See that a fault says in which option it is."""
    try:
        yield
    except JobError as error:
        faults = [replace(fault, path=f"{name}: {fault.path}") for fault in error.faults]
        raise JobError(faults) from None


def _name(job: str) -> str:
    return Path(job).stem if job != "-" else "this job"
