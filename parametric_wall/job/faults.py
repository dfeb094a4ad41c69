"""Says in plain words, and where it stands in the file, what is wrong in a job's tables."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from parametric_wall.errors import Fault
from parametric_wall.job.model import Job, RuleError

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

NOUNS = {
    "float": "a number",
    "finite": "a number",
    "int": "a whole number",
    "string": "text in quotes",
    "bool": "true or false",
    "date": "a date without quotes, as in 2026-04-01",
    "model": "a table",
    "dict": "a table",
    "tuple": "a list",
}
"""What has to stand there, by the first word of the kind of an error."""

HINTED = ("tuple_type", "string_pattern_mismatch")
HINTS = {
    "walls": "head every wall with [[walls]]",
    "name": "begin with a letter, as in herb-bed",
}
SHOWN = 60
"""Characters of a value or a key that a message shows."""
SHOWN_DEPTH = 3
LONGEST_BITS = 200
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")


def faults_of(error: ValidationError) -> list[Fault]:
    """Every fault that was found in a job's tables."""
    found = [e for e in error.errors(include_url=False) if not _is_echo(e)]
    return [fault for e in found for fault in _faults(e)]


def _is_echo(item: Any) -> bool:
    """Whether an error only follows from others, which are told by themselves.

    A list whose items are all faulty is taken for one that has too few of them, and
    walls of one name are told apart wall by wall.
    """
    few: bool = item["type"] == "too_short" and len(item["input"]) >= item["ctx"]["min_length"]
    return few or (item["type"] == "value_error" and item["loc"] == ("walls",))


def _faults(item: Any) -> list[Fault]:
    """The faults of one error; a rule can be broken by several keys of its table."""
    error = item.get("ctx", {}).get("error")
    if not isinstance(error, RuleError):
        return [_fault(item)]
    keys, _ = _locate(item["loc"])
    at = dotted(keys)
    return [
        Fault(f"{at}.{key}", shown(value) if (value := _at(item["input"], key)) else "", problem)
        for key, problem in error.problems.items()
    ]


def _at(table: Any, path: str) -> Any:
    """What stands in a table at a dotted path; None where nothing does."""
    for key in path.split("."):
        table = table[int(key)] if isinstance(table, list) else table.get(key)
    return table


def _fault(item: Any) -> Fault:
    keys, model = _locate(item["loc"])
    path, kind, ctx = dotted(keys), item["type"], item.get("ctx", {})
    value = "" if kind == "missing" else shown(item["input"])
    if kind == "extra_forbidden":
        return _unknown_key(path, keys[-1], model, value)
    if kind == "missing":
        return Fault(path, "", "is missing", _needs(model))
    if kind.startswith("union_tag"):
        return _kind_fault(keys, model, item)
    if kind == "value_error":
        return Fault(path, value, str(ctx["error"]))
    hint = HINTS.get(keys[-1], "") if kind in HINTED else ""
    return Fault(path, value, f"must be {_wanted(item, keys, model)}", hint)


def _wanted(item: Any, keys: list[str], model: type[BaseModel] | None) -> str:
    """What has to stand there, in plain words, with the range that is allowed."""
    kind, ctx = item["type"], item.get("ctx", {})
    allowed = _range(_field(keys, model))
    if kind == "literal_error":
        return str(ctx["expected"])
    if kind == "string_unicode":
        return "text that UTF-8 can hold"
    if kind == "string_pattern_mismatch":
        return "small letters a to z and digits, its words joined by single hyphens"
    if kind in ("greater_than", "greater_than_equal", "less_than", "less_than_equal"):
        return allowed
    if kind.endswith(("too_long", "too_short")):
        return _size_wanted(item, ctx)
    noun = NOUNS.get(kind.split("_")[0])
    return f"{noun} {allowed}".rstrip() if noun else str(item["msg"])


def _field(keys: list[str], model: type[BaseModel] | None) -> FieldInfo | None:
    """What is known of a key; of a place in a list of numbers, what is known of each."""
    if model is None or not keys[-1].isdecimal():
        return model.model_fields.get(keys[-1]) if model else None
    field = model.model_fields.get(keys[-2])
    return None if field is None else next(_items_in(field.annotation), None)


def _items_in(annotation: Any) -> Iterator[FieldInfo]:
    """The limits of the items of a list."""
    yield from (m for m in getattr(annotation, "__metadata__", ()) if isinstance(m, FieldInfo))
    for arg in get_args(annotation):
        yield from _items_in(arg)


