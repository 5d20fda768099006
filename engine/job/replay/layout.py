"""How a replay file is laid out: `format`, `flow`, `facts`, `expect` and `walks`, all of it text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from engine.flow.positions import Document, Node
from engine.flow.problem import Place
from engine.flow.suggest import did_you_mean, shown
from engine.job.replay import problem
from engine.job.replay.expected import Expected, Note, Way, expected_of, words_of

FORMAT = "1"

KEYS = {
    "format": "Format of replay files; there is 1.",
    "flow": "Flow to walk: the name of a shipped one, or a path from this file. The main flow if left out.",
    "facts": "What was read: readings of the job by name, and under the name of a set those taken in it; "
    "under `asked_again` what those of the job are answered when they are asked for a second time.",
    "expect": "What the walk must come to; `loadstep check` compares, `loadstep check --accept` rewrites it.",
    "walks": "More walks by name: each has the facts above, changed by its own, and its own `expect`.",
}
"""The keys at the top of a replay file, each with what it is for."""

IN_WALK = {
    "facts": "What differs from the facts above; `unknown` takes one away, or all of a set.",
    "expect": KEYS["expect"],
}
"""The keys of one of the `walks`."""


UNKNOWN = "unknown"
"""The text that says a reading could not be measured."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of `facts`: text as written, for a reading of the job (`set_name` None) or of a set."""

    set_name: str | None
    name: str
    text: str
    place: Place
    key_place: Place

    @property
    def is_unknown(self) -> bool:
        """Whether it says that the reading could not be measured."""
        return self.text.strip().casefold() == UNKNOWN

    @property
    def full_name(self) -> str:
        return f"{self.set_name}.{self.name}" if self.set_name else self.name


@dataclass(frozen=True, slots=True)
class Variant:
    """One of the `walks`: its name, where it stands, what it changes, and what it must come to."""

    name: str
    place: Place
    facts: tuple[Fact, ...]
    expected: Expected | None


@dataclass(frozen=True, slots=True)
class Layout:
    """The parts of a file; `flow` is None where it names none."""

    flow: str | None
    flow_place: Place
    facts: tuple[Fact, ...]
    expected: Expected | None
    walks: tuple[Variant, ...]


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
        _flow(document, top.get("flow"), note),
        document.place("flow") if "flow" in top else document.place(),
        tuple(_facts(document, (), facts.value, note)),
        expected_of(document, (), top.get("expect"), note),
        tuple(_variants(document, top.get("walks"), note)),
    )


def _flow(document: Document, node: Node | None, note: Note) -> str | None:
    if node is None:
        return None
    if not (isinstance(node.value, str) and node.value.strip()):
        note(problem.FORMAT, document.place("flow", key=True), "flow is no name", "write the name of a flow")
        return None
    return node.value.strip()


def _variants(document: Document, node: Node | None, note: Note) -> Iterator[Variant]:
    if node is None:
        return
    if not isinstance(node.value, dict) or not node.value:
        hint = "write NAME: {facts: {...}, expect: {...}} lines under it"
        note(problem.FORMAT, document.place("walks", key=True), "walks is no mapping", hint)
        return
    for name, one in node.value.items():
        place = document.place("walks", name, key=True)
        if not isinstance(one.value, dict):
            note(problem.FORMAT, place, f"{shown(name)} is no walk", "write {facts: {...}, expect: {...}}")
            continue
        for key in one.value:
            if key not in IN_WALK:
                where = document.place("walks", name, key, key=True)
                note(problem.FORMAT, where, f"there is no key {shown(key)} here", did_you_mean(key, IN_WALK))
        facts = one.value.get("facts")
        if facts is not None and not isinstance(facts.value, dict):
            where = document.place("walks", name, "facts", key=True)
            note(problem.FORMAT, where, "facts is no mapping", "write facts: {NAME: TEXT}")
            continue
        changed = facts.value if facts is not None and isinstance(facts.value, dict) else {}
        within = ("walks", name)
        yield Variant(
            name,
            place,
            tuple(_facts(document, within, changed, note)),
            expected_of(document, within, one.value.get("expect"), note),
        )


def _check_format(document: Document, node: Node | None, note: Note) -> None:
    if node is None:
        note(problem.FORMAT, document.place(), "format is missing", "write format: 1 in the first line")
    elif node.value != FORMAT:
        given = shown(node.value) if isinstance(node.value, str) else "something else"
        note(problem.FORMAT, document.place("format"), f"format is {given}", "this program reads format: 1")


def _facts(document: Document, within: Way, facts: dict[str, Node], note: Note) -> Iterator[Fact]:
    for name, node in facts.items():
        if isinstance(node.value, dict):
            for inner, inner_node in node.value.items():
                yield from _fact(document, within, name, inner, inner_node, note)
        else:
            yield from _fact(document, within, None, name, node, note)


def _fact(
    document: Document, within: Way, set_name: str | None, name: str, node: Node, note: Note
) -> Iterator[Fact]:
    path = (*within, "facts", set_name, name) if set_name else (*within, "facts", name)
    key_place = document.place(*path, key=True)
    words = words_of(node)
    if isinstance(node.value, str):
        text = node.value
    elif words is not None:
        text = ", ".join(words)  # several choices, as one would type them
    else:
        note(problem.FORMAT, key_place, f"{shown(name)} is no text", "write NAME: TEXT")
        return
    yield Fact(set_name, name, text, document.place(*path), key_place)
