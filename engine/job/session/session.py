"""A session: one open job as the screen sees it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Self

from engine.flow.model import ITEM_BEGIN, ITEM_DONE, Flow
from engine.job import events as kinds
from engine.job.compare import DOWN, SAME, UP
from engine.job.entry import Entry, read_entry
from engine.job.events import Event, Key
from engine.job.session import timing
from engine.job.session.opening import begin_draft, begin_job, reopen_job
from engine.job.session.outcome import stored_conclusion
from engine.job.session.recorder import Clock, Recorder, Said
from engine.job.session.told import unsaved_sentence
from engine.job.state import Conclusion
from engine.job.walk import Walk
from engine.physics.atmosphere import SEA_LEVEL_PA

if TYPE_CHECKING:
    from engine.flow.library import Source
    from engine.job.draft.opening import OpenDraft
    from engine.job.store import Store


def utc_now() -> datetime:
    """The clock of a session, unless another is given."""
    return datetime.now(UTC)


class Session:
    """One open job.

    Each recording method returns once its event is on disk, and only then has `walk` moved. If the disk takes
    nothing, the event is kept in memory, `notices` says so, and it is tried again with the next one. Any of
    them raises `SessionChanged` when another program has gone on with the same job: `walk` then follows that.
    `clock` gives aware times and is replaced in tests. `is_draft`: a flow is tried, nothing is kept.
    """

    def __init__(self, recorder: Recorder, learner: bool, *, draft: bool = False) -> None:
        self.learner = learner
        self.is_draft = draft
        self._recorder = recorder

    @classmethod
    async def start(
        cls,
        store: Store,
        source: Source,
        learner: bool = False,
        after: int | None = None,
        vehicle: str = "",
        clock: Clock = utc_now,
        language: str = "",
    ) -> Self:
        """Begin a job; `after` is the job it verifies, `language` what its texts are said in if they can be.

        Raises FlowErrors or WalkError for a bad flow.
        """
        recorder = await begin_job(
            store,
            source,
            learner=learner,
            after=after,
            vehicle=vehicle,
            clock=clock,
            language=language,
        )
        return cls(recorder, learner)

    @classmethod
    async def resume(cls, store: Store, job: int, clock: Clock = utc_now, language: str = "") -> Self:
        """Go on with a stored job, by the flow files it was begun with.

        Raises StoreError if the job is not there or not whole, FlowErrors or WalkError if this version cannot
        walk its flow.
        """
        return cls(*await reopen_job(store, job, clock, language))

    @classmethod
    async def of_draft(
        cls, store: Store, draft: OpenDraft, events: Iterable[Event] = (), clock: Clock = utc_now
    ) -> Self:
        """Walk a draft with the answers among `events` that still fit it; `store` should be one not kept.

        Raises WalkError if the answers lead where the flow cannot be walked on.
        """
        return cls(await begin_draft(store, draft, events, clock), learner=False, draft=True)

    # What is known

    @property
    def walk(self) -> Walk:
        return self._recorder.walk

    @property
    def flow(self) -> Flow:
        return self.walk.flow

    @property
    def store(self) -> Store:
        return self._recorder.journal.store

    @property
    def job(self) -> int:
        """The job's number in the store, 0 while the store has not taken it."""
        return self._recorder.journal.job

    @property
    def events(self) -> list[Event]:
        """Everything that happened in the job, in order; what is not on disk yet included."""
        return self._recorder.journal.events

    @property
    def unsaved(self) -> int:
        """How many of the events are not on disk yet."""
        return self._recorder.journal.unsaved

    @property
    def notices(self) -> list[str]:
        """Sentences the person should see now: what is not on disk, and what the last entry brought up."""
        unsaved = unsaved_sentence(self._recorder.journal)
        return [*([unsaved] if unsaved else []), *self._recorder.told]

    @property
    def conclusion(self) -> Conclusion | None:
        """What was concluded, as written down then; `walk.conclusion` is what this version concludes."""
        return stored_conclusion(self.events) or self.walk.conclusion

    def draft_text(self) -> str:
        """What was half typed at the present prompt, empty if nothing was."""
        key = self.walk.prompt.key if self.walk.prompt else None
        for event in reversed(self.events):
            if event.key == key and event.kind == kinds.DRAFT:
                return event.text
            if event.key == key and (event.kind in kinds.ANSWERS or event.kind == kinds.WITHDRAWN):
                return ""
        return ""

    def settle_left(self, now: datetime) -> float:
        """Seconds of settle time left, 0 if none is waited for."""
        return timing.settle_left(self.walk, now)

    def set_age(self, now: datetime) -> float | None:
        """Seconds since the set being read was begun, or last said to hold; None if no set is being read."""
        return timing.set_age(self.walk, self.events, now)

    def needs_hold(self, now: datetime) -> bool:
        """Whether to ask if the state of the set being read still holds: it is over 20 minutes old.

        Never in a draft: there is no vehicle whose state could change.
        """
        age = self.set_age(now)
        return not self.is_draft and age is not None and age > timing.HOLDS_FOR.total_seconds()

    # What the person does

    async def answer(self, text: str, unit: str) -> Entry:
        """Answer the reading asked for; a bare number takes `unit`. Raises EntryError for what cannot be."""
        reading = self.walk.reading
        if reading is None:
            raise ValueError("no reading is asked for")
        air = self.walk.facts.get("atmospheric_pressure")
        entry = read_entry(reading, text, unit, air if isinstance(air, float) else SEA_LEVEL_PA)
        said = Said(kinds.ANSWERED, text, entry.unit, entry.value, doubt=entry.implausible)
        await self._recorder.answer(said)
        return entry

    async def cannot_measure(self) -> None:
        """The reading asked for cannot be taken."""
        await self._recorder.answer(Said(kinds.CANNOT_MEASURE))

    async def acknowledge(self) -> None:
        """The cautions of the step were read."""
        ids = list(self.walk.step.cautions) if self.walk.step else []
        await self._recorder.answer(Said(kinds.ACKNOWLEDGED, detail={"ids": ids}))

    async def begin_set(self) -> None:
        """The load is set; the settle time runs from now."""
        detail = {"load": self._load(self.walk.current_set), "load_before": self._load_before()}
        await self._recorder.answer(Said(kinds.SET_BEGUN, detail=detail))

    async def settle(self, kept: bool, waited: float | None = None) -> None:
        """The settle time is over (`kept`) or cut short; `waited` in seconds, by the clock if None."""
        if waited is None:
            begun = timing.settle_begun(self.walk)
            waited = timing.since(begun, self._recorder.clock()) if begun else 0.0
        await self._recorder.answer(Said(kinds.SETTLED, detail={"waited": waited, "kept": kept}))

    async def done(self) -> None:
        """The step was done."""
        await self._recorder.answer(Said(kinds.DONE))

    async def skip(self) -> None:
        """The step could not be done, or its set not be begun. ValueError at any other prompt."""
        if self.walk.prompt is None or self.walk.prompt.item not in (ITEM_DONE, ITEM_BEGIN):
            raise ValueError("only a step to do or a set to begin can be skipped")
        await self._recorder.answer(Said(kinds.SKIPPED))

    async def undo(self) -> bool:
        """Take back the last answer on the path and ask its prompt again; False if there is none."""
        return await self._recorder.undo()

    async def change(self, key: Key) -> bool:
        """Take back one answer on the path and ask its prompt again; the answers after it stay.

        They are followed as far as they still fit the way. False if it was not given on the path.
        """
        return await self._recorder.change(key)

    async def predict(self, predicted: Mapping[str, str]) -> None:
        """Which way a learner says each reading will go: reading -> up, down or same. ValueError else."""
        wrong = {name: way for name, way in predicted.items() if way not in (UP, DOWN, SAME)}
        unknown = [name for name in predicted if name not in self.flow.readings]
        if wrong or unknown:
            raise ValueError(f"no prediction: {wrong or unknown}")
        await self._recorder.note(kinds.PREDICTED, detail=predicted)

    async def hold(self) -> None:
        """The state of the set being read still holds."""
        await self._recorder.note(kinds.HELD)

    async def draft(self, text: str) -> None:
        """Keep what is half typed at the present prompt; empty text clears it."""
        if self.walk.prompt is not None and text != self.draft_text():
            await self._recorder.note(kinds.DRAFT, text)

    async def note(self, text: str) -> None:
        """A note of the person's for the sheet; blank text is none."""
        if text.strip():
            await self._recorder.note(kinds.NOTED, text)

    async def save(self) -> bool:
        """Try again to put on disk what is only in memory; whether all is on disk now."""
        await self._recorder.save()
        return self.unsaved == 0

    def _load(self, set_name: str | None) -> str:
        return self.flow.sets[set_name].load if set_name else ""

    def _load_before(self) -> str:
        """The load of the set that was begun last on the path, empty if none was."""
        begun = [step for step, _, item in self.walk.answered if item == ITEM_BEGIN]
        return self._load(self.flow.steps[begun[-1]].set) if begun else ""
