"""A made-up yard of vehicles with three faults, and a small flow for them: nothing of the real model in it."""

# ruff: noqa: E501 (the flow is kept short)

from __future__ import annotations

import random
import time
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

from engine.flow.load import load_bundle
from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE, Flow
from engine.job.entry import read_entry
from engine.job.events import ACKNOWLEDGED, ANSWERED, CANNOT_MEASURE, DONE, SET_BEGUN, SETTLED
from engine.job.state import Answer
from engine.job.walk import Walk
from engine.vehicle.trial.case import Ask, Case, Fault, Technician

FLOW = """\
format: 1
flow: yard
revision: 2
title: What ails the pump?
about: A made-up flow for tests.
start: look
settled: Nothing moves for a minute.
readings:
  turns: {label: Hub turns, choices: {yes: It turns, no: It stands}}
  low_side: {label: Low side, quantity: pressure, unit: psi}
  high_side: {label: High side, quantity: pressure, unit: psi}
  leaves: {label: Leaves before the condenser, choices: {yes: Leaves, no: None}}
sets:
  baseline: {label: Baseline, load: moderate, speed: 1500 1/min, fixed: [Doors shut.]}
steps:
  look:
    title: Does it turn
    do: Look at the hub.
    ask: [turns]
    next:
      - {when: turns is no, go: stands}
      - unknown: measure
      - otherwise: measure
  stands: {title: It stands, proved: snapped}
  measure:
    title: Baseline
    do: Let it run.
    set: baseline
    settle: 3 min
    record: [low_side, high_side]
    next:
      - {when: baseline.high_side <= 50 psi, go: nothing-there}
      - unknown: leaves
      - otherwise: leaves
  nothing-there: {title: Nothing to go by, conclude: all}
  leaves:
    title: The condenser's face
    do: Look.
    ask: [leaves]
    for: [dirty, frozen]
    skip_to: weigh-up
    next: weigh-up
  weigh-up: {title: Weighing, conclude: all}
signs:
  low-high: {when: baseline.low_side >= 50 psi, says: the low side is high, weighs: {worn: [20, 0.1], no-fault: [0.1, 1.2]}}
  high-high: {when: baseline.high_side >= 240 psi, says: the high side is high, weighs: {dirty: [20, 0.1], frozen: [2, 0.5], no-fault: [0.1, 1.2]}}
  leaves-seen: {when: leaves is yes, says: leaves lie before the condenser, weighs: {dirty: [4, 0.5]}}
  both-normal: {when: baseline.low_side < 50 psi and baseline.high_side < 240 psi, says: all is as it should be, weighs: {no-fault: [9, 0.1]}}
findings:
  no-fault: {title: Nothing, means: Nothing is wrong., prior: 8}
  resting: {title: Resting, means: Healthy too., same_as: no-fault, told_when: baseline.high_side < 195 psi}
  worn: {title: Worn, means: Worn out., prior: 3}
  dirty: {title: Dirty, means: No air., prior: 5}
  frozen: {title: Frozen, means: Ice., prior: 0.01}
  snapped: {title: Snapped, means: The shaft is off., prior: 1}
  inconclusive: {title: Nothing sure, means: Not told., prior: 0}
"""


def yard_flow() -> Flow:
    return load_bundle({"yard.yaml": FLOW.encode()}, "yard.yaml")


@dataclass(frozen=True)
class Table:
    """A technician who reads from a table of texts by full name; what is not in it cannot be measured."""

    texts: Mapping[str, str]

    def answer(self, walk: Walk) -> Answer:
        assert walk.prompt is not None
        prompt = walk.prompt
        plain = {ITEM_CAUTIONS: ACKNOWLEDGED, ITEM_BEGIN: SET_BEGUN, ITEM_DONE: DONE}
        if prompt.item in plain:
            return Answer(plain[prompt.item], prompt.key)
        if prompt.item == ITEM_SETTLE:
            return Answer(SETTLED, prompt.key, detail={"waited": 180.0, "kept": True})
        text = self.texts.get(walk.full_name(prompt.item))
        if text is None or walk.reading is None:
            return Answer(CANNOT_MEASURE, prompt.key)
        entry = read_entry(walk.reading, text, walk.reading.unit)
        return Answer(ANSWERED, prompt.key, entry.value, entry.text, entry.unit)


@dataclass(frozen=True)
class Yard:
    """Vehicles whose readings are a healthy value, some noise, and what each fault adds by its severity."""

    seconds_a_vehicle: float = 0.0
    breaks_at: int | None = None

    def fleets(self) -> tuple[str, ...]:
        return ("yard", "other")

    def faults(self) -> Mapping[str, bool]:
        return {"worn": True, "dirty": True, "frozen": True, "snapped": False}

    def refrigerants(self) -> tuple[str, ...]:
        return ("R-134a", "R-1234yf")

    def together(self, one: str, other: str) -> bool:
        return {one, other} != {"dirty", "frozen"}

    def draw(self, ask: Ask) -> Case:
        time.sleep(self.seconds_a_vehicle)
        if ask.index == self.breaks_at:
            raise ArithmeticError("made up to fail")
        about = {"ambient": f"{ask.ambient.low:.0f} K" if ask.ambient else "any"}
        faults = tuple(_caused(fault) for fault in ask.faults)
        return Case(ask, faults, partial(_technician, ask), about)


def _caused(fault: Fault) -> Fault:
    """Ice always comes of a lack of air here."""
    return Fault(fault.finding, fault.severity, frozenset({"dirty"})) if fault.finding == "frozen" else fault


def _technician(ask: Ask, faults: tuple[Fault, ...]) -> Technician:
    chance = random.Random(f"{ask.fleet}:{ask.seed}:{ask.index}")
    severity = {fault.finding: fault.severity or 1.0 for fault in faults}
    low = 38.0 + chance.gauss(0, 3) + 40.0 * severity.get("worn", 0.0)
    blocked = max(severity.get("dirty", 0.0), severity.get("frozen", 0.0))
    high = 210.0 + chance.gauss(0, 10) + 90.0 * blocked
    leaves = chance.random() < (0.8 if "dirty" in severity else 0.1)
    texts = {
        "turns": "no" if "snapped" in severity else "yes",
        "baseline.low_side": f"{low:.0f}",
        "baseline.high_side": f"{high:.0f}",
        "leaves": "yes" if leaves else "no",
    }
    return Table({name: text for name, text in texts.items() if chance.random() >= ask.skipped})
