"""Which texts of a file a person reads on the screen or the sheet, by place: these may be said otherwise.

Names, conditions, sources and remarks for authors are not among them.
"""

from __future__ import annotations

from collections.abc import Iterator

from engine.flow.positions import Node

Key = tuple[str | int, ...]
"""Where a text stands: `("steps", "raise-load", "how", 0)`."""

HEAD = ("title", "about", "settled")

SINGLE = {
    "readings": ("label", "how", "unknown"),
    "sets": ("label",),
    "cautions": ("text",),
    "steps": ("title", "do", "why", "settled"),
    "signs": ("says",),
    "findings": ("title", "means", "note"),
}

LISTED = {"sets": ("fixed",), "steps": ("how",), "findings": ("confirm", "repair", "verify")}
NAMED = {"readings": ("choices",), "findings": ("rivals",)}

BECAUSE = "because"
"""Under a step: the reasons of its rules, in order."""


def texts(root: Node) -> dict[Key, str]:
    """Every text of a flow file or part, in the order it is written."""
    return dict(_texts(root))


def _texts(root: Node) -> Iterator[tuple[Key, str]]:
    top = _map(root)
    for key in HEAD:
        yield from _one((key,), top.get(key))
    for section in SINGLE:
        for name, entry in _map(top.get(section)).items():
            yield from _of_entry(section, name, _map(entry))
    for rule in _list(top.get("watch")):
        fields = _map(rule)
        named = fields.get("name")
        if named is not None and isinstance(named.value, str):
            yield from _one(("watch", named.value, BECAUSE), fields.get(BECAUSE))


def _of_entry(section: str, name: str, fields: dict[str, Node]) -> Iterator[tuple[Key, str]]:
    for field in SINGLE[section]:
        yield from _one((section, name, field), fields.get(field))
    for field in LISTED.get(section, ()):
        for number, node in enumerate(_list(fields.get(field))):
            yield from _one((section, name, field, number), node)
    for field in NAMED.get(section, ()):
        for word, node in _map(fields.get(field)).items():
            yield from _one((section, name, field, word), node)
    reasons = [rule[BECAUSE] for rule in map(_map, _list(fields.get("next"))) if BECAUSE in rule]
    for number, node in enumerate(reasons if section == "steps" else ()):
        yield from _one((section, name, BECAUSE, number), node)


def _one(key: Key, node: Node | None) -> Iterator[tuple[Key, str]]:
    if node is not None and isinstance(node.value, str):
        yield key, " ".join(node.value.split())


def _map(node: Node | None) -> dict[str, Node]:
    return node.value if node is not None and isinstance(node.value, dict) else {}


def _list(node: Node | None) -> list[Node]:
    return node.value if node is not None and isinstance(node.value, list) else []


def in_words(key: Key) -> str:
    """`steps raise-load how 1`, as it is found in the file; sentences count from 1."""
    return " ".join(str(part + 1) if isinstance(part, int) else part for part in key)
