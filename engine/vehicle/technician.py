"""The simulated technician: answers any prompt of any flow as a person at this vehicle would.

Values go through the same reading of typed text as a person's. What cannot be measured, is not known here, or
is left out by chance, is answered "cannot measure".
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE, Reading
from engine.job.entry import EntryError, read_entry
from engine.job.events import ACKNOWLEDGED, ANSWERED, CANNOT_MEASURE, DONE, SET_BEGUN, SETTLED
from engine.job.state import Answer, Prompt
from engine.job.walk import Walk
from engine.vehicle.bench import Bench, Told
from engine.vehicle.job_circuit import JOB_CIRCUIT
from engine.vehicle.job_facts import JOB_FACTS
from engine.vehicle.job_looks import JOB_LOOKS
from engine.vehicle.job_meters import JOB_METERS
from engine.vehicle.job_proofs import JOB_PROOFS
from engine.vehicle.job_repair import JOB_REPAIR
from engine.vehicle.set_readings import SET_READINGS, set_situation
from engine.vehicle.situation import OutsideEnvelope
from engine.vehicle.state import State
from engine.vehicle.time import approach, decay

__all__ = ["ESSENTIAL", "JOB_READINGS", "Technician"]

JOB_READINGS: Mapping[str, Callable[[Bench], Told]] = MappingProxyType(
    {**JOB_FACTS, **JOB_LOOKS, **JOB_METERS, **JOB_CIRCUIT, **JOB_PROOFS, **JOB_REPAIR}
)
"""Readings of the job by name."""

ESSENTIAL = frozenset(
    {
        "drive", "refrigerant", "contamination", "history_known", "label_original", "scan_tool", "duty_meter",
        "current_clamp", "service_data", "certified_and_equipped", "ambient_temperature", "soaked",
        "gauge_zero", "stroke_control", "clutch", "rear_connector", "hub_turns", "compressor_noise",
        "clutch_engaged", "low_side", "high_side", "orange_cables",
    }
)  # fmt: skip
"""Readings without which the procedure stops or nothing is judged; nobody leaves them out."""

_EARLY = (0.25, 0.85)  # share of the settle time that a hasty technician waits; our assumption
_PATIENT = (1.0, 1.2)

_FIXED = {ITEM_CAUTIONS: ACKNOWLEDGED, ITEM_BEGIN: SET_BEGUN, ITEM_DONE: DONE}


@dataclass(frozen=True, slots=True)
class Technician:
    """`skipped` is the chance 0..1 that a reading the procedure can do without is left out."""

    bench: Bench
    skipped: float = 0.0

    def answer(self, walk: Walk) -> Answer:
        """The answer to the walk's prompt, the same for the same walk. Raises ValueError if none is asked."""
        prompt = walk.prompt
        if prompt is None:
            raise ValueError("The walk is finished; nothing is asked any more.")
        if prompt.item in _FIXED:
            return Answer(_FIXED[prompt.item], prompt.key)
        if prompt.item == ITEM_SETTLE:
            return self._settled(walk, prompt)
        return self._reading(walk, prompt)

    def _settled(self, walk: Walk, prompt: Prompt) -> Answer:
        needed = walk.flow.steps[prompt.step].settle or 0.0
        chance = self.bench.chance(f"settle:{prompt.step}:{prompt.visit}")
        early = chance.random() < self.bench.shop.hasty
        waited = round(needed * chance.uniform(*(_EARLY if early else _PATIENT)))
        return Answer(SETTLED, prompt.key, detail={"waited": waited, "kept": waited >= needed})

    def _reading(self, walk: Walk, prompt: Prompt) -> Answer:
        reading = walk.flow.readings[prompt.item]
        name = f"{walk.full_name(prompt.item)}:{_times_asked(walk, prompt)}"
        told = None if self._left_out(prompt.item, name) else self._told(walk, prompt)
        text = told if isinstance(told, str) else None
        if told is not None and text is None:
            assert not isinstance(told, str)
            text = self.bench.text(told, reading.unit, name)
        return self._typed(prompt, reading, text)

    def _left_out(self, item: str, name: str) -> bool:
        return item not in ESSENTIAL and self.bench.happens(f"left out:{name}", self.skipped)

    def _typed(self, prompt: Prompt, reading: Reading, text: str | None) -> Answer:
        """As the entry field takes it; what it refuses (a word the flow does not know) cannot be answered."""
        if text is None:
            return Answer(CANNOT_MEASURE, prompt.key)
        try:
            entry = read_entry(reading, text, reading.unit, self.bench.weather.atmosphere_pa)
        except EntryError:
            return Answer(CANNOT_MEASURE, prompt.key)
        return Answer(ANSWERED, prompt.key, entry.value, entry.text, entry.unit)

    def _told(self, walk: Walk, prompt: Prompt) -> Told:
        step = walk.flow.steps[prompt.step]
        try:
            if prompt.item in step.record and step.set is not None and prompt.item in SET_READINGS:
                situation = set_situation(self.bench, walk.flow.sets[step.set])
                return SET_READINGS[prompt.item](self.bench, situation, self._state(walk, step.set))
            if prompt.item in JOB_READINGS:
                return JOB_READINGS[prompt.item](self.bench)
            if prompt.item in SET_READINGS:
                raised = self.bench.raised
                return SET_READINGS[prompt.item](self.bench, raised, self.bench.state(raised))
        except OutsideEnvelope:
            return None
        return None

    def _state(self, walk: Walk, set_name: str) -> State:
        """What there is to read in the set now: settled, or on its way where the technician did not wait."""
        situation = set_situation(self.bench, walk.flow.sets[set_name])
        after = self.bench.state(situation)
        waited = _waited(walk, set_name)
        if set_name == "stopped" and waited is not None:
            return decay(self.bench.vehicle, self._before(walk, set_name), after, waited[0])
        if waited is None or waited[1]:
            return after
        return approach(self._before(walk, set_name), after, waited[0])

    def _before(self, walk: Walk, set_name: str) -> State:
        """The state before this set was begun: that of the set before it, or of A/C just switched on."""
        for name in _begun(walk):
            if name != set_name:
                return self.bench.state(set_situation(self.bench, walk.flow.sets[name]))
        return self.bench.state(
            replace(self.bench.switched_off, engine_speed=self.bench.moderate.engine_speed)
        )


def _times_asked(walk: Walk, prompt: Prompt) -> int:
    """How often the reading has been asked for, now included: who left it out once may take it then."""
    keys = walk.keys_of(walk.full_name(prompt.item))
    return 1 + sum(step in walk.flow.steps for step, _, _ in keys)


def _begun(walk: Walk) -> Iterator[str]:
    """Names of the timed sets begun, the latest first."""
    for step, _, item in reversed(tuple(walk.answered)):
        name = walk.flow.steps[step].set
        if item == ITEM_BEGIN and name is not None:
            yield name


def _waited(walk: Walk, set_name: str) -> tuple[float, bool] | None:
    """Seconds and whether that was enough, if the present step timed the set; else it has long settled."""
    prompt = walk.prompt
    if prompt is None or walk.flow.steps[prompt.step].set != set_name:
        return None
    answer = walk.answered.get((prompt.step, prompt.visit, ITEM_SETTLE))
    return None if answer is None else (float(answer.detail["waited"]), bool(answer.detail["kept"]))