def _size_wanted(item: Any, ctx: dict[str, Any]) -> str:
    """How long a text or a list has to be."""
    text, most = item["type"].startswith("string"), ctx.get("max_length")
    if most is None:
        return "text, and not empty" if text else f"a list of at least {ctx['min_length']}"
    what = "text of at most {} characters" if text else "a list of at most {}"
    return f"{what.format(most)}, not {len(item['input'])}"


def _range(field: FieldInfo | None) -> str:
    """The whole allowed range of a key, in words; empty where there is none."""
    limits = {
        name: f"{getattr(m, name):.15g}"
        for m in (field.metadata if field else ())
        for name in ("ge", "gt", "le", "lt")
        if getattr(m, name, None) is not None
    }
    words = {"ge": "from {}", "gt": "more than {}", "le": "to {}", "lt": "less than {}"}
    if "gt" in limits:
        words["le"] = "and at most {}"
    return " ".join(word.format(limits[name]) for name, word in words.items() if name in limits)


def _kind_fault(keys: list[str], model: type[BaseModel] | None, item: Any) -> Fault:
    """The key that says of which kind a table is does not stand there, or is not known."""
    models = _models_in(model.model_fields[keys[-1]].annotation) if model else []
    key = str(item["ctx"]["discriminator"]).strip("'")
    choices = [str(c) for m in models for c in get_args(m.model_fields[key].annotation)]
    hint = "choose " + ", ".join(map(shown, choices))
    path = dotted([*keys, key])
    if item["type"] == "union_tag_not_found":
        return Fault(path, "", "is missing", hint)
    return Fault(path, shown(item["input"][key]), "is not known today", hint)


def _unknown_key(path: str, key: str, model: type[BaseModel] | None, value: str) -> Fault:
    if key in LATER:
        return Fault(path, value, f"{LATER[key]} cannot be set out yet", "leave the key out")
    known = sorted(model.model_fields) if model else []
    near = get_close_matches(key, known, 1, 0.6)
    hint = f"perhaps {near[0]}" if near else f"known here: {', '.join(known)}"
    return Fault(path, value, "is not a known key", hint)


def _needs(model: type[BaseModel] | None) -> str:
    if model and "size" in model.model_fields:
        return "give size, or every figure"
    return ""


def _locate(loc: Iterable[int | str]) -> tuple[list[str], type[BaseModel] | None]:
    """The keys of a location as the file has them, and the model of the table it is in.

    Where one of several tables may stand, the location names which one was taken; the
    file has no such key.
    """
    keys: list[str] = []
    models: list[type[BaseModel]] = [Job]
    inner = models
    for part in map(str, loc):
        if len(inner) > 1 and any(_is_tagged(m, part) for m in inner):
            inner = [m for m in inner if _is_tagged(m, part)]
            continue
        keys.append(part)
        if part.isdecimal():
            continue
        models = inner
        inner = [
            m
            for model in models
            if part in model.model_fields
            for m in _models_in(model.model_fields[part].annotation)
        ]
    return keys, models[0] if models else None


def _is_tagged(model: type[BaseModel], tag: str) -> bool:
    """Whether one of the words that a table's kind can be is this one."""
    return any(tag in get_args(f.annotation) for f in model.model_fields.values())


def _models_in(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [m for arg in get_args(annotation) for m in _models_in(arg)]


def dotted(keys: Iterable[str]) -> str:
    """A path of keys; a key that is not plain is quoted, as in TOML."""
    return ".".join(k if _BARE_KEY.fullmatch(k) and len(k) <= SHOWN else shown(k) for k in keys)


def shown(value: object) -> str:
    """A value much as the file has it, cut short where it is long."""
    text = _toml(value, SHOWN_DEPTH)
    return text if len(text) <= SHOWN else text[: SHOWN - 3] + "..."


def _toml(value: object, depth: int) -> str:
    if isinstance(value, str | bool):
        whole = value if isinstance(value, bool) else value[:SHOWN]
        return json.dumps(whole, ensure_ascii=False)
    if isinstance(value, int) and value.bit_length() > LONGEST_BITS:
        return "a number too long to show"
    if isinstance(value, dict | list) and depth == 0:
        return "..."
    if isinstance(value, dict):
        pairs = (f"{dotted([str(k)])} = {_toml(v, depth - 1)}" for k, v in value.items())
        return f"{{{', '.join(pairs)}}}"
    if isinstance(value, list):
        return f"[{', '.join(_toml(v, depth - 1) for v in value)}]"
    return str(value)
