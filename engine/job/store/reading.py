"""Reading jobs, their events and their bundles."""

from __future__ import annotations

import sqlite3
from typing import Any

from engine.job.events import Event
from engine.job.store.codec import COLUMNS, decode, read_time
from engine.job.store.errors import StoreError
from engine.job.store.records import Job, JobSummary, StoredBundle

_SUMMARY = "SELECT id, title, flow, created, last, status, finding, vehicle, steps FROM jobs"
_JOB = (
    "SELECT id, flow, title, revision, flow_hash, program_version, table_version, band_version, "
    "created, after, vehicle, learner, last, status, finding, steps FROM jobs"
)
_EVENTS = f"SELECT {COLUMNS} FROM events"


def read_events(connection: sqlite3.Connection, job: int, first: int = 1) -> list[Event]:
    """The events of a job from number `first` on, in order."""
    rows = connection.execute(f"{_EVENTS} WHERE job = ? AND number >= ? ORDER BY number", (job, first))
    return [decode(row) for row in rows.fetchall()]


def read_jobs(connection: sqlite3.Connection, limit: int | None) -> list[JobSummary]:
    """Jobs by the time of their newest event, newest first."""
    rows = connection.execute(
        f"{_SUMMARY} ORDER BY last DESC, id DESC LIMIT ?", (-1 if limit is None else limit,)
    )
    return [_summary(row) for row in rows.fetchall()]


def read_job(connection: sqlite3.Connection, job: int) -> Job:
    """The record of a job; StoreError if there is none of that number."""
    row = connection.execute(f"{_JOB} WHERE id = ?", (job,)).fetchone()
    if row is None:
        raise no_such_job(job)
    values = list(row)
    for at in (8, 12):
        values[at] = read_time(values[at])
    values[11] = bool(values[11])
    return Job(*values)


def read_bundle(connection: sqlite3.Connection, job: int) -> StoredBundle:
    """The flow files the job was begun with."""
    row = connection.execute(
        "SELECT bundles.hash, main FROM bundles JOIN jobs ON jobs.flow_hash = bundles.hash WHERE jobs.id = ?",
        (job,),
    ).fetchone()
    if row is None:
        raise no_such_job(job)
    files = connection.execute(
        "SELECT name, content FROM bundle_files WHERE hash = ? ORDER BY name", (row[0],)
    )
    return StoredBundle(row[0], row[1], dict(files.fetchall()))


def can_read(connection: sqlite3.Connection) -> bool:
    """Whether a store of a newer format still has all that is read here."""
    try:
        for query in (_SUMMARY, _JOB, _EVENTS, "SELECT hash, main FROM bundles"):
            connection.execute(f"{query} LIMIT 1").fetchall()
        connection.execute("SELECT hash, name, content FROM bundle_files LIMIT 1").fetchall()
    except sqlite3.OperationalError:
        return False
    return True


def no_such_job(job: int) -> StoreError:
    return StoreError(f"There is no job {job} here. `loadstep jobs` lists those there are.")


def _summary(row: tuple[Any, ...]) -> JobSummary:
    number, title, flow, created, last, *rest = row
    return JobSummary(number, title, flow, read_time(created), read_time(last), *rest)
