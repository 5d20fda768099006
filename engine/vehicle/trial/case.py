"""What a trial tries a flow on: one simulated vehicle with known faults, and the technician who reads it.

The trial decides which faults at which severity (`plan.py`); a `Drawer` decides everything else from the seed
and the index: vehicle, weather, instruments, who reads them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Protocol

from engine.job.state import Answer
from engine.job.walk import Walk


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault by the finding that names it.

    `severity` is 0..1, None for one that is there or not. `causes` are findings that name what brought it
    about, `finer` those that name the fault and how it came about; naming one of either counts as naming the
    fault.
    """

    finding: str
    severity: float | None = None
    causes: frozenset[str] = frozenset()
    finer: frozenset[str] = frozenset()

    @property
    def names(self) -> frozenset[str]:
        """The findings that count as naming this fault."""
        return self.causes | self.finer | {self.finding}


@dataclass(frozen=True, slots=True)
class Range:
    """A closed range."""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        return self.low <= value <= self.high


@dataclass(frozen=True, slots=True)
class Ask:
    """Which vehicle is to be drawn.

    `ambient` is in kelvin, None for all that the fleet meets; `refrigerant` likewise. `skipped` is the chance
    0..1 that the technician leaves out a reading which the procedure can do without.
    """

    fleet: str
    seed: int
    index: int
    faults: tuple[Fault, ...] = ()
    ambient: Range | None = None
    refrigerant: str | None = None
    skipped: float = 0.0


class Technician(Protocol):
    """Whoever answers a walk's prompts."""

    def answer(self, walk: Walk) -> Answer: ...


@dataclass(frozen=True, slots=True)
class Case:
    """A vehicle as drawn.

    `faults` are those asked for, with what their causes turned out to be. `technician` gives somebody who
    reads this vehicle with these faults (fewer after a repair), who is the same on every call. `about` tells
    vehicle, weather and place in words, for a person.
    """

    ask: Ask
    faults: tuple[Fault, ...]
    technician: Callable[[tuple[Fault, ...]], Technician]
    about: Mapping[str, str] = field(default_factory=dict)


class Drawer(Protocol):
    """Where cases come from. It is sent to other processes, so it must pickle."""

    def fleets(self) -> tuple[str, ...]:
        """Names of the fleets, the one to be trained on first."""
        ...

    def faults(self) -> Mapping[str, bool]:
        """Every fault that can be drawn, by finding, and whether it has a severity."""
        ...

    def refrigerants(self) -> tuple[str, ...]: ...

    def together(self, one: str, other: str) -> bool:
        """Whether a vehicle can have both faults at once."""
        ...

    def draw(self, ask: Ask) -> Case:
        """The vehicle asked for: the same for the same `ask`, in any process."""
        ...
