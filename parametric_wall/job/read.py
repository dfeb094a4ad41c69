"""Reads a job file. Every fault in it is reported at once."""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any
from unicodedata import category

from pydantic import ValidationError

from parametric_wall.errors import Fault, JobError
from parametric_wall.job.faults import faults_of, shown
from parametric_wall.job.model import Job
from parametric_wall.job.resolve import JobSpec, resolve

MOST_BYTES = 1_000_000
"""A job of forty walls with sixty legs each is a tenth of this."""
SHARED = ("block", "joints", "bond", "coping", "footing", "base", "soil")
"""Tables of the job that every wall may rest on."""


def load(source: Path | str, *, changes: dict[str, str] | None = None) -> JobSpec:
    """Read and resolve a job file.

    Args:
        source: the path of a TOML file.
        changes: other values to try, dotted path to TOML text, as in
            ``{"walls.0.height.courses": "5"}``.

    Raises:
        JobError: with every fault found.
        OSError: the file cannot be read.
    """
    path = Path(source)
    with path.open("rb") as file:
        data = file.read(MOST_BYTES + 1)
    return loads(data, name=path.stem, changes=changes)


def loads(
    data: bytes | str, *, name: str = "job", changes: dict[str, str] | None = None
) -> JobSpec:
    """Read and resolve a job from TOML text; see `load`."""
    _check_name(name)
    table = _parse(data)
    faults: list[Fault] = []
    for path, text in (changes or {}).items():
        try:
            _change(table, path, text)
        except JobError as error:
            faults += error.faults
    if faults:
        raise JobError(faults)
    try:
        job = validate(table)
    except JobError as error:
        raise JobError([*error.faults, *_further(table, error.faults)]) from None
    return resolve(job, name)


def validate(table: dict[str, Any]) -> Job:
    """Check a job's tables, each by itself.

    Raises:
        JobError: with every fault found.
    """
    try:
        return Job.model_validate(table)
    except ValidationError as error:
        raise JobError(faults_of(error)) from None


def _further(table: dict[str, Any], found: tuple[Fault, ...]) -> list[Fault]:
    """Faults of a faulty job that one table by itself does not show.

    Walls of one name; and what takes more than one key to see, in the walls that have
    no fault yet and rest on no faulty table.
    """
    walls = table.get("walls")
    if not isinstance(walls, list):
        return []
    further = _same_names(walls)
    tops = {f.path.split(".")[0] for f in found}
    if not tops.isdisjoint(SHARED):
        return further
    shared = {key: table[key] for key in SHARED if key in table}
    for i, wall in enumerate(walls):
        at = f"walls.{i}"
        if any(f"{f.path}.".startswith(f"{at}.") for f in found):
            continue
        try:
            resolve(validate({"title": "a wall", **shared, "walls": [wall]}))
        except JobError as error:
            moved = [replace(f, path=re.sub(r"^walls\.0\b", at, f.path)) for f in error.faults]
            further += [f for f in moved if f not in further]
    return further


def _same_names(walls: list[Any]) -> list[Fault]:
    """Every wall that has the name of one before it."""
    first: dict[str, int] = {}
    faults = []
    for i, name in enumerate(_names(walls)):
        if name is not None and first.setdefault(name, i) != i:
            problem = f"is the name of walls.{first[name]} already"
            hint = "every wall needs a name of its own"
            faults.append(Fault(f"walls.{i}.name", shown(name), problem, hint))
    return faults


def _check_name(name: str) -> None:
    """The written files bear the job's name: it has to be one that files can have."""
    odd = any(category(character) in ("Cc", "Cs") for character in name)
    if Path(name).name != name or name in ("", "..") or odd:
        hint = "the results bear this name: it may have no slash and no control character"
        raise JobError([Fault("file", shown(name), "cannot be the name of results", hint)])


def _parse(data: bytes | str) -> dict[str, Any]:
    if len(data) > MOST_BYTES:
        raise JobError([Fault("file", "", f"is longer than {MOST_BYTES} bytes: no job file")])
    hint = "save the file as UTF-8"
    try:
        text = data.decode("utf-8") if isinstance(data, bytes) else data
    except UnicodeDecodeError as error:
        at = f"byte {error.start}"
        raise JobError([Fault("file", at, "is not UTF-8 text", hint)]) from None
    if "\0" in text:
        at = f"character {text.index(chr(0))}"
        raise JobError([Fault("file", at, "is not UTF-8 text", hint)])
    return _toml(text.removeprefix("\ufeff"))


def _toml(text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        hint = "numbers have a point, not a comma; text stands in quotes"
        raise JobError([Fault("file", "", f"is not TOML: {error}", hint)]) from None
    except ValueError:  # The parser's own limit on digits.
        raise JobError([Fault("file", "", "has a number too long to read")]) from None
    except RecursionError:
        raise JobError([Fault("file", "", "is nested too deeply")]) from None


def _change(table: dict[str, Any], path: str, text: str) -> None:
    """Set one value by its dotted path; the text is TOML, or a bare word."""
    *parents, last = path.split(".")
    here: Any = table
    for key in parents:
        if isinstance(here, list):
            here = here[_index(here, key, path)]
        elif isinstance(here, dict):
            here = here.setdefault(key, {})
    if isinstance(here, list):
        here[_index(here, last, path)] = _value(text)
    elif isinstance(here, dict):
        here[last] = _value(text)
    else:
        raise JobError([Fault(path, shown(text), "leads through what is no table")])


def _value(text: str) -> Any:
    try:
        read = tomllib.loads(f"value = {text}")
    except (ValueError, RecursionError):
        return text
    return read["value"] if len(read) == 1 else text


def _names(items: list[Any]) -> list[str | None]:
    """The name of every item of a list; None where it has none that is text."""
    names = [item.get("name") if isinstance(item, dict) else None for item in items]
    return [name if isinstance(name, str) else None for name in names]


def _index(items: list[Any], key: str, path: str) -> int:
    """A place in a list: by number from 0, or by the name of the wall there."""
    names = _names(items)
    if key in names:
        return names.index(key)
    places = [str(i) for i in range(len(items))]
    if key in places:
        return places.index(key)
    known = [f"0 to {len(items) - 1}"] if items else []
    hint = f"use {', '.join([*known, *map(shown, filter(None, names))])}" if known else ""
    raise JobError([Fault(path, shown(key), "names no item of the list", hint)])
