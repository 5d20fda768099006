"""SQLite connections with our settings, and the first look at a file."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from urllib.parse import quote

from engine.job.store import files, schema
from engine.job.store.errors import StoreDamaged, explained
from engine.job.store.migrate import version_of

BUSY_MS = 250
"""How long a write waits for another program before it becomes a sentence."""

_READ_THROUGH_BYTES = 8 * 1024 * 1024
# Reading a store through costs about 1 ms a MiB (measured, warm): free at this size, felt at start beyond it.
# A larger store is read through by the start after a damaged page was met.


def connect(file: Path) -> sqlite3.Connection:
    """A writing connection. It may be handed to another thread, and is used by one at a time."""
    return _settled(sqlite3.connect(file, isolation_level=None, check_same_thread=False))


def connect_read_only(file: Path) -> sqlite3.Connection:
    """A connection that cannot write."""
    uri = _uri(file, "mode=ro")
    return _settled(sqlite3.connect(uri, uri=True, isolation_level=None, check_same_thread=False))


def connect_memory() -> sqlite3.Connection:
    """An empty store that lives as long as the program."""
    connection = _settled(sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False))
    schema.build(connection)
    return connection


def choose_journal(connection: sqlite3.Connection, *, network: bool) -> None:
    """Write-ahead log where the drive can have one, else a rollback journal, each with every commit on disk.

    A write-ahead log shares memory between programs, which no network drive offers.
    """
    if not network and _journal_mode(connection, "WAL") == "wal":
        connection.execute("PRAGMA synchronous = FULL")
        return
    connection.execute("PRAGMA journal_mode = DELETE")
    # EXTRA also syncs the folder: FULL alone may bring a deleted journal back after a power cut.
    connection.execute("PRAGMA synchronous = EXTRA")


def examine(file: Path) -> int:
    """The format number of the store in `file`.

    StoreDamaged if it is no loadstep store or not whole; StoreError for what else keeps it from being read.
    """
    with explained(file):
        _check_header(file)
        return _check_whole(file)


def _check_whole(file: Path) -> int:
    with closing(connect(file)) as connection:
        version = version_of(connection)
        if version > schema.VERSION:
            return version
        if version < 1:
            raise StoreDamaged(f"{file} says that its format is {version}.")
        _check_tables(connection, file)
        if files.is_suspect(file) or file.stat().st_size <= _READ_THROUGH_BYTES:
            _read_through(connection, file)
    files.unmark_suspect(file)
    return version


def check_writable(connection: sqlite3.Connection) -> None:
    """Raise the SQLite error a write would meet; another program writing just now is none."""
    try:
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("ROLLBACK")
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode != sqlite3.SQLITE_BUSY:
            raise


def _uri(file: Path, options: str) -> str:
    path = file.absolute().as_posix()
    return f"file://{'' if path.startswith('/') else '/'}{quote(path)}?{options}"


def _settled(connection: sqlite3.Connection) -> sqlite3.Connection:
    connection.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA journal_size_limit = 4194304")
    return connection


def _journal_mode(connection: sqlite3.Connection, wanted: str) -> str:
    try:
        return str(connection.execute(f"PRAGMA journal_mode = {wanted}").fetchone()[0])
    except sqlite3.OperationalError:
        return "refused"


def _check_header(file: Path) -> None:
    # `immutable` touches nothing but this file: SQLite clears away the log of a file it cannot use, and the
    # log must be kept. Not read with open(): closing that would drop SQLite's locks on the file (POSIX).
    with closing(sqlite3.connect(_uri(file, "immutable=1"), uri=True)) as connection:
        try:
            found = connection.execute("PRAGMA application_id").fetchone()[0]
        except sqlite3.DatabaseError as error:
            if error.sqlite_errorcode != sqlite3.SQLITE_NOTADB:
                raise
            found = None
    if found != schema.APPLICATION_ID:
        raise StoreDamaged(f"{file} is not a loadstep store.")


def _check_tables(connection: sqlite3.Connection, file: Path) -> None:
    found = {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    missing = sorted(schema.TABLES - found)
    if missing:
        raise StoreDamaged(f"{file} lacks its table {missing[0]!r}.")


def _read_through(connection: sqlite3.Connection, file: Path) -> None:
    [(first,), *_] = connection.execute("PRAGMA quick_check(1)").fetchall()
    if first != "ok":
        raise StoreDamaged(f"{file} is damaged ({first}).")
