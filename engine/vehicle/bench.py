"""A vehicle in the shop: what is true of it, in any situation, and what an instrument or a look makes of
that.

Everything by chance comes from the job's key and the name of what is read, never from the order of questions.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from random import Random

from engine.vehicle.design import Vehicle
from engine.vehicle.fault_effects import Effects
from engine.vehicle.faults import Injury, total
from engine.vehicle.instruments import INSTRUMENTS, bias_of, read, written
from engine.vehicle.loop import settle
from engine.vehicle.shop import Shop
from engine.vehicle.situation import Situation
from engine.vehicle.state import State
from engine.vehicle.weather import Weather

__all__ = ["Bench", "Measured", "Told"]


@dataclass(frozen=True, slots=True)
class Measured:
    """A true SI value, to be read by an instrument of `INSTRUMENTS`."""

    instrument: str
    true: float


Told = str | Measured | None
"""A word (several with commas), something to be measured, or None for what cannot be told."""


@dataclass(slots=True)
class Bench:
    """`key` is what all chance of this job hangs on; the situations are those that readings share with sets.

    `moderate`: recirculation, blower in the middle, doors shut, 1500 1/min. `raised`: blower high, doors
    open, fresh air, as warm and damp as the day is. `lowered`: recirculation, lowest blower, doors shut.
    `resting`: engine off, as the car was found. `switched_off`: A/C off, engine idling at 800 1/min.
    """

    key: str
    vehicle: Vehicle
    injuries: tuple[Injury, ...]
    weather: Weather
    shop: Shop
    effects: Effects = field(init=False)
    moderate: Situation = field(init=False)
    raised: Situation = field(init=False)
    lowered: Situation = field(init=False)
    resting: Situation = field(init=False)
    switched_off: Situation = field(init=False)
    _states: dict[Situation, State] = field(init=False, default_factory=dict)
    _biases: dict[str, tuple[float, float]] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.effects = total(self.injuries)
        self.moderate = self.weather.situation
        self.raised = replace(self.moderate, blower=1.0, intake="fresh", doors_open=True)
        self.lowered = replace(self.moderate, blower=0.0)
        self.resting = replace(
            self.moderate, engine_speed=0.0, ac_on=False, soaked_minutes=self.weather.soaked_minutes
        )
        self.switched_off = replace(self.moderate, ac_on=False, engine_speed=IDLE)

    def state(self, situation: Situation) -> State:
        """The settled state, worked out once. Raises OutsideEnvelope."""
        known = self._states.get(situation)
        if known is None:
            known = self._states[situation] = settle(self.vehicle, self.effects, situation)
        return known

    def chance(self, name: str) -> Random:
        """Chance of its own for one name."""
        return Random(f"{self.key}:{name}")

    def happens(self, name: str, probability: float) -> bool:
        """Whether something of that probability comes about in this job."""
        return self.chance(name).random() < probability

    def sees(self, name: str, probability: float) -> bool:
        """Whether this technician's eyes and ears catch what an average one catches with `probability`."""
        return self.happens(name, probability * self.shop.eyes)

    def has(self, finding: str) -> bool:
        """Whether the vehicle has that fault."""
        return any(injury.finding == finding for injury in self.injuries)

    def way(self, finding: str) -> str:
        """How that fault came about; empty without it."""
        return next((injury.way for injury in self.injuries if injury.finding == finding), "")

    def text(self, told: Measured, unit: str, name: str) -> str:
        """What the technician types for it in a field of `unit`; `name` tells one reading from the next."""
        if math.isinf(told.true):
            return "OL"
        instrument = INSTRUMENTS[told.instrument]
        if told.instrument not in self._biases:
            self._biases[told.instrument] = bias_of(instrument, self.chance(f"bias:{told.instrument}"))
        shown = read(told.true, instrument, self._biases[told.instrument], self.chance(f"read:{name}"))
        return written(shown, instrument, unit)


IDLE = 800.0 / 60.0
"""Idle speed in 1/s."""
