"""The tables of the store, as they are now. `migrate` brings older files here."""

from __future__ import annotations

import sqlite3

APPLICATION_ID = 0x6C6F6164
"""Written into the file's header, so that another program's file is not taken for ours ("load" in ASCII)."""

VERSION = 2
"""1: jobs, bundles, events. 2: each job carries its summary: the list opens without reading events."""

TABLES = {"jobs", "bundles", "bundle_files", "events"}

STATEMENTS = (
    """CREATE TABLE bundles (
        hash TEXT PRIMARY KEY,
        main TEXT NOT NULL
    ) WITHOUT ROWID""",
    """CREATE TABLE bundle_files (
        hash TEXT NOT NULL REFERENCES bundles (hash),
        name TEXT NOT NULL,
        content BLOB NOT NULL,
        PRIMARY KEY (hash, name)
    ) WITHOUT ROWID""",
    """CREATE TABLE jobs (
        id INTEGER PRIMARY KEY AUTOINCREMENT,
        flow TEXT NOT NULL,
        title TEXT NOT NULL,
        revision INTEGER NOT NULL,
        flow_hash TEXT NOT NULL REFERENCES bundles (hash),
        program_version TEXT NOT NULL,
        table_version TEXT NOT NULL,
        band_version TEXT NOT NULL,
        created TEXT NOT NULL,
        after INTEGER REFERENCES jobs (id),
        vehicle TEXT NOT NULL,
        learner INTEGER NOT NULL,
        last TEXT NOT NULL DEFAULT '',
        status TEXT NOT NULL DEFAULT 'open',
        finding TEXT,
        steps INTEGER NOT NULL DEFAULT 0
    )""",
    """CREATE TABLE events (
        job INTEGER NOT NULL REFERENCES jobs (id),
        number INTEGER NOT NULL,
        format INTEGER NOT NULL,
        kind TEXT NOT NULL,
        at TEXT NOT NULL,
        step TEXT NOT NULL,
        visit INTEGER NOT NULL,
        item TEXT NOT NULL,
        body TEXT NOT NULL,
        PRIMARY KEY (job, number)
    ) WITHOUT ROWID""",
    "CREATE INDEX jobs_by_last ON jobs (last, id)",
)


def build(connection: sqlite3.Connection) -> None:
    """Make the tables in an empty database, in one transaction."""
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute("BEGIN IMMEDIATE")
    for statement in STATEMENTS:
        connection.execute(statement)
    connection.execute(f"PRAGMA user_version = {VERSION}")
    connection.execute("COMMIT")
