"""A sheet from a job's events and its flow."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import tzinfo

from engine.flow.model import Flow
from engine.job.events import Event
from engine.job.fold import answers, trail
from engine.job.sheet.blocks import Block, Section, Sheet
from engine.job.sheet.finding import evidence, to_do
from engine.job.sheet.head import begun, concern, identification
from engine.job.sheet.measured import command, conditions, refrigerant, sets
from engine.job.sheet.record import as_typed, cautions, missing, notes, predictions, way, withdrawn
from engine.job.sheet.tail import signature, versions
from engine.job.sheet.teller import Reader, Teller, clean

__all__ = ["Sheet", "build_sheet"]

_SECTIONS: tuple[tuple[str, Callable[[Teller], Iterator[Block]]], ...] = (
    ("Concern, cause, correction", concern),
    ("Finding and evidence", evidence),
    ("To do", to_do),
    ("Conditions", conditions),
    ("Refrigerant", refrigerant),
    ("Readings by set", sets),
    ("Command at light load", command),
    ("Not measured, skipped, doubtful", missing),
    ("Predicted and happened", predictions),
    ("Notes", notes),
    ("Signature", signature),
    ("Cautions acknowledged", cautions),
    ("The way taken", way),
    ("Answers as typed", as_typed),
    ("Taken back", withdrawn),
    ("Versions", versions),
)


def build_sheet(
    flow: Flow, events: Sequence[Event], job: int, units: Reader, zone: tzinfo | None = None
) -> Sheet:
    """The sheet of a job; sections with nothing to say are left out.

    `job` is its number, 0 if the store never took it; `units` show SI values; times are told in `zone`
    (None: the zone of this computer).
    """
    teller = Teller(trail(flow, answers(events)), events, units, zone)
    number = f"Job {job}" if job else "A job that was not kept"
    sections = [Section("Job", tuple(identification(teller, number)))]
    for title, told in _SECTIONS:
        blocks = tuple(told(teller))
        if blocks:
            sections.append(Section(title, blocks))
    return Sheet(f"Job sheet: {clean(flow.title)}", f"{number}, {begun(teller)}", tuple(sections))
