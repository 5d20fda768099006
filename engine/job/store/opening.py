"""Opening a store so that the person can work, whatever the folder, the disk and the file are like."""

from __future__ import annotations

import sqlite3
import tempfile
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from engine.job.store import connect, files, schema
from engine.job.store.errors import StoreBusy, StoreDamaged, StoreError, StoreReadOnly, explained
from engine.job.store.lock import opening
from engine.job.store.migrate import migrate
from engine.job.store.place import FILE_NAME, HOME_VARIABLE, network_kind, write_readme
from engine.job.store.reading import can_read

NORMAL, READ_ONLY, ELSEWHERE, MEMORY = "normal", "read-only", "elsewhere", "memory"
"""On disk in the data folder; readable only; on disk in a temporary folder; nowhere but in this program."""


@dataclass(slots=True)
class Opened:
    """An open store: its connection, where it is, and what the person should be told about it."""

    connection: sqlite3.Connection
    file: Path
    mode: str
    notices: list[str]


def open_store(folder: Path, now: datetime) -> Opened:
    """Open or make the store of `folder`; if that fails, one in a temporary folder; else one in memory."""
    try:
        return _open_here(folder, now)
    except (StoreError, OSError) as error:
        return _open_elsewhere(folder, error, now)


def _open_here(folder: Path, now: datetime) -> Opened:
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    with opening(folder):
        opened = _open_or_begin_anew(folder / FILE_NAME, now)
    write_readme(folder)
    return opened


def _open_or_begin_anew(file: Path, now: datetime) -> Opened:
    """The store at `file`; what is damaged is renamed before anything else, so that no start trips twice."""
    if files.has_orphans(file):
        aside = files.set_aside(file, now)
        told = f"{file} is gone, but its log was still there: it is kept as {aside}-wal."
    elif not file.exists():
        told = ""
    else:
        try:
            return _open_file(file, now)
        except StoreDamaged as damage:
            aside = files.set_aside(file, now)
            told = f"{damage.reason} It is kept as {aside}, and a new, empty store was begun."
    with explained(file):
        files.create(file)
    opened = _open_file(file, now)
    return opened if not told else replace(opened, notices=[told, *opened.notices])


def _open_file(file: Path, now: datetime) -> Opened:
    version = connect.examine(file)
    if version > schema.VERSION:
        return _open_newer(file, version)
    kind = network_kind(file.parent)
    notices = [] if kind is None else [_network_sentence(file.parent, kind)]
    connection = connect.connect(file)
    try:
        with explained(file):
            connect.choose_journal(connection, network=kind is not None)
            connect.check_writable(connection)
            if version < schema.VERSION:
                kept = migrate(connection, file, now)
                notices.append(
                    f"The jobs were brought to a newer format. They are kept as they were in {kept}."
                )
    except BaseException:
        connection.close()
        raise
    return Opened(connection, file, NORMAL, notices)


def _open_newer(file: Path, version: int) -> Opened:
    told = (
        f"{file} was written by a newer loadstep (format {version}; this one knows {schema.VERSION}). "
        f"Update loadstep, or set {HOME_VARIABLE} to another folder."
    )
    connection = connect.connect_read_only(file)
    if not can_read(connection):
        connection.close()
        raise StoreReadOnly(told)
    return Opened(connection, file, READ_ONLY, [f"{told} Its jobs can be read; new answers are not kept."])


def _open_elsewhere(folder: Path, error: StoreError | OSError, now: datetime) -> Opened:
    reason = _at_start(error) if isinstance(error, StoreError) else _folder_sentence(folder, error)
    try:
        spare = Path(tempfile.mkdtemp(prefix="loadstep-"))
        if not isinstance(error, StoreBusy):  # what another program is writing cannot be copied whole
            _copy_if_sound(folder / FILE_NAME, spare)
        opened = _open_or_begin_anew(spare / FILE_NAME, now)
    except (StoreError, OSError):
        told = f"{reason} Nothing is kept once loadstep closes: write the sheet before you leave."
        return Opened(connect.connect_memory(), Path(":memory:"), MEMORY, [told])
    told = (
        f"{reason} Until then jobs are kept in {spare}; to open them later, start loadstep with "
        f"{HOME_VARIABLE}={spare}."
    )
    return Opened(opened.connection, opened.file, ELSEWHERE, [told, *opened.notices])


def _at_start(error: StoreError) -> str:
    return f"{error.reason} {error.at_start or error.remedy}".strip()


def _copy_if_sound(file: Path, spare: Path) -> None:
    """Copy the store to work on, if this program can use it."""
    try:
        files.copy_store(file, spare)
        usable = connect.examine(spare / file.name) <= schema.VERSION
    except (StoreError, OSError):
        usable = False
    if not usable:
        files.remove_store(spare / file.name)


def _network_sentence(folder: Path, kind: str) -> str:
    return (
        f"{folder} is on a network drive ({kind}). Jobs are kept there, but use it from one computer "
        f"at a time, or set {HOME_VARIABLE} to a folder on this computer."
    )


def _folder_sentence(folder: Path, error: OSError) -> str:
    return (
        f"The data folder {folder} cannot be used ({error.strerror or error}). Allow writing to it, "
        f"or set {HOME_VARIABLE} to a folder of your own."
    )
