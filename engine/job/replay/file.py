"""Reading a replay file: YAML whose scalars are all text, laid out as `format`, `flow` and `facts`."""

from __future__ import annotations

import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from engine.flow.library import MAIN_FLOW
from engine.flow.positions import Document, Node, read
from engine.flow.problem import Place, Problems
from engine.flow.suggest import did_you_mean, shown
from engine.flow.text import LARGEST, decode
from engine.job.replay import problem
from engine.job.replay.problem import ReplayErrors, ReplayProblem

_FORMAT = "1"
_KEYS = ("format", "flow", "facts")

Note = Callable[[str, Place, str, str], None]
"""Takes down one problem: kind, place, what, hint."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of `facts`: text as written, for a reading of the job (`set_name` None) or of a set."""

    set_name: str | None
    name: str
    text: str
    place: Place
    key_place: Place

    @property
    def full_name(self) -> str:
        return f"{self.set_name}.{self.name}" if self.set_name else self.name


@dataclass(frozen=True, slots=True)
class ReplayFile:
    """A file laid out as it should be; whether the flow knows its names is checked later."""

    file: str
    flow: str
    flow_place: Place
    facts: tuple[Fact, ...]


def read_replay(file: str) -> ReplayFile:
    """The replay file at the path `file`. Raises ReplayErrors with all that is wrong with its layout."""
    document = _document(file)
    found: list[ReplayProblem] = []

    def note(kind: str, place: Place, what: str, hint: str = "") -> None:
        found.append(ReplayProblem(kind, str(place), what, hint))

    replay = _laid_out(document, note)
    if found or replay is None:
        raise ReplayErrors(found)
    return replay


def _document(file: str) -> Document:
    data = _bytes(file)
    problems = Problems()
    kind = problem.FILE
    document = None
    if decode(data, file, problems) is not None:
        kind = problem.SYNTAX
        document = read(data, file, problems)
    if document is None or len(problems):
        raise ReplayErrors([ReplayProblem(kind, str(p.place), p.what, p.hint) for p in problems.sorted()])
    return document


def _bytes(file: str) -> bytes:
    """At most one byte more than allowed, whatever the file's size; never waits on a pipe or device."""
    try:
        path = Path(file)
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            raise _unreadable(file, "this is a folder", "name a file in it")
        if not stat.S_ISREG(mode):
            raise _unreadable(file, "this is not an ordinary file", "save it as a file first")
        with path.open("rb") as stream:
            return stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise _unreadable(file, "there is no such file", "check the path") from None
    except PermissionError:
        raise _unreadable(file, "this file may not be read", "allow reading it") from None
    except ValueError:  # a NUL in the path
        raise _unreadable(file, "this is no path", "check the path") from None
    except OSError as error:
        raise _unreadable(file, f"this file cannot be read ({error.strerror})", "check the path") from None


def _unreadable(file: str, what: str, hint: str) -> ReplayErrors:
    return ReplayErrors([ReplayProblem(problem.FILE, file, what, hint)])


def _laid_out(document: Document, note: Note) -> ReplayFile | None:
    top = document.root.value
    if not isinstance(top, dict):
        note(
            problem.FORMAT, document.place(), "a replay file is a mapping", "begin with format: 1 and facts:"
        )
        return None
    for key in top:
        if key not in _KEYS:
            place = document.place(key, key=True)
            note(problem.FORMAT, place, f"there is no key {shown(key)} here", did_you_mean(key, _KEYS))
    _check_format(document, top.get("format"), note)
    facts = top.get("facts")
    if facts is None or not isinstance(facts.value, dict):
        place = document.place("facts", key=True) if facts else document.place()
        note(
            problem.FORMAT,
            place,
            "facts is missing or no mapping",
            "write facts: with NAME: TEXT lines under it",
        )
        return None
    flow = top.get("flow")
    if flow is not None and not (isinstance(flow.value, str) and flow.value.strip()):
        note(problem.FORMAT, document.place("flow", key=True), "flow is no name", "write the name of a flow")
        return None
    name = str(flow.value).strip() if flow else MAIN_FLOW
    place = document.place("flow") if flow else document.place()
    return ReplayFile(document.file, name, place, tuple(_facts(document, facts.value, note)))


def _check_format(document: Document, node: Node | None, note: Note) -> None:
    if node is None:
        note(problem.FORMAT, document.place(), "format is missing", "write format: 1 in the first line")
    elif node.value != _FORMAT:
        given = shown(node.value) if isinstance(node.value, str) else "something else"
        note(problem.FORMAT, document.place("format"), f"format is {given}", "this program reads format: 1")


def _facts(document: Document, facts: dict[str, Node], note: Note) -> Iterator[Fact]:
    for name, node in facts.items():
        if isinstance(node.value, dict):
            for inner, inner_node in node.value.items():
                yield from _fact(document, name, inner, inner_node, note)
        else:
            yield from _fact(document, None, name, node, note)


def _fact(document: Document, set_name: str | None, name: str, node: Node, note: Note) -> Iterator[Fact]:
    path = ("facts", set_name, name) if set_name else ("facts", name)
    key_place = document.place(*path, key=True)
    if isinstance(node.value, str):
        text = node.value
    elif isinstance(node.value, list) and all(isinstance(item.value, str) for item in node.value):
        text = ", ".join(str(item.value) for item in node.value)  # several choices, as one would type them
    else:
        note(problem.FORMAT, key_place, f"{shown(name)} is no text", "write NAME: TEXT")
        return
    yield Fact(set_name, name, text, document.place(*path), key_place)
