"""The named entries of all sections, from the main file and its parts, with where each stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from pydantic import BaseModel

from engine.flow.positions import Document, PathPart
from engine.flow.problem import Place, Problems
from engine.flow.schema import (
    CautionPart,
    FindingPart,
    Head,
    ReadingPart,
    RunPart,
    SetPart,
    SignPart,
    StepPart,
    UsePart,
    WaiverPart,
    WatchPart,
)
from engine.flow.suggest import Hint, shown

SHARED: dict[str, type[BaseModel]] = {
    "readings": ReadingPart,
    "cautions": CautionPart,
    "findings": FindingPart,
    "sets": SetPart,
    "signs": SignPart,
}
"""Sections of entries that a flow may take or leave; a part may hold `steps` too, taken whole."""

OWN: dict[str, type[BaseModel]] = {**SHARED, "steps": StepPart}
"""Sections of named entries in the main file; `watch` is a list beside them."""

MOST = {
    "readings": 2000,
    "cautions": 500,
    "findings": 500,
    "sets": 1000,
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


@dataclass(frozen=True, slots=True)
class Run:
    """The steps of a part: the flow's line that uses it, where one comes in, the step behind each exit."""

    use: Entry[UsePart]
    head: Entry[RunPart]
    exits: Mapping[str, str]
    steps: tuple[str, ...]


@dataclass(slots=True)
class Sections:
    """Everything of one flow by section and name.

    `main` is the flow's own file; `uses` are its entries of `use` by number, and `runs` the parts with steps
    by file.

    `broken` names are there but their shape is not right; `whole` is false where entries may be missing;
    `left_out` are entries of parts that `only` does not name, by section and name, with their file; `doubts`
    are what cannot be judged further (NAMES, WAYS, FINDINGS).
    """

    main: Document | None = None
    head: Entry[Head] | None = None
    uses: dict[int, Entry[UsePart]] = field(default_factory=dict)
    runs: dict[str, Run] = field(default_factory=dict)
    entries: dict[str, dict[str, Entry[Any]]] = field(default_factory=lambda: {name: {} for name in OWN})
    watch: list[Entry[WatchPart]] = field(default_factory=list)
    waivers: list[Entry[WaiverPart]] = field(default_factory=list)
    broken: dict[str, set[str]] = field(default_factory=lambda: {name: set() for name in (*OWN, "watch")})
    left_out: dict[tuple[str, str], str] = field(default_factory=dict)
    whole: bool = True
    doubts: set[str] = field(default_factory=set)

    def has(self, section: str, name: str) -> bool:
        """There is such an entry, right or broken."""
        return name in self.entries[section] or name in self.broken[section]

    def is_own(self, entry: Entry[Any]) -> bool:
        """The entry stands in the flow's own file, not in a part that other flows use too."""
        return entry.document is self.main

    def left_out_hint(self, section: str, name: str) -> str:
        """What to do about a name that `only` leaves out; nothing for any other."""
        file = self.left_out.get((section, name))
        return f"add it to 'only' of {shown(file)} in 'use'" if file else ""

    def binds(self, entry: Entry[Any], target: str) -> bool:
        """The step at `target` stands behind an exit of the entry's part: it is checked where it is bound."""
        run = self.runs.get(entry.document.file)
        return run is not None and target in run.exits.values()

    def outside(self, entry: Entry[Any], target: str) -> bool:
        """The entry stands in a run, and the step at `target` in another file."""
        step = self.entries["steps"].get(target)
        return step is not None and step.document is not entry.document and entry.document.file in self.runs

    def inside(self, entry: Entry[Any], target: str) -> Run | None:
        """The run of another file that `target` is in the middle of, where no way from `entry` may lead."""
        step = self.entries["steps"].get(target)
        if step is None or step.document is entry.document:
            return None
        run = self.runs.get(step.document.file)
        start = run.head.part.start if run is not None else ""
        return run if run is not None and start != target and start in run.steps else None

    def targets(self, entry: Entry[Any]) -> list[str]:
        """Where a way from the entry may lead: any step, or from a run its own steps and its exits."""
        run = self.runs.get(entry.document.file)
        return [*run.steps, *run.head.part.exits] if run is not None else self.names("steps")

    def names(self, section: str) -> list[str]:
        """Every name of a section, right or broken."""
        return [*self.entries[section], *self.broken[section]]
