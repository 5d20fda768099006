"""The store as the rest of the program sees it."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import NoReturn, Self, TypeVar

from engine.job.events import Event
from engine.job.store import opening, reading, writing
from engine.job.store.connect import connect_memory
from engine.job.store.errors import StoreDamaged, StoreReadOnly, explained
from engine.job.store.files import mark_suspect, remove_store
from engine.job.store.place import HOME_VARIABLE, default_folder
from engine.job.store.records import Job, JobSummary, NewJob, StoredBundle

T = TypeVar("T")


class Store:
    """Jobs on disk. One connection, used by one thread: reads see every write that was asked for before them.

    `mode` is "normal"; "read-only" (a newer store: jobs can be read, writing raises StoreReadOnly);
    "elsewhere" (the data folder cannot be used, jobs go to a temporary folder); or "memory". `notices` are
    sentences for the person. Two programs may use one store.
    """

    def __init__(self, opened: opening.Opened) -> None:
        self.mode = opened.mode
        self.notices = opened.notices
        self.file = opened.file
        self._connection = opened.connection
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="loadstep-store")
        self._wrote = False

    @classmethod
    def open(cls, folder: Path | None = None, now: datetime | None = None) -> Self:
        """Open the store in `folder` (default: `default_folder()`). Never fails: see `mode` and `notices`.

        `now` stamps the names of files set aside or copied.
        """
        return cls(opening.open_store(folder or default_folder(), now or datetime.now(UTC)))

    @classmethod
    def scratch(cls) -> Self:
        """A store in memory only, for what is not to be kept; nothing is said about that."""
        return cls(opening.Opened(connect_memory(), Path(":memory:"), opening.MEMORY, []))

    def create_job(self, new: NewJob, first: Event | None = None) -> int:
        """Store a job, with `first` as its event 1 if given, and return its number. Raises StoreError."""
        return self._write(lambda connection: writing.write_job(connection, new, first)).result()

    def append(self, job: int, number: int, event: Event) -> Future[int]:
        """Store the job's event `number` (1, 2, ...). The future gives `number` once the event is on disk.

        It raises StoreConflict if another program has written that number, StoreBusy after 250 ms of waiting
        for another program, StoreFull, StoreReadOnly, StoreDamaged or another StoreError.
        """
        return self._write(lambda connection: writing.write_event(connection, job, number, event))

    def events(self, job: int, first: int = 1) -> list[Event]:
        """The events of `job` from number `first` on. Raises StoreError."""
        return self._do(lambda connection: reading.read_events(connection, job, first)).result()

    def jobs(self, limit: int | None = None) -> list[JobSummary]:
        """Jobs by the time of their newest event, newest first. Raises StoreError."""
        return self._do(lambda connection: reading.read_jobs(connection, limit)).result()

    def job(self, job: int) -> Job:
        """The record of one job. Raises StoreError if there is none."""
        return self._do(lambda connection: reading.read_job(connection, job)).result()

    def bundle(self, job: int) -> StoredBundle:
        """The flow files `job` was begun with. Raises StoreError if there is no such job."""
        return self._do(lambda connection: reading.read_bundle(connection, job)).result()

    def close(self) -> None:
        """Finish what was asked for and close. A temporary store in which nothing was kept is removed."""
        self._worker.shutdown(wait=True)
        with suppress(
            sqlite3.Error
        ):  # closing folds the log into the store; what fails is done at the next start
            self._connection.close()
        if self.mode == opening.ELSEWHERE and not self._wrote:
            with suppress(OSError):  # what else was put there, as a sheet, keeps the folder
                remove_store(self.file)
                self.file.parent.rmdir()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _write(self, work: Callable[[sqlite3.Connection], T]) -> Future[T]:
        if self.mode == opening.READ_ONLY:
            return self._do(self._refuse)
        self._wrote = True
        return self._do(work)

    def _refuse(self, _: sqlite3.Connection) -> NoReturn:
        raise StoreReadOnly(
            f"{self.file} was written by a newer loadstep and is only read.",
            f"Update loadstep, or set {HOME_VARIABLE} to another folder, to keep new answers.",
        )

    def _do(self, work: Callable[[sqlite3.Connection], T]) -> Future[T]:
        return self._worker.submit(self._guarded, work)

    def _guarded(self, work: Callable[[sqlite3.Connection], T]) -> T:
        try:
            with explained(self.file):
                return work(self._connection)
        except StoreDamaged:
            mark_suspect(self.file)
            raise
