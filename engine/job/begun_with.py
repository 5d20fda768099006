"""How a job walks its flow: as the flow is, or with every step asked."""

from __future__ import annotations

from collections.abc import Iterable

from engine.flow.everything import asking_everything
from engine.flow.model import Flow
from engine.job.events import STARTED, Event

EVERY_STEP = "every_step"
"""In the detail of the event a job starts with: no step is passed over for want of candidates."""


def as_walked(flow: Flow, events: Iterable[Event]) -> Flow:
    """The flow that the job of these events was begun with, as that job walks it."""
    every_step = any(event.kind == STARTED and event.detail.get(EVERY_STEP) for event in events)
    return asking_everything(flow) if every_step else flow
