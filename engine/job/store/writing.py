"""Writing jobs and events: each call is one transaction, on disk when it returns."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from engine.job.events import Event
from engine.job.store import summary
from engine.job.store.codec import COLUMNS, encode, write_time
from engine.job.store.errors import StoreConflict
from engine.job.store.reading import no_such_job, read_events
from engine.job.store.records import NewJob, StoredBundle


def write_job(connection: sqlite3.Connection, new: NewJob, first: Event | None) -> int:
    """Store a job, its bundle if it is new, and its first event; return the job's number."""
    with _transaction(connection):
        _write_bundle(connection, new.bundle)
        job = _insert_job(connection, new)
        if first is not None:
            _insert_event(connection, job, 1, first)
    return job


def write_event(connection: sqlite3.Connection, job: int, number: int, event: Event) -> int:
    """Store `event` as the job's event `number`, which must be the next one (they count from 1).

    StoreConflict if another program was first; then nothing was written. Writing again what is already there
    is no conflict: a commit may have reached the disk although an error was reported.
    """
    with _transaction(connection):
        last = _last_number(connection, job)
        if number > last + 1:
            raise ValueError(f"event {number} of job {job} would leave a gap after {last}")
        if number == last + 1:
            _insert_event(connection, job, number, event)
            return number
        newer = read_events(connection, job, number)
    if newer[0] != event:
        raise StoreConflict(job, tuple(newer))
    return number


@contextmanager
def _transaction(connection: sqlite3.Connection) -> Iterator[None]:
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:  # SQLite may have rolled back by itself, on a full disk
            connection.execute("ROLLBACK")
        raise


def _write_bundle(connection: sqlite3.Connection, bundle: StoredBundle) -> None:
    if connection.execute("SELECT 1 FROM bundles WHERE hash = ?", (bundle.hash,)).fetchone():
        return
    connection.execute("INSERT INTO bundles (hash, main) VALUES (?, ?)", (bundle.hash, bundle.main))
    connection.executemany(
        "INSERT INTO bundle_files (hash, name, content) VALUES (?, ?, ?)",
        [(bundle.hash, name, content) for name, content in bundle.files.items()],
    )


def _insert_job(connection: sqlite3.Connection, new: NewJob) -> int:
    created = write_time(new.created)
    vehicle = new.vehicle.encode("utf-8", "replace").decode()  # a paste may hold half a character
    cursor = connection.execute(
        "INSERT INTO jobs (flow, title, revision, flow_hash, program_version, table_version, band_version, "
        "created, after, vehicle, learner, last) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (
            *(new.flow, new.title, new.revision, new.bundle.hash),
            *(new.program_version, new.table_version, new.band_version),
            *(created, new.after, vehicle, new.learner, created),
        ),
    )
    assert cursor.lastrowid is not None
    return cursor.lastrowid


def _insert_event(connection: sqlite3.Connection, job: int, number: int, event: Event) -> None:
    connection.execute(
        f"INSERT INTO events (job, number, {COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (job, number, *encode(event)),
    )
    summary.update(connection, job, event)


def _last_number(connection: sqlite3.Connection, job: int) -> int:
    row = connection.execute(
        "SELECT (SELECT max(number) FROM events WHERE job = jobs.id) FROM jobs WHERE id = ?", (job,)
    ).fetchone()
    if row is None:
        raise no_such_job(job)
    return row[0] or 0
