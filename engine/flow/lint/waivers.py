"""Warnings that an author has seen and keeps, with a reason; a waiver that hits nothing is told too."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence

from engine.flow.assemble.sections import Entry
from engine.flow.lint.rule import Found, Linting, Rule
from engine.flow.problem import Problem
from engine.flow.schema import WaiverPart
from engine.flow.suggest import did_you_mean, shown


def _nothing(linting: Linting) -> Iterator[Found]:
    """Waivers are judged once all other rules have spoken, by `Waivers.unused`."""
    return iter(())


UNUSED_WAIVER_RULE = Rule(
    "unused-waiver",
    "A waiver that meets no warning hides the next one, and its reason tells of a flow that is no more.",
    "Delete it, or correct the rule and the name.",
    _nothing,
)


class Waivers:
    """The waivers of a flow and its parts. A part's own reach only what stands in that part."""

    def __init__(self, linting: Linting, rules: Sequence[str]) -> None:
        self._rules = rules
        self._sections = linting.sections
        self._entries = linting.sections.waivers
        self._main = linting.sections.main
        self._keys = {self._key(entry) for entry in self._entries}
        self._used: set[tuple[str, str, str]] = set()

    def cover(self, rule: str, found: Found) -> bool:
        """Some waiver means this warning."""
        files = {found.place.file, self._main.file if self._main else ""}
        meant = self._keys.intersection((rule, at, file) for at in found.at for file in files)
        self._used |= meant
        return bool(meant)

    def unused(self, unfinished: Container[str] = ()) -> Iterator[Problem]:
        """A warning for each waiver that met nothing; of `unfinished` rules that is not known."""
        for entry in self._entries:
            if self._key(entry) in self._used or entry.part.rule in unfinished or not self._is_here(entry):
                continue
            rule, at = entry.part.rule, entry.part.at
            if rule in self._rules:
                key, what = "at", f"waiver of '{rule}' at {shown(at)} meets no warning"
                hint = "delete it, or correct the name"
            else:
                key, what = "rule", f"there is no rule {shown(rule)} to waive"
                hint = did_you_mean(rule, self._rules)
            place = entry.place(key)
            yield Problem(place.file, place.line, place.column, what, hint, UNUSED_WAIVER_RULE.name)

    def _key(self, entry: Entry[WaiverPart]) -> tuple[str, str, str]:
        return entry.part.rule, entry.part.at, entry.document.file

    def _is_here(self, entry: Entry[WaiverPart]) -> bool:
        """A part serves other flows too: its waivers count where this flow takes what they name."""
        if entry.document is self._main:
            return True
        named = (entries.get(entry.part.at) for entries in self._sections.entries.values())
        return any(one is not None and one.document is entry.document for one in named)
