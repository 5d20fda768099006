"""What the list of jobs says about a job, kept beside it with every event."""

from __future__ import annotations

import sqlite3

from engine.job.events import ANSWERS, CONCLUDED, FINISHED, WITHDRAWN, Event, Key
from engine.job.store import records
from engine.job.store.codec import write_time


def update(connection: sqlite3.Connection, job: int, event: Event) -> None:
    """Bring the summary of `job` up to date after `event`, inside the event's own transaction."""
    note_status(connection, job, event)
    if event.kind in ANSWERS or event.kind == WITHDRAWN:
        count_steps(connection, job)


def note_status(connection: sqlite3.Connection, job: int, event: Event) -> None:
    """The time of the newest event, and what a conclusion, an end or a withdrawal makes of the job."""
    connection.execute("UPDATE jobs SET last = ? WHERE id = ?", (write_time(event.at), job))
    if event.kind == CONCLUDED:
        _set_status(connection, job, records.CONCLUDED, event.detail.get("finding"))
    elif event.kind == FINISHED:
        connection.execute("UPDATE jobs SET status = ? WHERE id = ?", (records.FINISHED, job))
    elif event.kind == WITHDRAWN:
        _reopen(connection, job, event)


def count_steps(connection: sqlite3.Connection, job: int) -> None:
    """Count the step visits of `job` that have a live answer."""
    live: set[Key] = set()
    rows = connection.execute(
        "SELECT kind, step, visit, item FROM events WHERE job = ? ORDER BY number", (job,)
    )
    for kind, step, visit, item in rows:
        if kind in ANSWERS:
            live.add((step, visit, item))
        elif kind == WITHDRAWN:
            live.discard((step, visit, item))
    steps = len({(step, visit) for step, visit, _ in live})
    connection.execute("UPDATE jobs SET steps = ? WHERE id = ?", (steps, job))


def _set_status(connection: sqlite3.Connection, job: int, status: str, finding: object) -> None:
    name = finding if isinstance(finding, str) else None
    connection.execute("UPDATE jobs SET status = ?, finding = ? WHERE id = ?", (status, name, job))


def _reopen(connection: sqlite3.Connection, job: int, event: Event) -> None:
    # Only who re-derives the walk knows where a withdrawal leaves it, and says so in the event.
    if event.detail.get("status") == records.CONCLUDED:
        connection.execute("UPDATE jobs SET status = ? WHERE id = ?", (records.CONCLUDED, job))
    else:
        _set_status(connection, job, records.OPEN, None)
