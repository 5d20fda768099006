"""The facts of a replay file, read with the flow's own readings: what each text means, in SI."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace

from engine.flow.computed.names import COMPUTED
from engine.flow.joined import with_all_names
from engine.flow.model import Flow, Reading
from engine.flow.suggest import did_you_mean, listed, shown
from engine.job.entry import Entry, EntryError, read_entry
from engine.job.replay import problem
from engine.job.replay.file import ReplayFile
from engine.job.replay.layout import UNKNOWN, Fact
from engine.job.replay.problem import ReplayErrors, ReplayProblem
from engine.job.replay.walker import ASKED_AGAIN, Given
from engine.physics.atmosphere import SEA_LEVEL_PA, AtmosphereError, atmosphere
from engine.physics.quantity import Kind, QuantityError, parse

READ_AFTER = "read_after"
"""In a set: the time that was really waited before it was read."""

_AIR = ("elevation", "barometric_pressure")
"""Readings that say what air the gauges read against."""


@dataclass(slots=True)
class _Reader:
    flow: Flow
    air: float = SEA_LEVEL_PA
    entries: dict[str, Entry] = field(default_factory=dict)
    waited: dict[str, float] = field(default_factory=dict)
    again: dict[str, Entry] = field(default_factory=dict)
    problems: list[ReplayProblem] = field(default_factory=list)
    strange_sets: set[str] = field(default_factory=set)  # told once, not for each line in them

    def take(self, fact: Fact) -> None:
        if fact.set_name == ASKED_AGAIN and ASKED_AGAIN not in self.flow.sets:
            self._take(replace(fact, set_name=None), self.again)
        else:
            self._take(fact, self.entries)

    def _take(self, fact: Fact, into: dict[str, Entry]) -> None:
        if fact.set_name is not None and fact.set_name not in self.flow.sets:
            if fact.set_name not in self.strange_sets:
                self.strange_sets.add(fact.set_name)
                self._note(problem.NAME, fact, *self._no_such_set(fact.set_name))
        elif fact.set_name is not None and fact.name == READ_AFTER:
            self._read_after(fact, fact.set_name)
        elif reading := self.flow.readings.get(fact.name):
            self._read(fact, reading, into)
        elif fact.name in COMPUTED:
            hint = "leave it out and give the readings it is computed from"
            self._note(problem.COMPUTED, fact, f"{shown(fact.name)} is computed and cannot be given", hint)
        else:
            self._note(problem.NAME, fact, *self._no_such_reading(fact))

    def _read(self, fact: Fact, reading: Reading, into: dict[str, Entry]) -> None:
        if fact.is_unknown:
            return
        try:
            entry = _entry(fact, reading, self.air)
        except (EntryError, AtmosphereError) as error:
            self._note(problem.VALUE, fact, f"{shown(fact.full_name)}: {error}".rstrip("."), "")
            return
        into[fact.full_name] = entry

    def _read_after(self, fact: Fact, set_name: str) -> None:
        try:
            seconds = parse(fact.text, Kind.TIME, "s").si
            if seconds < 0:
                raise QuantityError("A time waited is never below zero.")
        except QuantityError as error:
            where = shown(fact.full_name)
            self._note(problem.VALUE, fact, f"{where}: {error}".rstrip("."), "write for instance 20 s")
            return
        self.waited[set_name] = seconds

    def _no_such_set(self, name: str) -> tuple[str, str]:
        if name in self.flow.readings:
            return f"{shown(name)} is a reading, not a set", "give it as text"
        return f"the flow has no set {shown(name)}", did_you_mean(name, self.flow.sets)

    def _no_such_reading(self, fact: Fact) -> tuple[str, str]:
        if fact.name in self.flow.sets:
            return f"{shown(fact.name)} is a set", "give its readings, indented under it"
        set_name, dot, reading = fact.name.partition(".")
        if dot and set_name in self.flow.sets:
            return f"{shown(fact.name)} is no reading", f"write {set_name}: and {reading}: indented under it"
        return f"the flow has no reading {shown(fact.name)}", did_you_mean(fact.name, self.flow.readings)

    def _note(self, kind: str, fact: Fact, what: str, hint: str) -> None:
        place = fact.place if kind == problem.VALUE else fact.key_place
        self.problems.append(ReplayProblem(kind, str(place), what, hint))


def read_facts(file: ReplayFile, flow: Flow) -> Given:
    """What `file` gives, as entries for `flow`. Raises ReplayErrors with every problem, in the file's order.

    A bare number takes the unit that the flow declares, whatever units the person prefers on the screen.
    """
    given, problems = read_fitting(file, flow)
    if problems:
        raise ReplayErrors(problems)
    return given


def read_fitting(file: ReplayFile, flow: Flow) -> tuple[Given, Sequence[ReplayProblem]]:
    """What of `file` fits `flow`, and every problem with the rest."""
    flow = with_all_names(flow)
    reader = _Reader(flow, _air(file, flow))
    for fact in file.facts:
        reader.take(fact)
    return Given(reader.entries, reader.waited, reader.again), reader.problems


def _entry(fact: Fact, reading: Reading, air: float) -> Entry:
    """Raises EntryError or AtmosphereError."""
    text = fact.text.strip()
    if not text:
        raise EntryError(f"there is no value; write {UNKNOWN} if it could not be measured")
    if reading.choices:
        _check_words(reading, text)
    entry = read_entry(reading, text, reading.unit, air)
    if fact.full_name in _AIR:
        _air_of({fact.name: entry})
    return entry


def _check_words(reading: Reading, text: str) -> None:
    """Numbers and beginnings of choices are for a person before a screen; a file says whole words."""
    words = [choice.word for choice in reading.choices]
    known = {word.casefold() for word in words}
    for part in text.replace(",", " ").split() if reading.several else [text]:
        if part.casefold() not in known:
            raise EntryError(f"{shown(part)} is none of its choices; {_hint(part, words)}")


def _hint(word: str, words: list[str]) -> str:
    return did_you_mean(word, words) or f"use {listed(words)}"


def _air(file: ReplayFile, flow: Flow) -> float:
    """Absolute pressure of the air in Pa that the file's gauges read against, known before any gauge is read.

    A reading that cannot be read counts as absent here; it is reported when its turn comes.
    """
    entries = {}
    for fact in file.facts:
        reading = flow.readings.get(fact.name)
        if fact.full_name in _AIR and reading and not fact.is_unknown:
            with suppress(EntryError, AtmosphereError):
                entries[fact.name] = _entry(fact, reading, SEA_LEVEL_PA)
    return _air_of(entries)


def _air_of(entries: Mapping[str, Entry]) -> float:
    elevation, barometer = (entries[name].value if name in entries else None for name in _AIR)
    return atmosphere(
        elevation if isinstance(elevation, float) else None,
        barometer if isinstance(barometer, float) else None,
    ).pressure
