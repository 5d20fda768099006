"""The store as files: made whole or not at all, set aside together with what SQLite keeps beside it."""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing, suppress
from datetime import datetime
from pathlib import Path

from engine.job.store import schema

COMPANIONS = ("-wal", "-shm", "-journal")
"""What SQLite keeps beside a database; meaningless, and dangerous, beside another one."""

SUSPECT_SUFFIX = "-suspect"
"""An empty file of this name beside the store asks the next start to read the store through."""


def create(file: Path) -> None:
    """Make an empty store at `file`: built under another name, then moved into place."""
    unfinished = file.with_name(f".{file.name}-{os.getpid()}.tmp")
    try:
        unfinished.unlink(missing_ok=True)
        with closing(sqlite3.connect(unfinished, isolation_level=None)) as connection:
            connection.execute("PRAGMA synchronous = FULL")
            schema.build(connection)
        unfinished.replace(file)
    finally:
        with suppress(OSError):
            unfinished.unlink(missing_ok=True)
    _sync_folder(file.parent)


def set_aside(file: Path, now: datetime) -> Path:
    """Rename `file` and its companions so that they stay together, and return the new name."""
    aside = _free_name(file.with_name(f"{file.stem}-damaged-{now:%Y%m%dT%H%M%S}{file.suffix}"))
    for suffix in ("", *COMPANIONS):
        part = Path(f"{file}{suffix}")
        if part.exists():
            part.rename(f"{aside}{suffix}")
    unmark_suspect(file)
    return aside


def has_orphans(file: Path) -> bool:
    """Whether a log lies here without its store. SQLite would write it into the next store of that name."""
    return not file.exists() and any(Path(f"{file}{suffix}").exists() for suffix in COMPANIONS)


def copy_store(file: Path, folder: Path) -> None:
    """Copy the store with its log into another folder; the index of the log is rebuilt there."""
    for suffix in ("", "-wal", "-journal"):
        part = Path(f"{file}{suffix}")
        if part.exists():
            shutil.copyfile(part, folder / part.name)


def remove_store(file: Path) -> None:
    """Delete `file` and its companions; for copies only."""
    for suffix in ("", *COMPANIONS):
        Path(f"{file}{suffix}").unlink(missing_ok=True)


def mark_suspect(file: Path) -> None:
    """Ask the next start to read the whole store, where the disk takes a mark at all."""
    with suppress(OSError):
        Path(f"{file}{SUSPECT_SUFFIX}").touch()


def unmark_suspect(file: Path) -> None:
    with suppress(OSError):
        Path(f"{file}{SUSPECT_SUFFIX}").unlink(missing_ok=True)


def is_suspect(file: Path) -> bool:
    return Path(f"{file}{SUSPECT_SUFFIX}").exists()


def _free_name(wanted: Path) -> Path:
    name, count = wanted, 1
    while name.exists():
        count += 1
        name = wanted.with_name(f"{wanted.stem}-{count}{wanted.suffix}")
    return name


def _sync_folder(folder: Path) -> None:
    # So that the new name itself survives a power cut; Windows cannot open a folder.
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
