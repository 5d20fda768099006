"""What a rule of lint is, and what it gets to look at."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from engine.flow.assemble.sections import Entry, Sections
from engine.flow.bundle import Opened
from engine.flow.check.asked import Asked
from engine.flow.check.checking import Checking
from engine.flow.check.needs import Needs
from engine.flow.graph import Edges
from engine.flow.lint.prose import Text, texts
from engine.flow.model import Flow
from engine.flow.positions import Document
from engine.flow.problem import Place, Problems


@dataclass(frozen=True, slots=True)
class Found:
    """One thing a rule warns of. `at` are the names by which a waiver can mean it."""

    place: Place
    what: str
    hint: str
    at: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Linting:
    """A flow without errors under lint; `words` are those that its class does not want to read."""

    flow: Flow
    sections: Sections
    opened: Opened
    words: tuple[str, ...] = ()

    @cached_property
    def checking(self) -> Checking:
        """The flow as the checks along paths see it."""
        return Checking(self.flow, self.sections, Problems())

    @property
    def edges(self) -> Edges:
        """The flow as a graph."""
        return self.checking.edges

    @cached_property
    def needs(self) -> Needs:
        """What names hang on."""
        return Needs(self.flow)

    @cached_property
    def asked(self) -> Asked:
        """What has surely been asked where."""
        return Asked(self.checking, self.needs)

    @cached_property
    def texts(self) -> list[tuple[Document, Text]]:
        """Every scalar of the flow's files, with the file it stands in."""
        parts = [part.document for part in self.opened.parts]
        documents = parts if self.opened.main is None else [self.opened.main, *parts]
        return [(document, text) for document in documents for text in texts(document)]

    def name_at(self, text: Text) -> str:
        """The entry that a text stands in; the flow's own name at the top of a file."""
        if len(text.path) < 3:
            return self.flow.name
        if text.path[0] == "watch":
            return self.flow.watch[int(text.path[1])].name
        return str(text.path[1])

    def entry(self, section: str, name: str) -> Entry[Any]:
        """Where an entry stands."""
        return self.sections.entries[section][name]


Finder = Callable[[Linting], Iterator[Found]]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule: its name, a sentence why, what to do about it, and how it finds what it warns of."""

    name: str
    why: str
    remedy: str
    find: Finder
