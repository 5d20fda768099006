"""A YAML file as plain data, with the position of everything kept beside it.

One pass over the events of the YAML parser, without recursion, so that neither depth nor aliases can hurt:
anchors, aliases, tags and directives are refused where they stand. Every scalar stays the text it was, and
YAML typing takes no part (`yes`, `off`, `12:30` and `017` are words here).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import yaml

from engine.flow.problem import Place, Problems
from engine.flow.suggest import shown
from engine.flow.text import UNSEEN, decode, unseen_words
from engine.flow.yaml_words import yaml_problem

DEEPEST = 20
"""Levels of nesting; the flow language needs 7."""

MOST_NODES = 100_000
"""Keys and values of one file; a flow of 3,000 lines has about 15,000."""

_LONGEST_KEY = 100

_LOADER: Any = getattr(yaml, "CLoader", yaml.Loader)

PathPart = str | int


@dataclass(slots=True)
class Node:
    """One value with its place. `inner`: column of a scalar's first character, if file and text agree."""

    value: str | list[Node] | dict[str, Node]
    line: int
    column: int
    inner: int | None = None
    keys: dict[str, tuple[int, int]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Document:
    """A parsed file. Paths are keys and list indexes from the top."""

    file: str
    root: Node

    def plain(self) -> Any:
        """The whole file as dicts, lists and text."""
        return plain(self.root)

    def place(self, *path: PathPart, key: bool = False, offset: int | None = None) -> Place:
        """Where `path` stands.

        A scalar's own place, a list's or mapping's key, or with `key` always the key. Where the path leads
        nowhere, the nearest thing around it. `offset` counts characters into a scalar.
        """
        node, spot = self.root, (self.root.line, self.root.column)
        for part in path:
            child, child_key = _child(node, part)
            if child is None:
                break
            own = (child.line, child.column)
            spot = child_key if child_key and (key or not isinstance(child.value, str)) else own
            node = child
        else:
            if offset is not None and not key and node.inner is not None:
                spot = (node.line, node.inner + offset)
        return Place(self.file, *spot)


def _child(node: Node, part: PathPart) -> tuple[Node | None, tuple[int, int] | None]:
    if isinstance(node.value, dict) and isinstance(part, str):
        return node.value.get(part), node.keys.get(part)
    if isinstance(node.value, list) and isinstance(part, int) and part < len(node.value):
        return node.value[part], None
    return None, None


def plain(node: Node) -> Any:
    """A node as dicts, lists and text; depth was limited when it was read."""
    if isinstance(node.value, str):
        return node.value
    if isinstance(node.value, list):
        return [plain(child) for child in node.value]
    return {key: plain(child) for key, child in node.value.items()}


def read(data: bytes, file: str, problems: Problems) -> Document | None:
    """The file as a Document, or None where it cannot be read; every problem is noted."""
    problems.add_file(file)
    text = decode(data, file, problems)
    if text is None:
        return None
    reader = _Reader(file, problems)
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            reader.take(event)
    except _Stop:
        return None
    except yaml.MarkedYAMLError as error:
        what, hint, mark = yaml_problem(error)
        place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
        problems.add(place, what, hint)
        return None
    except yaml.YAMLError as error:
        problems.add(Place(file), f"this is not YAML: {error}")
        return None
    if reader.root is None:
        problems.add(Place(file, 1, 1), "the file is empty")
        return None
    return Document(file, reader.root)


class _Stop(Exception):
    """The rest of the file is not worth reading."""


class _Reader:
    """Builds nodes from events; `open` are the lists and mappings around the present spot."""

    def __init__(self, file: str, problems: Problems) -> None:
        self.root: Node | None = None
        self._file = file
        self._problems = problems
        self._open: list[Node] = []
        self._keys: list[
            tuple[str, int, int] | None
        ] = []  # the key waiting for its value, for each open node
        self._nodes = 0

    def take(self, event: yaml.Event) -> None:
        if isinstance(event, yaml.ScalarEvent):
            self._scalar(event)
        elif isinstance(event, yaml.CollectionStartEvent):
            self._start(event)
        elif isinstance(event, yaml.CollectionEndEvent):
            self._open.pop()
            self._keys.pop()
        elif isinstance(event, yaml.AliasEvent):
            self._note(event, f"alias {shown('*' + str(event.anchor))} is not allowed", "write the value out")
            self._add(Node("", *_spot(event)), event)
        elif isinstance(event, yaml.DocumentStartEvent):
            self._document(event)

    def _document(self, event: yaml.DocumentStartEvent) -> None:
        if event.version or event.tags:
            self._note(event, "a line beginning with % is not allowed", "delete it")
        if self.root is not None:
            self._note(event, "a second document begins here", "keep one flow in one file")
            raise _Stop

    def _scalar(self, event: yaml.ScalarEvent) -> None:
        self._refuse_marks(event)
        text = event.value
        unseen = UNSEEN.search(text)
        if unseen:
            self._note(event, unseen_words(unseen[0]), "delete it")
            text = UNSEEN.sub("", text)
        line, column = _spot(event)
        self._add(Node(text, line, column, _inner(event, text)), event)

    def _start(self, event: yaml.CollectionStartEvent) -> None:
        self._refuse_marks(event)
        if len(self._open) >= DEEPEST:
            self._note(event, f"nested deeper than {DEEPEST} levels", "no part of a flow is that deep")
            raise _Stop
        if self._awaits_key():
            self._note(event, "a key must be one word, not a list or mapping")
            raise _Stop
        node = Node({} if isinstance(event, yaml.MappingStartEvent) else [], *_spot(event))
        self._add(node, event)
        self._open.append(node)
        self._keys.append(None)

    def _awaits_key(self) -> bool:
        return bool(self._open) and isinstance(self._open[-1].value, dict) and self._keys[-1] is None

    def _add(self, node: Node, event: yaml.Event) -> None:
        self._nodes += 1
        if self._nodes > MOST_NODES:
            self._note(event, f"more than {MOST_NODES} keys and values", "no flow is that large")
            raise _Stop
        if not self._open:
            self.root = node
            return
        parent = self._open[-1].value
        if isinstance(parent, list):
            parent.append(node)
        elif self._awaits_key():
            self._key(node, event)
        elif isinstance(parent, dict) and (key := self._keys[-1]) is not None:
            self._keys[-1] = None
            if key[0] not in parent:
                parent[key[0]] = node
                self._open[-1].keys[key[0]] = key[1:]

    def _key(self, node: Node, event: yaml.Event) -> None:
        text = str(node.value)
        if not text or len(text) > _LONGEST_KEY or "\n" in text:
            self._note(event, f"{shown(text)} cannot be a key", "a key is one word")
        first = self._open[-1].keys.get(text)
        if first:
            self._note(event, f"key {shown(text)} is here twice", f"the first one is in line {first[0]}")
        self._keys[-1] = (text, node.line, node.column)

    def _refuse_marks(self, event: yaml.NodeEvent) -> None:
        if event.anchor is not None:
            self._note(
                event,
                f"anchor {shown('&' + event.anchor)} is not allowed",
                "write the value where it is needed",
            )
        tag = getattr(event, "tag", None)
        if tag is not None:
            self._note(event, f"tag {shown(tag)} is not allowed", "delete it, all values are text")

    def _note(self, event: yaml.Event, what: str, hint: str = "") -> None:
        self._problems.add(Place(self._file, *_spot(event)), what, hint)


def _spot(event: yaml.Event) -> tuple[int, int]:
    mark = event.start_mark
    assert mark is not None  # both parsers give one to every event
    return mark.line + 1, mark.column + 1


def _inner(event: yaml.ScalarEvent, text: str) -> int | None:
    """Column of the first character inside quotes, where the text stands in the file just as it is."""
    start, end = event.start_mark, event.end_mark
    if start is None or end is None or start.line != end.line:
        return None
    quotes = 1 if event.style in ("'", '"') else 0
    same = end.column - start.column - 2 * quotes == len(text)
    return start.column + 1 + quotes if same else None
