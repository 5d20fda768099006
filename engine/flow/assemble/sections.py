"""The named entries of all sections, from the main file and its parts, each checked for its shape."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import islice
from typing import Any, Generic, TypeVar

from pydantic import BaseModel, ValidationError

from engine.flow.bundle import Opened
from engine.flow.positions import Document, PathPart
from engine.flow.problem import Place, Problems
from engine.flow.schema import (
    CautionPart,
    FindingPart,
    Head,
    ReadingPart,
    SetPart,
    SignPart,
    StepPart,
    WatchPart,
    valid_name,
)
from engine.flow.schema_words import keys_of, shape_errors
from engine.flow.suggest import Hint, did_you_mean, shown

SHARED: dict[str, type[BaseModel]] = {
    "readings": ReadingPart,
    "cautions": CautionPart,
    "findings": FindingPart,
    "sets": SetPart,
    "signs": SignPart,
}
"""Sections that parts may hold."""

OWN: dict[str, type[BaseModel]] = {**SHARED, "steps": StepPart}
"""Sections of named entries in the main file; `watch` is a list beside them."""

MOST = {
    "readings": 2000,
    "cautions": 500,
    "findings": 500,
    "sets": 200,
    "signs": 2000,
    "steps": 5000,
    "watch": 50,
}
"""Entries of a section in one file: far beyond any flow, and what keeps hostile files from costing time."""

NAMES, WAYS, FINDINGS = "names", "ways", "findings"
"""What a mistake can throw into doubt: which readings are taken, where steps lead, what findings are told."""

T = TypeVar("T", bound=BaseModel)


@dataclass(frozen=True, slots=True)
class Entry(Generic[T]):
    """One named entry with where it stands, so that problems found later have a place."""

    name: str
    part: T
    document: Document
    path: tuple[PathPart, ...]
    problems: Problems

    def place(self, *below: PathPart, key: bool = False, offset: int | None = None) -> Place:
        return self.document.place(*self.path, *below, key=key, offset=offset)

    def wrong(self, what: str, hint: Hint = "", *below: PathPart, key: bool = False) -> None:
        """Notes a problem at a place below this entry (its own key where `below` is empty)."""
        self.problems.add(self.place(*below, key=key or not below), what, hint)


@dataclass(slots=True)
class Sections:
    """Everything of one flow by section and name.

    `broken` names are there but their shape is not right; `whole` is false where entries may be missing;
    `doubts` are what cannot be judged further (NAMES, WAYS, FINDINGS).
    """

    head: Entry[Head] | None = None
    entries: dict[str, dict[str, Entry[Any]]] = field(default_factory=lambda: {name: {} for name in OWN})
    watch: list[Entry[WatchPart]] = field(default_factory=list)
    broken: dict[str, set[str]] = field(default_factory=lambda: {name: set() for name in (*OWN, "watch")})
    whole: bool = True
    doubts: set[str] = field(default_factory=set)

    def has(self, section: str, name: str) -> bool:
        """There is such an entry, right or broken."""
        return name in self.entries[section] or name in self.broken[section]

    def names(self, section: str) -> list[str]:
        """Every name of a section, right or broken."""
        return [*self.entries[section], *self.broken[section]]


def gather(opened: Opened) -> Sections:
    """Reads the sections of all files; problems go to `opened.problems`."""
    sections = Sections(whole=opened.whole)
    gathering = _Gathering(sections, opened.problems)
    if opened.main is not None:
        gathering.main(opened.main)
    for part in opened.parts:
        gathering.part(part)
    return sections


class _Gathering:
    def __init__(self, sections: Sections, problems: Problems) -> None:
        self._sections, self._problems = sections, problems

    def main(self, document: Document) -> None:
        top = self._top(document)
        if top is None:
            return
        for section in OWN:
            if section in top:
                self._section(document, section, top.pop(section))
        if "watch" in top:
            self._watch(document, top.pop("watch"))
        options = [*keys_of(Head), *OWN, "watch"]
        if not options_hold(top, options):
            self._sections.whole = False  # one of them may be meant for a section
        self._sections.head = self._entry("", Head, document, (), top, options)

    def part(self, document: Document) -> None:
        for key, value in (self._top(document) or {}).items():
            if key in SHARED:
                self._section(document, key, value)
                continue
            hint = (
                "only the flow itself has steps" if key in ("steps", "watch") else did_you_mean(key, SHARED)
            )
            self._problems.add(document.place(key, key=True), f"unknown key {shown(key)} in a part", hint)

    def _top(self, document: Document) -> dict[str, Any] | None:
        top = document.plain()
        if isinstance(top, dict):
            return top
        self._problems.add(
            document.place(), "this is no flow", "a flow begins with 'format: 1' and 'flow: NAME'"
        )
        self._sections.whole = False
        return None

    def _section(self, document: Document, section: str, value: Any) -> None:
        if not isinstance(value, dict) or not value:
            hint = "write entries below it, or delete the key"
            self._problems.add(document.place(section, key=True), f"'{section}' has no entries", hint)
            self._sections.whole = False
            return
        model = OWN[section]
        options = keys_of(model)
        if len(value) > MOST[section]:
            place = document.place(section, key=True)
            self._problems.add(place, f"more than {MOST[section]} {section}", "split the flow")
            self._sections.whole = False
        for name, fields in islice(value.items(), MOST[section]):
            path = (section, name)
            if not self._free(document, section, name):
                continue
            entry = self._entry(name, model, document, path, fields, options)
            if entry is None:
                self._sections.broken[section].add(name)
            else:
                self._sections.entries[section][name] = entry

    def _free(self, document: Document, section: str, name: str) -> bool:
        wrong = valid_name(name)
        if wrong:
            self._problems.add(document.place(section, name, key=True), *wrong)
        first = self._sections.entries[section].get(name)
        if first is None:
            return True
        hint = f"the first one is at {first.place(key=True)}"
        self._problems.add(
            document.place(section, name, key=True), f"{shown(name)} is in '{section}' twice", hint
        )
        return False

    def _watch(self, document: Document, value: Any) -> None:
        if not isinstance(value, list) or not value:
            hint = "write rules below it, each beginning with '- ', or delete the key"
            self._problems.add(document.place("watch", key=True), "'watch' is a list of rules", hint)
            self._sections.broken["watch"].add("")
            return
        options, seen = keys_of(WatchPart), set[str]()
        if len(value) > MOST["watch"]:
            place = document.place("watch", MOST["watch"])
            self._problems.add(place, f"more than {MOST['watch']} watch rules", "join some with 'or'")
            self._sections.whole = False
        for number, fields in enumerate(value[: MOST["watch"]]):
            entry = self._entry(str(number), WatchPart, document, ("watch", number), fields, options)
            if entry is None:
                self._sections.broken["watch"].add(str(number))
                continue
            if entry.part.name in seen:
                entry.wrong(f"'{entry.part.name}' is in 'watch' twice", "rename one", "name")
            seen.add(entry.part.name)
            self._sections.watch.append(entry)

    def _entry(
        self,
        name: str,
        model: type[T],
        document: Document,
        path: tuple[PathPart, ...],
        fields: Any,
        options: list[str],
    ) -> Entry[T] | None:
        try:
            return Entry(name, model.model_validate(fields), document, path, self._problems)
        except ValidationError as error:
            self._note_shape(error, document, path, options)
            return None

    def _note_shape(
        self,
        error: ValidationError,
        document: Document,
        path: tuple[PathPart, ...],
        options: Iterable[str],
    ) -> None:
        for wrong in shape_errors(error, list(options)):
            where = context(path, wrong.path)
            place = document.place(*path, *wrong.path, key=wrong.at_key)
            self._problems.add(place, f"{wrong.what}{where}", wrong.hint)


def options_hold(top: dict[str, Any], options: Iterable[str]) -> bool:
    """No key is unknown."""
    return not set(top).difference(options)


def context(path: tuple[PathPart, ...], below: tuple[PathPart, ...]) -> str:
    """` in step 'raise-load'`, ` in rule 2 of step 'raise-load'`, or nothing at the top of the file."""
    words = list(_context(path, below))
    return " in " + " of ".join(words) if words else ""


def _context(path: tuple[PathPart, ...], below: tuple[PathPart, ...]) -> Iterator[str]:
    if below[:1] == ("next",) and len(below) > 1 and isinstance(below[1], int):
        yield f"rule {below[1] + 1}"
    if below[:1] == ("limits",):
        yield "'limits'"
    if path[:1] == ("watch",):
        yield f"watch rule {int(path[1]) + 1}"
    elif path:
        yield f"{str(path[0]).removesuffix('s')} {shown(str(path[1]))}"
