"""What a flow takes of its parts: only what can mean something in it.

A part serves many flows. So a sign, a way of telling a finding, or a set that stands in a part is left out
without a word where the flow never asks what it rests on. In the flow's own file the same is a mistake, and
told.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from engine.flow.assemble.sections import Entry, Sections
from engine.flow.check.needs import Needs
from engine.flow.condition import ConditionError, parse_condition
from engine.flow.names import NameTable
from engine.flow.schema import FindingPart, SetPart, SignPart, StepPart


def used_sets(sections: Sections) -> dict[str, Entry[SetPart]]:
    """The flow's own sets, and those of parts that some step takes or a taken one is compared with."""
    entries: dict[str, Entry[SetPart]] = sections.entries["sets"]
    own = [name for name, entry in entries.items() if sections.is_own(entry)]
    waiting = [*own, *(entry.part.set for entry in sections.entries["steps"].values() if entry.part.set)]
    used = set[str]()
    while waiting:
        name = waiting.pop()
        if name in entries and name not in used:
            used.add(name)
            waiting.append(entries[name].part.compare_with or "")
    return {name: entry for name, entry in entries.items() if name in used}


def asked_or_own(sections: Sections) -> set[str]:
    """Readings of the flow's own file, and those of parts that some step takes."""
    asked = {name for name, entry in sections.entries["readings"].items() if sections.is_own(entry)}
    for entry in sections.entries["steps"].values():
        asked.update(entry.part.ask, entry.part.record)
    return asked


def leave_out_mute(sections: Sections, table: NameTable) -> None:
    """Takes signs and ways of telling out of the sections that stand in a part and can never be told here."""
    if not sections.whole:
        return
    ear = _Ear(sections, table)
    findings: dict[str, Entry[FindingPart]] = sections.entries["findings"]
    signs: dict[str, Entry[SignPart]] = sections.entries["signs"]
    sections.entries["findings"] = {
        name: entry for name, entry in findings.items() if sections.is_own(entry) or ear.can_tell(entry)
    }
    sections.entries["signs"] = {
        name: entry for name, entry in signs.items() if sections.is_own(entry) or ear.can_hear(entry)
    }


@dataclass(frozen=True, slots=True)
class _AsWritten:
    """The steps before they are built, as far as needs hang on them."""

    steps: Mapping[str, StepPart]
    readings: Mapping[str, Any]


class _Ear:
    def __init__(self, sections: Sections, table: NameTable) -> None:
        self._sections, self._table = sections, table
        steps = {name: entry.part for name, entry in sections.entries["steps"].items()}
        self._needs = Needs(_AsWritten(steps, sections.entries["readings"]))

    def can_tell(self, entry: Entry[FindingPart]) -> bool:
        """A finding told in another's place can be told: the other is there, and so is what decides."""
        part = entry.part
        if part.same_as is None or part.told_when is None:
            return True
        return self._sections.has("findings", part.same_as) and self._can_be_told(part.told_when)

    def can_hear(self, entry: Entry[SignPart]) -> bool:
        weighed = any(self._sections.has("findings", name) for name in entry.part.weighs)
        return (weighed or not entry.part.weighs) and self._can_be_told(entry.part.tells_by)

    def _can_be_told(self, text: str) -> bool:
        """All that the condition names may come to be known; one with a mistake stays, to be told."""
        try:
            names = parse_condition(text, self._table).names
        except ConditionError as error:
            return not error.lacking
        return all(group.names & self._needs.asked for name in names for group in self._needs.of(name))
