"""What a replay file says that its walk must come to: the `expect` of a golden walk."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from engine.flow.positions import Document, Node
from engine.flow.problem import Place
from engine.flow.suggest import did_you_mean, shown
from engine.job.replay import problem

EXPECTED = {
    "finding": "Finding that the walk must conclude.",
    "path": "Steps that the walk must take, in order.",
}
"""The keys of `expect`."""

Note = Callable[[str, Place, str, str], None]
"""Takes down one problem: kind, place, what, hint."""

Way = tuple[str, ...]
"""The keys that lead to a part of the file."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What a walk must come to; None where the file does not say. `place` is where it says so."""

    place: Place
    finding: str | None = None
    path: tuple[str, ...] | None = None


def expected_of(document: Document, within: Way, node: Node | None, note: Note) -> Expected | None:
    """The `expect` below `within`, or None where there is none or it cannot be read; problems are noted."""
    if node is None:
        return None
    place = document.place(*within, "expect", key=True)
    if not isinstance(node.value, dict) or not node.value:
        note(problem.FORMAT, place, "expect is no mapping", "write finding: NAME under it")
        return None
    for key in node.value:
        if key not in EXPECTED:
            where = document.place(*within, "expect", key, key=True)
            note(
                problem.FORMAT, where, f"there is no key {shown(key)} in expect", did_you_mean(key, EXPECTED)
            )
    finding, path = node.value.get("finding"), node.value.get("path")
    if finding is not None and not isinstance(finding.value, str):
        note(
            problem.FORMAT,
            document.place(*within, "expect", "finding", key=True),
            "finding is no name",
            "write one",
        )
        return None
    steps = words_of(path) if path is not None else None
    if path is not None and steps is None:
        where = document.place(*within, "expect", "path", key=True)
        note(problem.FORMAT, where, "path is no list of steps", "write path: [STEP, STEP]")
        return None
    return Expected(place, finding.value if finding and isinstance(finding.value, str) else None, steps)


def words_of(node: Node) -> tuple[str, ...] | None:
    """The words of a list, or None where it is none or holds something else."""
    if not isinstance(node.value, list):
        return None
    words = [item.value for item in node.value if isinstance(item.value, str)]
    return tuple(words) if len(words) == len(node.value) else None
