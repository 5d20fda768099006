"""How a replay file is laid out: `format`, `flow`, `like`, `facts` and `expect`, all of it text."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from engine.flow.positions import Document, Node
from engine.flow.problem import Place
from engine.flow.suggest import did_you_mean, shown
from engine.job.replay import problem

FORMAT = "1"

KEYS = {
    "format": "Format of replay files; there is 1.",
    "flow": "Flow to walk: the name of a shipped one, or a path from this file. The main flow if left out.",
    "like": "Another replay file, by its path from this one: its facts hold where this file gives none.",
    "facts": "What was read: readings of the job by name, and under the name of a set those taken in it.",
    "expect": "What the walk must come to; `loadstep check` compares, `loadstep check --accept` rewrites it.",
}
"""The keys at the top of a replay file, each with what it is for."""

EXPECTED = {
    "finding": "Finding that the walk must conclude.",
    "path": "Steps that the walk must take, in order.",
}
"""The keys of `expect`."""

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
class Expected:
    """What a walk must come to; None where the file does not say. `place` is where it says so."""

    place: Place
    finding: str | None = None
    path: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class Layout:
    """One file's own say: what another file it is like adds to it is not in here."""

    flow: str | None
    flow_place: Place
    like: str | None
    like_place: Place
    facts: tuple[Fact, ...]
    expected: Expected | None


def laid_out(document: Document, note: Note) -> Layout | None:
    """The file's parts, or None where they cannot be told apart; every problem is noted."""
    top = document.root.value
    if not isinstance(top, dict):
        hint = "begin with format: 1 and facts:"
        note(problem.FORMAT, document.place(), "a replay file is a mapping", hint)
        return None
    for key in top:
        if key not in KEYS:
            place = document.place(key, key=True)
            note(problem.FORMAT, place, f"there is no key {shown(key)} here", did_you_mean(key, KEYS))
    _check_format(document, top.get("format"), note)
    facts = top.get("facts")
    if facts is None or not isinstance(facts.value, dict):
        place = document.place("facts", key=True) if facts else document.place()
        hint = "write facts: with NAME: TEXT lines under it"
        note(problem.FORMAT, place, "facts is missing or no mapping", hint)
        return None
    return Layout(
        _word(document, top, "flow", "write the name of a flow", note),
        _place(document, top, "flow"),
        _word(document, top, "like", "write the path of another replay file", note),
        _place(document, top, "like"),
        tuple(_facts(document, facts.value, note)),
        _expected(document, top.get("expect"), note),
    )


def _place(document: Document, top: dict[str, Node], key: str) -> Place:
    return document.place(key) if key in top else document.place()


def _word(document: Document, top: dict[str, Node], key: str, hint: str, note: Note) -> str | None:
    node = top.get(key)
    if node is None:
        return None
    if not (isinstance(node.value, str) and node.value.strip()):
        note(problem.FORMAT, document.place(key, key=True), f"{key} is no name", hint)
        return None
    return node.value.strip()


def _expected(document: Document, node: Node | None, note: Note) -> Expected | None:
    if node is None:
        return None
    place = document.place("expect", key=True)
    if not isinstance(node.value, dict) or not node.value:
        note(problem.FORMAT, place, "expect is no mapping", "write finding: NAME under it")
        return None
    for key in node.value:
        if key not in EXPECTED:
            where = document.place("expect", key, key=True)
            note(
                problem.FORMAT, where, f"there is no key {shown(key)} in expect", did_you_mean(key, EXPECTED)
            )
    finding, path = node.value.get("finding"), node.value.get("path")
    if finding is not None and not isinstance(finding.value, str):
        note(problem.FORMAT, document.place("expect", "finding", key=True), "finding is no name", "write one")
        return None
    steps = _words(path) if path is not None else None
    if path is not None and steps is None:
        where = document.place("expect", "path", key=True)
        note(problem.FORMAT, where, "path is no list of steps", "write path: [STEP, STEP]")
        return None
    return Expected(place, finding.value if finding and isinstance(finding.value, str) else None, steps)


def _words(node: Node) -> tuple[str, ...] | None:
    """The words of a list, or None where it is none or holds something else."""
    if not isinstance(node.value, list):
        return None
    words = [item.value for item in node.value if isinstance(item.value, str)]
    return tuple(words) if len(words) == len(node.value) else None


def _check_format(document: Document, node: Node | None, note: Note) -> None:
    if node is None:
        note(problem.FORMAT, document.place(), "format is missing", "write format: 1 in the first line")
    elif node.value != FORMAT:
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
    words = _words(node)
    if isinstance(node.value, str):
        text = node.value
    elif words is not None:
        text = ", ".join(words)  # several choices, as one would type them
    else:
        note(problem.FORMAT, key_place, f"{shown(name)} is no text", "write NAME: TEXT")
        return
    yield Fact(set_name, name, text, document.place(*path), key_place)
