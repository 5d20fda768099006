"""The events of one open job: on disk before anyone is told, or kept in memory until the disk takes them."""

from __future__ import annotations

import asyncio
from collections.abc import Sequence

from engine.job.events import Event
from engine.job.store import NewJob, Store, StoreConflict, StoreError


class Journal:
    """`events` in order; the first `saved` of them are on disk. `job` is 0 until the store has taken the job.

    `trouble` is why the others are not on disk. They are tried again with every `append`, so that nothing
    that was accepted is lost while the program runs.
    """

    def __init__(self, store: Store, new: NewJob | None = None, job: int = 0, events: Sequence[Event] = ()):
        self.store = store
        self.job = job
        self.events = list(events)
        self.saved = len(self.events)
        self.trouble: StoreError | None = None
        self._new = new

    @property
    def unsaved(self) -> int:
        """Events that are not on disk yet."""
        return len(self.events) - self.saved

    async def append(self, event: Event) -> None:
        """Add an event. When this returns it is on disk, or else kept here with `trouble` saying why.

        Raises StoreConflict if another program has gone on with the job: its events are then read in, and
        `event` was not added. Events that waited for the disk follow after them.
        """
        self.events.append(event)
        try:
            await self.save()
        except StoreConflict:
            self.events.pop()
            raise

    async def save(self) -> None:
        """Put on disk what is not there yet, or set `trouble`. Raises StoreConflict as `append` does."""
        try:
            await self._save()
        except StoreConflict as conflict:
            self.events[self.saved : self.saved] = conflict.newer
            self.saved += len(conflict.newer)
            raise
        except StoreError as error:
            self.trouble = error

    async def _save(self) -> None:
        if self.job == 0 and self._new is not None:
            self.job = await asyncio.to_thread(self.store.create_job, self._new, self.events[0])
            self.saved = 1
        while self.unsaved:
            number = self.saved + 1
            await asyncio.wrap_future(self.store.append(self.job, number, self.events[self.saved]))
            self.saved = number
        self.trouble = None
