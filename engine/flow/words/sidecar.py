"""One file of words, `NAME.LANGUAGE.yaml` beside `NAME.yaml`, held against the file it speaks for."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from engine.flow.positions import Document, Node
from engine.flow.problem import Place, Problems
from engine.flow.suggest import did_you_mean, shown
from engine.flow.words.texts import Key, in_words, texts

LONGEST = 2000
"""Characters of one text, as of a flow's own."""

_REVIEWED = re.compile(r".*[^\W\d]{2,}.*\d{4}-\d{2}-\d{2}.*|.*\d{4}-\d{2}-\d{2}.*[^\W\d]{2,}.*", re.DOTALL)
_OF_CAUTION = ("reviewed", "original")


@dataclass(frozen=True, slots=True)
class Words:
    """The texts of one file in another language, by place, with where each stands.

    `reviewed` are cautions whose words somebody stood for, by name and date, against the text that the flow
    has now; `changed` those whose text is another one since. `missing` are texts without words.
    """

    said: dict[Key, str] = field(default_factory=dict)
    reviewed: frozenset[str] = frozenset()
    changed: frozenset[str] = frozenset()
    missing: tuple[Key, ...] = ()
    places: dict[Key, Place] = field(default_factory=dict)


def match(document: Document, words: Document, language: str, problems: Problems) -> Words:
    """What `words` says of the texts of `document`; what it says of anything else is a problem."""
    known = texts(document.root)
    if not isinstance(words.root.value, dict):
        problems.add(words.place(), "this is no file of words", f"it begins with 'language: {language}'")
        return Words(missing=tuple(known))
    flat = dict(_flat(words, words.root, ()))
    _check_language(flat, words, language, problems)
    lists = _lists_that_differ(known, flat)
    said, places = dict[Key, str](), dict[Key, Place]()
    for key, node in flat.items():
        place = words.place(*key)
        if key == ("language",) or _is_of_caution(key):
            continue
        if key not in known or key[:-1] in lists:
            _note_stale(key, known, lists, place, problems)
        elif (wrong := _wrong(node)) is not None:
            problems.add(place, f"'{in_words(key)}' {wrong}", "write it or delete the key")
        else:
            said[key] = " ".join(str(node.value).split())
            places[key] = place
    reviewed, changed = _reviewed(known, flat, said, words, problems)
    missing = tuple(key for key in known if key not in said)
    return Words(said, reviewed, changed, missing, places)


def _flat(words: Document, node: Node, path: Key) -> Iterator[tuple[Key, Node]]:
    """Leaves by place. Depth was limited when the file was read."""
    if isinstance(node.value, dict):
        for name, child in node.value.items():
            yield from _flat(words, child, (*path, name))
    elif isinstance(node.value, list):
        for number, child in enumerate(node.value):
            yield from _flat(words, child, (*path, number))
    else:
        yield path, node


def _check_language(flat: dict[Key, Node], words: Document, language: str, problems: Problems) -> None:
    given = flat.get(("language",))
    if given is None:
        problems.add(words.place(), "'language' is missing", f"add 'language: {language}'")
    elif given.value != language:
        what = f"language {shown(str(given.value))} is in a file of '{language}'"
        problems.add(words.place("language"), what, f"write 'language: {language}'")


def _is_of_caution(key: Key) -> bool:
    return len(key) == 3 and key[0] == "cautions" and key[2] in _OF_CAUTION


def _lists_that_differ(known: dict[Key, str], flat: dict[Key, Node]) -> dict[Key, tuple[int, int]]:
    """Lists of sentences with another number of them than the flow has: which is which cannot be told."""
    there, here = _lengths(known), _lengths(flat)
    return {key: (there[key], length) for key, length in here.items() if there.get(key, length) != length}


def _lengths(keys: dict[Key, str] | dict[Key, Node]) -> dict[Key, int]:
    lengths: dict[Key, int] = {}
    for key in keys:
        if isinstance(key[-1], int):
            lengths[key[:-1]] = max(lengths.get(key[:-1], 0), key[-1] + 1)
    return lengths


def _note_stale(
    key: Key,
    known: dict[Key, str],
    lists: dict[Key, tuple[int, int]],
    place: Place,
    problems: Problems,
) -> None:
    if key[:-1] in lists:
        if key[-1] == 0:
            there, here = lists[key[:-1]]
            what = f"sentences of '{in_words(key[:-1])}': {there} in the flow, {here} here"
            problems.add(place, what, "give one for each, in the same order")
        return
    options = {in_words(one) for one in known}
    what = f"there is nothing called '{in_words(key)}' to say otherwise"
    problems.add(
        place, what, lambda: did_you_mean(in_words(key), options) or "delete it: the flow has changed"
    )


def _wrong(node: Node) -> str | None:
    text = str(node.value).strip()
    if not text:
        return "is empty"
    return f"has more than {LONGEST} characters" if len(text) > LONGEST else None


def _reviewed(
    known: dict[Key, str], flat: dict[Key, Node], said: dict[Key, str], words: Document, problems: Problems
) -> tuple[frozenset[str], frozenset[str]]:
    """Cautions whose words may stand alone, and those whose text was another one when they were reviewed."""
    reviewed, changed = set[str](), set[str]()
    for key in said:
        if key[0] != "cautions":
            continue
        name = str(key[1])
        by, original = (flat.get(("cautions", name, part)) for part in _OF_CAUTION)
        if by is None:
            continue
        if not _REVIEWED.fullmatch(str(by.value)):
            hint = "write it as in 'A. Name, 2026-11-25'"
            problems.add(words.place("cautions", name, "reviewed"), "'reviewed' names who, and when", hint)
        elif original is None:
            hint = "add 'original:' with the text that was reviewed, word for word"
            place = words.place("cautions", name, "reviewed")
            problems.add(place, f"caution '{name}' does not say what was reviewed", hint)
        elif " ".join(str(original.value).split()) != known[key]:
            changed.add(name)
        else:
            reviewed.add(name)
    return frozenset(reviewed), frozenset(changed)
