"""A stored job as a line of a list, and finding jobs by words."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from engine.job.store.records import CONCLUDED, FINISHED, JobSummary
from tui.plain import one_line
from tui.widgets.pick_list import Pick

_STATUS = {CONCLUDED: "finding reached, closing steps left", FINISHED: "finished"}


def pick_of(job: JobSummary) -> Pick:
    """Number, vehicle and finding; then when, and how far it went."""
    vehicle = one_line(job.vehicle) or one_line(job.title)
    found = f" · {finding_words(job)}" if job.finding else ""
    return Pick(f"{job.id}  {vehicle}{found}", f"{local(job.last)}, {status_words(job)}")


def finding_words(job: JobSummary) -> str:
    """The finding's id as words: `weak compressor`. The flow with its titles is not loaded for a list."""
    return one_line((job.finding or "").replace("-", " "))


def status_words(job: JobSummary) -> str:
    """Where the job stands."""
    return _STATUS.get(job.status, f"open, {job.steps} steps taken")


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
