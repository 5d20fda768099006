"""Readings, sets and cautions from their entries."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice

from engine.flow.assemble.conditions import condition
from engine.flow.assemble.quantities import amount, span
from engine.flow.assemble.references import check_name, check_names
from engine.flow.assemble.sections import NAMES, Entry, Sections
from engine.flow.assemble.taken import asked_or_own
from engine.flow.computed import COMPUTED
from engine.flow.model import Caution, Choice, Reading, SetState
from engine.flow.names import NameTable
from engine.flow.schema import QUANTITIES, ReadingPart, SetPart
from engine.flow.suggest import did_you_mean, listed, shown
from engine.physics.quantity import Kind, canonical_unit, units_of

MOST_CHOICES = 50

_TYPED_TOO = ("duty",)
"""Computed names that a flow may also ask for: the typed value wins over the computed one."""


def readings(sections: Sections) -> dict[str, Reading]:
    """Every reading that could be made; the others are added to the broken ones."""
    found: dict[str, Reading] = {}
    for name, entry in sections.entries["readings"].items():
        reading = _reading(entry)
        if reading is None:
            sections.broken["readings"].add(name)
        else:
            found[name] = reading
    if sections.broken["readings"]:
        sections.doubts.add(NAMES)
    return found


def with_conditions(found: dict[str, Reading], sections: Sections, table: NameTable) -> dict[str, Reading]:
    """The readings with their `ask_if`, which can be read only once every name is known."""
    asked = asked_or_own(sections)
    parts = {
        name: entry
        for name, entry in sections.entries["readings"].items()
        if entry.part.ask_if and name in asked
    }
    return {
        name: replace(reading, ask_if=condition(parts[name], table, parts[name].part.ask_if or "", "ask_if"))
        if name in parts
        else reading
        for name, reading in found.items()
    }


def _reading(entry: Entry[ReadingPart]) -> Reading | None:
    part = entry.part
    if entry.name in COMPUTED and entry.name not in _TYPED_TOO:
        entry.wrong(f"'{entry.name}' is a computed reading", "give this one another name", key=True)
        return None
    if (part.quantity is None) is not bool(part.choices):
        what = "has both 'quantity' and 'choices'" if part.choices else "has neither 'quantity' nor 'choices'"
        entry.wrong(f"reading '{entry.name}' {what}", "give one of them")
        return None
    return _of_choices(entry) if part.choices else _of_quantity(entry)


def _of_choices(entry: Entry[ReadingPart]) -> Reading:
    part = entry.part
    for key in ("unit", "plausible", "possible"):
        if getattr(part, key) is not None:
            entry.wrong(
                f"'{key}' belongs to a quantity, and '{entry.name}' is a choice", "delete it", key, key=True
            )
    if part.alone is not None and not part.several:
        entry.wrong("'alone' needs 'several: true'", "add it, or delete 'alone'", "alone", key=True)
    if part.alone is not None and part.alone not in part.choices:
        entry.wrong(f"{shown(part.alone)} is no choice here", did_you_mean(part.alone, part.choices), "alone")
    if len(part.choices) > MOST_CHOICES:
        hint = "nobody picks from so many: split the reading"
        entry.wrong(f"reading '{entry.name}' has more than {MOST_CHOICES} choices", hint, "choices", key=True)
    if len(part.choices) < 2:
        entry.wrong(f"reading '{entry.name}' has a single choice", "add the others", "choices", key=True)
    if "unknown" in part.choices:
        entry.wrong(
            "'unknown' is never a choice",
            "every reading can be answered 'cannot measure'",
            "choices",
            key=True,
        )
    choices = tuple(Choice(word, label) for word, label in islice(part.choices.items(), MOST_CHOICES))
    return Reading(
        entry.name,
        part.label,
        choices=choices,
        several=part.several,
        alone=part.alone,
        how=part.how,
        unknown_hint=part.unknown,
    )


def _of_quantity(entry: Entry[ReadingPart]) -> Reading | None:
    part = entry.part
    for key in ("several", "alone"):
        if getattr(part, key):
            entry.wrong(
                f"'{key}' belongs to choices, and '{entry.name}' is a quantity", "delete it", key, key=True
            )
    kind = next((one for one in QUANTITIES if one == part.quantity), None)
    if kind is None:
        quantity = part.quantity or ""
        hint = did_you_mean(quantity, QUANTITIES) or f"use {listed(QUANTITIES)}"
        entry.wrong(f"unknown quantity {shown(quantity)}", hint, "quantity")
        return None
    unit = canonical_unit(part.unit, kind) if part.unit else units_of(kind)[0]
    if unit is None:
        hint = f"use {listed(units_of(kind))}"
        entry.wrong(f"{shown(part.unit or '')} is no unit of {kind.replace('_', ' ')}", hint, "unit")
        unit = units_of(kind)[0]
    return Reading(
        entry.name,
        part.label,
        kind=kind,
        unit=unit,
        plausible=span(entry, "plausible", part.plausible, kind, unit),
        possible=span(entry, "possible", part.possible, kind, unit),
        how=part.how,
        unknown_hint=part.unknown,
    )


def sets(sections: Sections) -> dict[str, SetState]:
    """Every set; what it refers to is checked here."""
    return {name: _set(entry, sections) for name, entry in sections.entries["sets"].items()}


def _set(entry: Entry[SetPart], sections: Sections) -> SetState:
    part = entry.part
    if part.compare_with == entry.name:
        entry.wrong(f"set '{entry.name}' is compared with itself", "name another set", "compare_with")
    elif part.compare_with is not None:
        check_name(entry, sections, "sets", part.compare_with, "compare_with")
    if part.predict and part.compare_with is None:
        hint = "add 'compare_with:', a prediction is up or down against another set"
        entry.wrong("'predict' needs 'compare_with'", hint, "predict", key=True)
    check_names(entry, sections, "readings", part.predict, "predict")
    return SetState(
        entry.name,
        part.label,
        part.load,
        fixed=tuple(part.fixed),
        speed=amount(entry, "speed", part.speed, Kind.SPEED),
        compare_with=part.compare_with,
        predict=tuple(part.predict),
    )


def cautions(sections: Sections) -> dict[str, Caution]:
    """Every caution."""
    return {
        name: Caution(name, entry.part.signal, entry.part.text, entry.part.source, entry.part.exposure)
        for name, entry in sections.entries["cautions"].items()
    }
