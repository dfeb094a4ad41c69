"""Reads a job file. Every fault in it is reported at once."""

from __future__ import annotations

import tomllib
from difflib import get_close_matches
from pathlib import Path
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from parametric_wall.errors import Fault, JobError
from parametric_wall.job.model import Job
from parametric_wall.job.resolve import JobSpec, resolve

LATER = {
    "radius_mm": "curved walls",
    "curve": "curved walls",
    "turn_deg": "corners other than quarter turns",
    "angle_deg": "corners other than quarter turns",
    "slope_mm": "sloping ground and stepped footings",
    "slope_deg": "sloping ground and stepped footings",
    "steps": "sloping ground and stepped footings",
    "piers": "piers",
    "pier": "piers",
    "openings": "openings and gates",
    "opening": "openings and gates",
    "junctions": "T junctions",
    "junction": "T junctions",
    "units_thick": "walls two units thick",
    "thickness_units": "walls two units thick",
}
"""Keys people will try, and what they mean: each is refused with its own message."""


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
    return loads(path.read_bytes(), name=path.stem, changes=changes)


def loads(
    data: bytes | str, *, name: str = "job", changes: dict[str, str] | None = None
) -> JobSpec:
    """Read and resolve a job from TOML text; see `load`."""
    table = _parse(data)
    for path, text in (changes or {}).items():
        _change(table, path, text)
    return resolve(validate(table), name)


def validate(table: dict[str, Any]) -> Job:
    """Check a job's tables.

    Raises:
        JobError: with every fault found.
    """
    try:
        return Job.model_validate(table)
    except ValidationError as error:
        raise JobError(_faults(error)) from None


def _parse(data: bytes | str) -> dict[str, Any]:
    try:
        text = data.decode("utf-8-sig") if isinstance(data, bytes) else data
    except UnicodeDecodeError as error:
        at = f"byte {error.start}"
        hint = "save the file as UTF-8"
        raise JobError([Fault("file", at, "is not UTF-8 text", hint)]) from None
    try:
        return tomllib.loads(text.replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError as error:
        hint = "numbers have a point, not a comma; text stands in quotes"
        raise JobError([Fault("file", "", f"is not TOML: {error}", hint)]) from None
    except RecursionError:
        raise JobError([Fault("file", "", "is nested too deeply")]) from None


def _change(table: dict[str, Any], path: str, text: str) -> None:
    """Set one value by its dotted path; the text is TOML, or a bare word."""
    try:
        value = tomllib.loads(f"v = {text}")["v"]
    except tomllib.TOMLDecodeError:
        value = text
    *parents, last = path.split(".")
    here: Any = table
    for i, key in enumerate(parents):
        if isinstance(here, list):
            here = here[_index(here, key, path)]
        elif isinstance(here, dict):
            here = here.setdefault(key, {})
        else:
            problem = f"{'.'.join(parents[:i])} is not a table"
            raise JobError([Fault(path, text, problem)])
    if isinstance(here, list):
        here[_index(here, last, path)] = value
    elif isinstance(here, dict):
        here[last] = value
    else:
        raise JobError([Fault(path, text, f"{'.'.join(parents)} is not a table")])


def _index(items: list[Any], key: str, path: str) -> int:
    """A place in a list: by number from 0, or by the name of the wall there."""
    names = [item.get("name") for item in items if isinstance(item, dict)]
    if key in names:
        return names.index(key)
    if key.isdecimal() and int(key) < len(items):
        return int(key)
    known = f"0 to {len(items) - 1}" + (f", or {', '.join(map(str, names))}" if names else "")
    raise JobError([Fault(path, key, "names no item of the list", f"use {known}")])


def _faults(error: ValidationError) -> list[Fault]:
    faults = []
    for item in error.errors(include_url=False):
        loc = [str(part) for part in item["loc"]]
        # A union's branch shows up in the location; the file has no such key.
        loc = [p for i, p in enumerate(loc) if not _is_branch(loc, i)]
        faults.append(_fault(item, loc))
    return faults


_BRANCHES = {"straight", "rectangle", "legs", "stop", "abutment"}


def _is_branch(loc: list[str], i: int) -> bool:
    return loc[i] in _BRANCHES and i > 0 and loc[i - 1] in {"plan", "start", "end"}


def _fault(item: Any, loc: list[str]) -> Fault:
    path, kind, ctx = ".".join(loc), item["type"], item.get("ctx", {})
    value = _shown(item["input"]) if kind != "missing" else ""
    if kind == "extra_forbidden":
        return _unknown_key(path, loc, value)
    if kind == "missing":
        return Fault(path, "", "is missing", _needs(loc))
    if kind == "finite_number":
        return Fault(path, value, "must be a finite number")
    if kind == "union_tag_not_found":
        return Fault(path, "", f"needs {ctx['discriminator']}")
    if kind == "union_tag_invalid":
        hint = f"choose {ctx['expected_tags']}"
        key = str(ctx["discriminator"]).strip("'")
        return Fault(f"{path}.{key}", str(ctx["tag"]), "is not known today", hint)
    message = item["msg"].removeprefix("Value error, ")
    if kind.startswith(("greater", "less")):
        message = f"{message.replace('Input should be', 'must be')}{_range(loc)}"
    return Fault(path, value, message.replace("Input should be", "must be"))


def _unknown_key(path: str, loc: list[str], value: str) -> Fault:
    key = loc[-1]
    if key in LATER:
        return Fault(path, value, f"{LATER[key]} cannot be set out yet")
    model = _model_at(loc[:-1])
    known = sorted(model.model_fields) if model else []
    near = get_close_matches(key, known, 1, 0.6)
    hint = f"did you mean {near[0]}?" if near else f"known here: {', '.join(known)}"
    return Fault(path, value, "is not a known key", hint)


def _needs(loc: list[str]) -> str:
    model = _model_at(loc[:-1])
    if model and "size" in model.model_fields:
        return "give size, or every figure"
    return ""


def _range(loc: list[str]) -> str:
    """The whole allowed range of a key, for its message."""
    model = _model_at(loc[:-1])
    field = model.model_fields.get(loc[-1]) if model else None
    if field is None:
        return ""
    found = {
        name: getattr(m, name)
        for m in field.metadata
        for name in ("ge", "gt", "le", "lt")
        if getattr(m, name, None) is not None
    }
    low, high = found.get("ge", found.get("gt")), found.get("le", found.get("lt"))
    return f" (range {low:g} to {high:g})" if low is not None and high is not None else ""


def _model_at(loc: list[str]) -> type[BaseModel] | None:
    """The model of the table that stands at a location."""
    models: list[type[BaseModel]] = [Job]
    for key in loc:
        if key.isdecimal():
            continue
        found = [m.model_fields[key].annotation for m in models if key in m.model_fields]
        models = [m for annotation in found for m in _models_in(annotation)]
    return models[0] if models else None


def _models_in(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [m for arg in get_args(annotation) for m in _models_in(arg)]


def _shown(value: object) -> str:
    text = repr(value) if isinstance(value, str) else str(value)
    return text if len(text) <= 60 else text[:57] + "..."
