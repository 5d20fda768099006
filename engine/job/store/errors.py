"""What can go wrong with the store, each as a sentence that says what to do."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from engine.job.events import Event


class StoreError(Exception):
    """Something the store could not do; `str()` is for the person.

    `reason` says what is wrong, `remedy` what to do while loadstep runs, `at_start` what to do if it was met
    when the store was opened.
    """

    at_start = ""

    def __init__(self, reason: str, remedy: str = "") -> None:
        super().__init__(f"{reason} {remedy}".strip())
        self.reason = reason
        self.remedy = remedy


class StoreBusy(StoreError):
    """Another program held the store for longer than `BUSY_MS`."""

    at_start = "Close that program, or wait until it is done, and start loadstep again."


class StoreFull(StoreError):
    """The disk took no more."""

    at_start = "Free some space on it and start loadstep again."


class StoreReadOnly(StoreError):
    """The store can be read but not written."""


class StoreDamaged(StoreError):
    """The file is not what was written; the next start sets it aside."""

    def __init__(self, reason: str) -> None:
        super().__init__(
            reason,
            "Close loadstep and start it again: it then sets the file aside, keeps it, and begins a new one.",
        )


class StoreConflict(StoreError):
    """Another program wrote to the job first; `newer` are its events, from the number that was wanted."""

    def __init__(self, job: int, newer: tuple[Event, ...]) -> None:
        super().__init__(f"Another window has gone on with job {job}: its answers are read in now.")
        self.job = job
        self.newer = newer


def explain(error: sqlite3.Error, file: Path) -> StoreError:
    """The sentence for an SQLite error on `file`."""
    code = getattr(error, "sqlite_errorcode", 0)
    if code in _DISK_CODES:
        return StoreFull(
            f"The disk that holds {file.parent} is full or takes no more data ({error}).",
            "Free some space on it; loadstep tries again with the next answer.",
        )
    match code & 0xFF:  # the low byte is the kind of error, the rest its shade
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return StoreBusy(
                f"Another program is holding {file}.",
                "Close that program, or wait until it is done; loadstep tries again with the next answer.",
            )
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_PERM:
            return StoreReadOnly(
                f"{file} cannot be written.",
                "Allow writing to that file and its folder, or set LOADSTEP_HOME to a folder of your own, "
                "and start loadstep again.",
            )
        case sqlite3.SQLITE_CORRUPT | sqlite3.SQLITE_NOTADB:
            return StoreDamaged(f"{file} is damaged ({error}).")
    return StoreError(
        f"{file} could not be used ({error}).", "Check the disk and the folder, then try again."
    )


_DISK_CODES = frozenset(
    {
        sqlite3.SQLITE_FULL,
        sqlite3.SQLITE_IOERR_WRITE,  # also what a quota or a file size limit gives
        sqlite3.SQLITE_IOERR_FSYNC,
        sqlite3.SQLITE_IOERR_DIR_FSYNC,
        sqlite3.SQLITE_IOERR_TRUNCATE,
        sqlite3.SQLITE_IOERR_SHMSIZE,  # no room for the index of the write-ahead log
        sqlite3.SQLITE_IOERR_SHMOPEN,
    }
)


@contextmanager
def explained(file: Path) -> Iterator[None]:
    """Turn SQLite errors inside the block into a `StoreError`."""
    try:
        yield
    except sqlite3.Error as error:
        raise explain(error, file) from error
