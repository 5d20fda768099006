"""Errors of the models in plain sentences, at the path in the file that they concern."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, ValidationError

from engine.flow.positions import PathPart
from engine.flow.schema import LimitsPart, RulePart, UsePart, WaiverPart
from engine.flow.suggest import did_you_mean, nearest, shown

_TAGS = ("<text>", "<list>", "<mapping>")  # of the unions in the schema; no key can be spelt so
_INNER: dict[PathPart, type[BaseModel]] = {
    "next": RulePart,
    "limits": LimitsPart,
    "use": UsePart,
    "waive": WaiverPart,
}

_OF_KEY = ("is ", "has ", "should ")

_SHAPES = {
    "string_type": ("should be text", "write one value, no list or mapping"),
    "list_type": ("should be a list", "write it as [a, b], or with '- ' before each"),
    "dict_type": ("should be a mapping", "write it as name: value"),
    "model_type": ("should be a mapping", "write it as key: value"),
}


@dataclass(frozen=True, slots=True)
class ShapeError:
    """What is wrong below `path`; `at_key` where the key is to blame and not its value."""

    path: tuple[PathPart, ...]
    what: str
    hint: str
    at_key: bool = False
    meant: str | None = None  # the key that an unknown one is close to


def shape_errors(error: ValidationError, options: list[str]) -> Iterator[ShapeError]:
    """All errors of one model; `options` are the keys allowed at its top."""
    entries = error.errors(include_url=False)
    words = [_in_words(entry, path := _path(entry), _options(path, options)) for entry in entries]
    meant = {(*found.path[:-1], found.meant) for found in words if found.meant}
    for entry, found in zip(entries, words, strict=True):
        if not (entry["type"] == "missing" and _path(entry) in meant):  # it is there, misspelt
            yield found


def _path(entry: Any) -> tuple[PathPart, ...]:
    return tuple(part for part in entry["loc"] if part not in (*_TAGS, "[key]"))


def keys_of(model: type[BaseModel]) -> list[str]:
    """Keys as they are written in the file."""
    return [field.alias or name for name, field in model.model_fields.items()]


def _options(path: tuple[PathPart, ...], at_top: list[str]) -> list[str]:
    model = _INNER.get(path[0]) if len(path) > 1 else None
    return keys_of(model) if model else at_top


def _in_words(entry: Any, path: tuple[PathPart, ...], options: list[str]) -> ShapeError:
    kind = entry["type"]
    if kind == "extra_forbidden":
        hint = did_you_mean(str(path[-1]), options)
        meant = nearest(str(path[-1]), options)
        return ShapeError(path, f"unknown key {shown(str(path[-1]))}", hint, at_key=True, meant=meant)
    if kind == "missing":
        return ShapeError(path[:-1], f"'{path[-1]}' is missing", f"add '{path[-1]}:'", at_key=True)
    if kind == "loadstep":
        context = entry["ctx"]
        in_key = "[key]" in entry["loc"]
        return ShapeError(path, _about(path, context["what"]), context["hint"], at_key=in_key)
    if kind == "literal_error":
        given = entry["input"]
        what = f"{shown(given)} is not known" if isinstance(given, str) else "should be a list"
        return ShapeError(path, _about(path, what), "write a list or 'all'")
    if entry["input"] == "":
        return ShapeError(path, _about(path, "is empty"), "write it or delete the key")
    what, hint = _SHAPES[kind]
    return ShapeError(path, _about(path, what), hint)


def _about(path: tuple[PathPart, ...], what: str) -> str:
    """The key that is meant, before what is said of it or of its value."""
    keys = [part for part in path if isinstance(part, str)]
    if not keys:
        return f"the entry {what}"
    subject = f"'{keys[-1]}'" if isinstance(path[-1], str) else f"item {path[-1] + 1} of '{keys[-1]}'"
    return f"{subject} {what}" if what.startswith(_OF_KEY) else f"{subject}: {what}"
