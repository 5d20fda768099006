"""Values, times and names as the reader of a sheet reads them."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import Protocol

from engine.flow.computed.names import COMPUTED
from engine.flow.model import Flow, Value
from engine.job.events import Event
from engine.job.walk import Walk
from engine.physics.quantity import Kind, show, units_of

NOT_MEASURED = "could not be measured"
_TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff")
"""Marks that turn the direction of a line round: in a sheet they could make a value read otherwise."""


class Reader(Protocol):
    """The reader's units."""

    def show(self, si: float, kind: Kind, /) -> str:
        """An SI value as text with its unit."""
        ...


class DeclaredUnits:
    """The first unit of each quantity, for a reader who chose none."""

    def show(self, si: float, kind: Kind, /) -> str:
        return show(si, kind, units_of(kind)[0])


def clean(text: str) -> str:
    """`text` without control codes, halves of characters and marks that turn a line round."""
    spaced = "".join(" " if char.isspace() else char for char in text)
    kept = (
        char for char in spaced if unicodedata.category(char) not in ("Cc", "Cs") and char not in _TURNING
    )
    return "".join(kept)


@dataclass(frozen=True, slots=True)
class Teller:
    """One job to be told about: its flow, events and walk, the reader's units and time zone."""

    walk: Walk
    events: Sequence[Event]
    units: Reader
    zone: tzinfo | None = None

    @property
    def flow(self) -> Flow:
        return self.walk.flow

    @property
    def walks(self) -> tuple[Walk, ...]:
        """The walk, then as it was at each hand-over, the latest first."""
        found = [self.walk]
        while found[-1].before is not None:
            found.append(found[-1].before)
        return tuple(found)

    def live(self, kind: str) -> list[Event]:
        """The events of a kind that answer a prompt of the path as it is now."""
        times = {key: answer.at for key, answer in self.walk.answered.items()}
        return [event for event in self.events if event.kind == kind and times.get(event.key) == event.at]

    def first(self, kind: str) -> Event | None:
        return next((event for event in self.events if event.kind == kind), None)

    def value(self, full_name: str, value: Value | None) -> str:
        """A value of that reading or computed name: `41 psi`, or the label of a choice."""
        if value is None:
            return NOT_MEASURED
        words = self._words(full_name)
        if isinstance(value, str):
            return clean(words.get(value) or value.replace("-", " "))
        if isinstance(value, frozenset):
            return clean(", ".join(words.get(word, word) for word in sorted(value)))
        kind = self.kind(full_name)
        return self.units.show(value, kind) if kind is not None else f"{value:g}"

    def fact(self, full_name: str) -> str | None:
        """What is known under that name, told; None if nothing is.

        What a flow read and did not carry into the one that went on belongs to the job all the same.
        """
        known = (walk.facts.get(full_name) for walk in self.walks)
        value = next((one for one in known if one is not None), None)
        return None if value is None else self.value(full_name, value)

    def kind(self, full_name: str) -> Kind | None:
        bare = full_name.rpartition(".")[2]
        reading = self.flow.readings.get(bare)
        if reading is not None:
            return reading.kind
        return COMPUTED[bare].kind if bare in COMPUTED else None

    def label(self, full_name: str, step: str = "") -> str:
        """`Low-side gauge`, or with its set `Low-side gauge (Load raised)`, as the flow of `step` says it."""
        flow = self.walk.at(step).flow
        set_name, _, bare = full_name.rpartition(".")
        reading = flow.readings.get(bare)
        label = reading.label if reading else COMPUTED[bare].label if bare in COMPUTED else bare
        state = flow.sets.get(set_name)
        return clean(f"{label} ({state.label})" if state else label)

    def step(self, step: str) -> str:
        """The step's title, else its id."""
        found = self.flow.steps.get(step)
        return clean(found.title if found else step)

    def finding(self, finding: str) -> str:
        """The finding's title, else its id."""
        found = self.flow.findings.get(finding)
        if found is not None:
            return clean(found.title)
        return "Inconclusive: the readings do not settle it" if finding == "inconclusive" else clean(finding)

    def day(self, at: datetime) -> str:
        """`2026-11-25 10:02`, in the reader's zone."""
        return at.astimezone(self.zone).strftime("%Y-%m-%d %H:%M")

    def hour(self, at: datetime) -> str:
        """`10:02:30`, in the reader's zone."""
        return at.astimezone(self.zone).strftime("%H:%M:%S")

    def event_name(self, event: Event) -> str:
        """The full name of the reading that an event answers."""
        return self.flow.full_name(event.step, event.item)

    def _words(self, full_name: str) -> dict[str, str]:
        reading = self.flow.readings.get(full_name.rpartition(".")[2])
        return {choice.word: choice.label for choice in reading.choices} if reading else {}


def duration(seconds: float) -> str:
    """`45 s`, `3 min`, `3 min 20 s`."""
    minutes, rest = divmod(round(seconds), 60)
    parts = [f"{minutes} min"] if minutes else []
    return " ".join([*parts, f"{rest} s"] if rest or not minutes else parts)
