"""Sentences of a flow: where they stand, and whether one forbids what it speaks of."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from engine.flow.positions import Document, Node, PathPart

_END = re.compile(r"(?<=[.;!?])\s+")
_NOT = re.compile(
    r"\b(never|not|no|nobody|nothing|nor|neither|without|avoid|cannot|don't|doesn't|mustn't|"
    r"instead of|rather than)\b",
    re.IGNORECASE,
)
_UNLAWFUL = re.compile(r"\b(unlawful|illegal|forbidden|prohibited|offence|against the law)\b", re.IGNORECASE)
_CONDITION = re.compile(r"\b(if|when|where|unless|since|because|as|once|until)\b[^,:]{0,200},", re.IGNORECASE)

_TEXT_KEYS = frozenset(
    {
        "about",
        "because",
        "choices",
        "confirm",
        "do",
        "exits",
        "fixed",
        "how",
        "label",
        "means",
        "note",
        "repair",
        "rivals",
        "says",
        "settled",
        "text",
        "title",
        "unknown",
        "verify",
        "why",
    }
)


@dataclass(frozen=True, slots=True)
class Text:
    """One scalar of a file and the path to it."""

    words: str
    path: tuple[PathPart, ...]

    @property
    def is_prose(self) -> bool:
        """A person reads it; the others are names, conditions and amounts."""
        return any(part in _TEXT_KEYS for part in self.path[2:] or self.path)


def sentences(text: str) -> list[str]:
    """The sentences of a text, a semicolon taken for an end."""
    return _END.split(text)


def forbids(sentence: str, before: int | None = None) -> bool:
    """The sentence says not to do what begins at `before` (the end, if left out).

    A 'no' inside a condition ("if no machine is at hand, ...") forbids nothing.
    """
    said = _CONDITION.sub(lambda found: " " * len(found[0]), sentence)
    return bool(_NOT.search(said[:before]) or _UNLAWFUL.search(said))


def texts(document: Document) -> Iterator[Text]:
    """Every scalar of a file, in order."""
    work: list[tuple[Node, tuple[PathPart, ...]]] = [(document.root, ())]
    while work:
        node, path = work.pop()
        if isinstance(node.value, str):
            yield Text(node.value, path)
        elif isinstance(node.value, list):
            work.extend((child, (*path, number)) for number, child in reversed([*enumerate(node.value)]))
        else:
            work.extend((child, (*path, key)) for key, child in reversed(node.value.items()))
