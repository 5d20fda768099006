"""The shapes of a flow file's parts, as strict models. What names mean and where steps lead is checked later.

Every scalar comes here as text; numbers and truth values are read by the types below, so that an unquoted
`yes` or `017` is never anything but the word it was.
"""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Discriminator, Field, Tag
from pydantic_core import PydanticCustomError

from engine.flow.model import LOADS, SIGNALS
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


def _shape(value: Any) -> str:
    return "<list>" if isinstance(value, list) else "<text>"


Text = Annotated[str, BeforeValidator(_text)]
Name = Annotated[str, BeforeValidator(_name)]
Whole = Annotated[int, BeforeValidator(_whole)]
Positive = Annotated[float, BeforeValidator(_positive)]
Flag = Annotated[bool, BeforeValidator(_flag)]
Signal = Annotated[str, _one_of(*SIGNALS)]
Load = Annotated[str, _one_of(*LOADS)]


class Part(BaseModel):
    """What all models share: unknown keys are errors, nothing is converted behind the author's back."""

    model_config = ConfigDict(extra="forbid", strict=True)


class LimitsPart(Part):
    settled: Positive = 0.6
    lead: Positive = 2.0
    outside: Positive = 20.0
    also: Positive = 10.0
    alive: Positive = 0.02


class Head(Part):
    """The flow itself, without its sections."""

    format: Whole
    flow: Name
    revision: Whole
    title: Text
    about: Text
    start: Name
    use: list[Text] = []
    settled: Text = Field(default="", validate_default=False)
    limits: LimitsPart = LimitsPart()
    verification: Name | None = None


class ReadingPart(Part):
    label: Text
    quantity: Text | None = None
    unit: Text | None = None
    choices: dict[Name, Text] = {}
    several: Flag = False
    alone: Name | None = None
    plausible: Text | None = None
    possible: Text | None = None
    how: Text = Field(default="", validate_default=False)
    unknown: Text = Field(default="", validate_default=False)
    ask_if: Text | None = None


class SetPart(Part):
    label: Text
    load: Load
    speed: Text | None = None
    fixed: list[Text] = []
    compare_with: Name | None = None
    predict: list[Name] = []


class CautionPart(Part):
    signal: Signal
    text: Text
    source: Text
    exposure: Name | None = None


class WatchPart(Part):
    name: Name
    when: Text
    because: Text
    go: Name
    again: Name | None = None


class RulePart(Part):
    """One entry of `next`; which keys go together is checked when the rules are built."""

    when: Text | None = None
    go: Name | None = None
    rule_out: list[Name] = []
    because: Text = Field(default="", validate_default=False)
    unknown: Name | None = None
    otherwise: Name | None = None


class StepPart(Part):
    title: Text
    do: Text = Field(default="", validate_default=False)
    why: Text = Field(default="", validate_default=False)
    how: list[Text] = []
    exposure: list[Name] = []
    cautions: list[Name] = []
    set: Name | None = None
    settle: Text | None = None
    settled: Text | None = None
    ask: list[Name] = []
    record: list[Name] = []
    for_: list[Name] = Field(default=[], alias="for")
    skip_to: Name | None = None
    at_most: Whole | None = None
    then: Name | None = None
    next: (
        Annotated[
            Annotated[Name, Tag("<text>")] | Annotated[list[RulePart], Tag("<list>")],
            Discriminator(_shape),
        ]
        | None
    ) = None
    conclude: (
        Annotated[
            Annotated[Literal["all"], Tag("<text>")] | Annotated[list[Name], Tag("<list>")],
            Discriminator(_shape),
        ]
        | None
    ) = None
    proved: Name | None = None
    measure_first: Text | None = None
    end: Flag = False


class SignPart(Part):
    when: Text
    says: Text
    source: Text = Field(default="", validate_default=False)
    weighs: dict[
        Name,
        Annotated[
            Annotated[Text, Tag("<text>")] | Annotated[list[Text], Tag("<list>")], Discriminator(_shape)
        ],
    ]


class FindingPart(Part):
    title: Text
    means: Text
    prior: Annotated[float, BeforeValidator(_prior)] = 1.0  # 0: can only be proved
    rivals: dict[Name, Text] = {}
    confirm: list[Text] = []
    repair: list[Text] = []
    verify: list[Text] = []
    note: Text = Field(default="", validate_default=False)
    same_as: Name | None = None
    told_when: Text | None = None
