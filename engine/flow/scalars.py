"""The scalars of a flow file: text, names, numbers and truth values, each read from its text.

Every scalar comes here as text, so that an unquoted `yes` or `017` is never anything but the word it was.
Beside each type stands what JSON Schema says of it, as a YAML language server reads the value (YAML 1.2).
"""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from engine.flow.model import LOADS, SIGNALS, VEHICLES
from engine.flow.names import KEYWORDS
from engine.flow.suggest import did_you_mean, listed, shown

LONGEST_TEXT = 2000
"""Characters of one text; longer ones do not fit beside an entry on any screen."""

_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,59}")
_NUMBER = re.compile(r"[0-9]{1,9}(\.[0-9]{1,9})?")


def wrong(what: str, hint: str = "") -> PydanticCustomError:
    """An error in our own words; `schema_words` finds message and hint in its context."""
    return PydanticCustomError("loadstep", "{what}", {"what": what, "hint": hint})


def _text(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    text = value.strip()
    if not text:
        raise wrong("is empty", "write it or delete the key")
    if len(text) > LONGEST_TEXT:
        raise wrong(f"has {len(text)} characters", f"at most {LONGEST_TEXT}")
    return text


def valid_name(value: str) -> tuple[str, str] | None:
    """What is wrong with a name and what to do, or None."""
    if not _NAME.fullmatch(value):
        return f"{shown(value)} is no name", "begin with a letter, then letters, digits, - and _, at most 60"
    if value in KEYWORDS:
        return f"{shown(value)} is a word of the condition language", "choose another name"
    return None


def _name(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    if not value:
        raise wrong("is empty", "write a name or delete the key")
    found = valid_name(value)
    if found:
        raise wrong(*found)
    return value


def _whole(value: Any) -> Any:
    if isinstance(value, str) and re.fullmatch("[0-9]{1,6}", value):
        return int(value)
    raise wrong(f"{_said(value)} is no whole number", "write digits only")


def positive_number(text: str) -> float | None:
    """A plain positive decimal number, or None."""
    number = float(text) if _NUMBER.fullmatch(text) else 0.0
    return number if number > 0 else None


def _positive(value: Any) -> Any:
    number = positive_number(value) if isinstance(value, str) else None
    if number is None:
        raise wrong(f"{_said(value)} is no positive number", "write it as 0.5 or 20")
    return number


def _prior(value: Any) -> Any:
    return 0.0 if value == "0" else _positive(value)


def _flag(value: Any) -> Any:
    if value in ("true", "false"):
        return value == "true"
    raise wrong(f"{_said(value)} is neither true nor false", "write true or false")


def _one_of(*words: str) -> BeforeValidator:
    def check(value: Any) -> Any:
        if value not in words:
            hint = did_you_mean(value, words) if isinstance(value, str) else ""
            raise wrong(f"{_said(value)} is none of {listed(words)}", hint)
        return value

    return BeforeValidator(check)


def _said(value: Any) -> str:
    if isinstance(value, str):
        return shown(value) if value else "nothing"
    return "a list" if isinstance(value, list) else "a mapping"


ODDS = {"slight": 2.0, "fair": 5.0, "strong": 20.0}
"""Odds behind the words. A start, by judgement of ours with no published source; numbers take their place."""

AGAINST = "against "
"""Before odds that speak against a finding."""

_NOT_A_KEYWORD = "|".join(sorted(KEYWORDS))

Text = Annotated[
    str,
    BeforeValidator(_text),
    WithJsonSchema({"type": ["string", "number"], "minLength": 1, "maxLength": LONGEST_TEXT}),
]
Name = Annotated[
    str,
    BeforeValidator(_name),
    WithJsonSchema({"type": "string", "pattern": f"^(?!({_NOT_A_KEYWORD})$){_NAME.pattern}$"}),
]
Whole = Annotated[
    int, BeforeValidator(_whole), WithJsonSchema({"type": "integer", "minimum": 0, "maximum": 999_999})
]
Positive = Annotated[
    float, BeforeValidator(_positive), WithJsonSchema({"type": "number", "exclusiveMinimum": 0})
]
Prior = Annotated[float, BeforeValidator(_prior), WithJsonSchema({"type": "number", "minimum": 0})]
Flag = Annotated[bool, BeforeValidator(_flag), WithJsonSchema({"type": "boolean"})]
Signal = Annotated[str, _one_of(*SIGNALS), WithJsonSchema({"enum": list(SIGNALS)})]
Vehicles = Annotated[str, _one_of(*VEHICLES), WithJsonSchema({"enum": list(VEHICLES)})]
Load = Annotated[str, _one_of(*LOADS), WithJsonSchema({"enum": list(LOADS)})]
Odds = Annotated[
    str,
    BeforeValidator(_text),
    WithJsonSchema(
        {
            "anyOf": [
                {"enum": [*ODDS, *(AGAINST + word for word in ODDS)]},
                {"type": "number", "minimum": 0.0001, "maximum": 10_000},
                {"type": "string", "pattern": r"^against +[0-9.]+$"},
            ]
        }
    ),
]
"""A number or a word; which ones there are is checked where signs are built."""
