"""The flow a stored job walks: its files as they were kept, and whether every step is asked."""

from __future__ import annotations

from collections.abc import Iterable

from engine.flow.everything import asking_everything
from engine.flow.load import load_bundle
from engine.flow.model import Flow
from engine.job.events import STARTED, Event
from engine.job.store import StoredBundle

EVERY_STEP = "every_step"
"""In the detail of the event a job starts with: no step is passed over for want of candidates."""


def flow_of(kept: StoredBundle, events: Iterable[Event], language: str) -> Flow:
    """The flow of a stored job. Raises what `load_bundle` raises."""
    flow = load_bundle(kept.files, kept.main, language)
    return asking_everything(flow) if _every_step(events) else flow


def _every_step(events: Iterable[Event]) -> bool:
    return any(event.kind == STARTED and event.detail.get(EVERY_STEP) for event in events)
