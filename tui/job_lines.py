"""A stored job as a line of a list, and finding jobs by words."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from engine.job.store.records import CONCLUDED, FINISHED, JobSummary
from tui.plain import one_line
from tui.widgets.pick_list import Pick


def pick_of(job: JobSummary) -> Pick:
    """Number, time and vehicle; then what was found, or how far it went."""
    vehicle = one_line(job.vehicle) or one_line(job.title)
    return Pick(f"{job.id:>3}  {local(job.last)}  {vehicle}", outcome(job))


def outcome(job: JobSummary) -> str:
    """What came of a job: its finding's id as words, for no flow with titles is loaded for a list."""
    found = one_line((job.finding or "").replace("-", " "))
    if job.status == FINISHED:
        return found or "finished without a finding"
    if job.status == CONCLUDED:
        return f"{found}, closing steps left"
    return f"open, {job.steps} {'step' if job.steps == 1 else 'steps'} taken"


def local(at: datetime) -> str:
    """A time of day here, to the minute."""
    return at.astimezone().strftime("%Y-%m-%d %H:%M")


def matching(jobs: Iterable[JobSummary], words: str) -> list[JobSummary]:
    """The jobs that hold every one of the words, anywhere in their line and title, in their order."""
    wanted = words.casefold().split()
    return [job for job in jobs if all(word in _searched(job) for word in wanted)]


def _searched(job: JobSummary) -> str:
    pick = pick_of(job)
    return f"{pick.text} {pick.detail} {job.title} {job.flow} {job.finding or ''}".casefold()
