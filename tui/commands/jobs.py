"""`loadstep jobs`: the jobs kept on this machine, newest first."""

from __future__ import annotations

from argparse import Namespace

from engine.job.store import Store
from engine.job.store.errors import StoreError
from engine.job.store.place import default_folder
from engine.job.store.records import CONCLUDED, OPEN, JobSummary
from tui.commands.exit_codes import GOOD
from tui.commands.output import complain, say
from tui.commands.refusal import Refusal


def run(args: Namespace) -> int:
    with Store.open() as store:
        for notice in store.notices:
            complain(f"loadstep: {notice}")
        try:
            jobs = store.jobs()
        except StoreError as error:
            raise Refusal(str(error)) from None
    for job in jobs:
        say(_line(job))
    if not jobs:
        complain(f"There are no jobs in {default_folder()} yet. `loadstep` begins one.")
    return GOOD


def _line(job: JobSummary) -> str:
    told = [str(job.id), f"{job.last.astimezone():%Y-%m-%d %H:%M}", _state(job), job.vehicle, job.title]
    return "  ".join(part for part in told if part)


def _state(job: JobSummary) -> str:
    if job.status == OPEN:
        return f"open after {job.steps} steps"
    return f"{job.finding or 'no finding'}{', closing steps left' if job.status == CONCLUDED else ''}"
