"""What a diagnosis costs: steps that asked something, readings, and minutes of waiting to settle."""

from __future__ import annotations

from dataclasses import dataclass

from engine.job.events import SETTLED
from engine.job.walk import Walk


@dataclass(frozen=True, slots=True)
class Cost:
    """`minutes` are those that the technician waited in sets before reading."""

    steps: float
    readings: float
    minutes: float


def cost_of(walk: Walk) -> Cost:
    """The cost of a walk so far; a reading that could not be taken counts, for it was tried."""
    readings = sum(1 for key in walk.answered if key[2] in walk.flow.readings)
    waited = sum(_waited(answer.detail) for answer in walk.answered.values() if answer.kind == SETTLED)
    steps = len({(step, visit) for step, visit, _ in walk.answered})
    return Cost(steps, readings, waited / 60.0)


def _waited(detail: object) -> float:
    waited = detail.get("waited", 0.0) if hasattr(detail, "get") else 0.0
    return float(waited)
