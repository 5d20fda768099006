"""Conditions of a flow, with their problems at the right spot of the right file."""

from __future__ import annotations

from typing import Any

from engine.flow.assemble.sections import Entry, Sections
from engine.flow.condition import Condition, ConditionError, parse_condition
from engine.flow.condition_nodes import IsKnown, Name
from engine.flow.model import Reading
from engine.flow.names import NameTable
from engine.flow.positions import PathPart
from engine.flow.schema import StepPart


def name_table(sections: Sections, readings: dict[str, Reading]) -> NameTable:
    """What conditions of this flow can name."""
    steps: list[StepPart] = [entry.part for entry in sections.entries["steps"].values()]
    return NameTable(
        readings,
        sets=dict.fromkeys(sections.names("sets")),
        recorded=frozenset(name for step in steps for name in step.record),
        asked=frozenset(name for step in steps for name in step.ask),
        timed=frozenset(step.set for step in steps if step.set and step.settle),
        broken=frozenset(sections.broken["readings"]),
        whole=sections.whole,
        whole_steps=not sections.broken["steps"],
    )


BROKEN = Condition("(cannot be read)", IsKnown(Name("")), (), frozenset())
"""Stands in for a condition with a mistake, so that where its rule leads is still checked."""


def condition(
    entry: Entry[Any], table: NameTable, text: str, *below: PathPart, in_set: bool = False
) -> Condition:
    """The parsed condition at `below`, or BROKEN with its problem noted."""
    try:
        return parse_condition(text, table, in_set=in_set)
    except ConditionError as error:
        if not error.secondary:
            place = entry.place(*below, offset=error.offset)
            found = error  # the name of an exception ends with its block
            entry.problems.add(place, error.message, lambda: found.hint)
        return BROKEN
