"""Bringing an older store file to the present format: first a copy beside it, then one transaction."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Mapping
from contextlib import closing
from datetime import datetime
from pathlib import Path

from engine.job.store import schema, summary
from engine.job.store.codec import COLUMNS, decode


def version_of(connection: sqlite3.Connection) -> int:
    """The format of the file (`user_version`)."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def migrate(connection: sqlite3.Connection, file: Path, now: datetime) -> Path:
    """Copy the store beside itself, bring `file` to `schema.VERSION`, and return the copy's path."""
    kept = _copy(connection, file, now)
    connection.execute("BEGIN IMMEDIATE")
    try:
        # Read again inside the transaction: another program may have been quicker.
        for version in range(version_of(connection), schema.VERSION):
            _STEPS[version](connection)
        connection.execute(f"PRAGMA user_version = {schema.VERSION}")
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise
    return kept


def _copy(connection: sqlite3.Connection, file: Path, now: datetime) -> Path:
    old = version_of(connection)
    kept = file.with_name(f"{file.stem}-format-{old}-{now:%Y%m%dT%H%M%S}{file.suffix}")
    unfinished = kept.with_suffix(".tmp")
    with closing(sqlite3.connect(unfinished)) as copy:
        connection.backup(copy)
    with unfinished.open("rb+") as written:
        os.fsync(written.fileno())
    unfinished.replace(kept)
    return kept


def _to_2(connection: sqlite3.Connection) -> None:
    """Format 1 left the list of jobs to be worked out from all events; 2 keeps a summary with each job."""
    for column in (
        "last TEXT NOT NULL DEFAULT ''",
        "status TEXT NOT NULL DEFAULT 'open'",
        "finding TEXT",
        "steps INTEGER NOT NULL DEFAULT 0",
    ):
        connection.execute(f"ALTER TABLE jobs ADD COLUMN {column}")
    connection.execute("UPDATE jobs SET last = created")
    for (job,) in connection.execute("SELECT id FROM jobs").fetchall():
        rows = connection.execute(f"SELECT {COLUMNS} FROM events WHERE job = ? ORDER BY number", (job,))
        for row in rows.fetchall():
            summary.note_status(connection, job, decode(row))
        summary.count_steps(connection, job)
    connection.execute("CREATE INDEX jobs_by_last ON jobs (last, id)")


_STEPS: Mapping[int, Callable[[sqlite3.Connection], None]] = {1: _to_2}
