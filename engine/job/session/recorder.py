"""Moving a walk by writing events: first the disk, then the walk."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Coroutine, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, TypeVar

from engine.flow.model import Value
from engine.job.events import DRAFT, WITHDRAWN, Event, Key
from engine.job.fold import answer_of, answers, follow
from engine.job.session.journal import Journal
from engine.job.session.outcome import outcomes
from engine.job.session.told import duty_gaps
from engine.job.session.versions import Versions
from engine.job.state import Prompt
from engine.job.store import StoreConflict
from engine.job.walk import Walk, advance

T = TypeVar("T")
Clock = Callable[[], datetime]


class SessionChanged(Exception):
    """Another program has gone on with the job, and the walk now follows it."""


@dataclass(frozen=True, slots=True)
class Said:
    """What the person answered, apart from what it answers."""

    kind: str
    text: str = ""
    unit: str = ""
    value: Value | None = None
    detail: Mapping[str, Any] | None = None
    doubt: str | None = None


class Recorder:
    """Holds the walk and the journal, and moves them together.

    One thing is recorded at a time. What is recorded for a prompt that has gone meanwhile, as by a key
    pressed twice, is dropped: it was not meant for the next one. A caller that is cancelled leaves no half:
    what was begun is finished.
    """

    def __init__(self, journal: Journal, first: Walk, versions: Versions, clock: Clock) -> None:
        """`first` is the walk before any answer; what the journal holds is followed from there."""
        self.journal = journal
        self.walk = follow(first, answers(journal.events))
        self._first = first
        self.clock = clock
        self.told: tuple[str, ...] = ()
        self.versions = versions
        self._lock = asyncio.Lock()

    async def answer(self, said: Said) -> None:
        """Record an answer to the present prompt and move on. ValueError if it does not fit the prompt."""
        prompt = self.walk.prompt
        if prompt is None:
            raise ValueError("nothing is asked any more")
        await self._alone(self._answer(prompt, said))

    async def note(self, kind: str, text: str = "", detail: Mapping[str, Any] | None = None) -> None:
        """Record what moves nothing: a draft, a note, a prediction, that a set holds."""
        await self._alone(self._note(self.walk.prompt, kind, text, detail))

    async def undo(self) -> bool:
        """Take back the last answer on the path; False if there is none."""
        return await self._alone(self._undo())

    async def change(self, key: Key) -> bool:
        """Take back one answer, wherever on the path it was given; False if it was not."""
        return await self._alone(self._change(key))

    async def save(self) -> None:
        """Try again to put on disk what is only in memory."""
        await self._alone(self._save())

    async def _answer(self, prompt: Prompt, said: Said) -> None:
        if prompt != self.walk.prompt:
            return
        event = self._event(prompt, said)
        live = answers([*self.journal.events, event])
        moved = follow(advance(self.walk, answer_of(event)), live)
        self.told = (said.doubt,) if said.doubt else ()
        await self._write([event, *outcomes(self.walk, moved, event.at, self.versions)])
        gaps = duty_gaps(self.walk)
        self.told += tuple(told for name, told in duty_gaps(moved).items() if told != gaps.get(name))
        self.walk = moved

    async def _note(
        self, prompt: Prompt | None, kind: str, text: str, detail: Mapping[str, Any] | None
    ) -> None:
        if kind == DRAFT and prompt != self.walk.prompt:
            return  # the text was answered or left meanwhile
        step, visit, item = prompt.key if prompt is not None else ("", 1, "")
        at, flow = self.clock(), self.walk.flow.name
        event = Event(kind, at, flow, step, visit, item, text, detail=dict(detail or {}))
        await self._write([event])

    async def _undo(self) -> bool:
        if not self.walk.answered:
            return False
        return await self._take_back(list(self.walk.answered)[-1])

    async def _change(self, key: Key) -> bool:
        return await self._take_back(key) if key in self.walk.answered else False

    async def _take_back(self, key: Key) -> bool:
        live = answers(self.journal.events)
        live.pop(key, None)
        moved = follow(self._first, live)
        at = self.clock()
        taken_back = Event(WITHDRAWN, at, self.walk.flow.name, *key, detail={"status": moved.status})
        self.told = ()
        await self._write([taken_back, *outcomes(self.walk, moved, at, self.versions)])
        self.walk = moved
        return True

    def _event(self, prompt: Prompt, said: Said) -> Event:
        value = tuple(sorted(said.value)) if isinstance(said.value, frozenset) else said.value
        return Event(
            said.kind,
            self.clock(),
            self.walk.flow.name,
            *prompt.key,
            text=said.text,
            unit=said.unit,
            value=value,
            detail=dict(said.detail or {}),
        )

    async def _write(self, events: list[Event]) -> None:
        """Append the events; the first is what the person did, the others follow from it."""
        told = " What was entered here last was not recorded."
        try:
            for event in events:
                await self.journal.append(event)
                told = ""
        except StoreConflict as conflict:
            raise self._changed(f"{conflict}{told}") from conflict

    async def _save(self) -> None:
        try:
            await self.journal.save()
        except StoreConflict as conflict:
            raise self._changed(str(conflict)) from conflict

    def _changed(self, sentence: str) -> SessionChanged:
        self.walk = follow(self._first, answers(self.journal.events))
        self.told = ()
        return SessionChanged(sentence)

    async def _alone(self, recording: Coroutine[Any, Any, T]) -> T:
        async def run() -> T:
            async with self._lock:
                return await recording

        return await asyncio.shield(asyncio.ensure_future(run()))
