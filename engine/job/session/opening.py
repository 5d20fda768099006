"""Beginning a job and going on with one: the flow, its files, the versions, the events so far."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING

from engine.flow.bundle import Bundle
from engine.flow.library import Source, lasting_name
from engine.flow.load import load_bundle, load_kept
from engine.flow.model import Flow
from engine.job.begun_with import EVERY_STEP, as_walked
from engine.job.draft.carry import fitting
from engine.job.events import STARTED, Event
from engine.job.session.journal import Journal
from engine.job.session.outcome import missing_outcomes, stored_conclusion
from engine.job.session.recorder import Clock, Recorder
from engine.job.session.told import conclusion_sentence, language_sentences, version_sentences
from engine.job.session.versions import Versions, present
from engine.job.store import NewJob, Store, StoreDamaged, StoredBundle
from engine.job.walk import begin

if TYPE_CHECKING:
    from engine.job.draft.opening import OpenDraft


async def begin_job(
    store: Store,
    source: Source,
    *,
    learner: bool,
    after: int | None,
    vehicle: str,
    clock: Clock,
    language: str,
) -> Recorder:
    """Load the flow, store the job with its files, and stand at the first prompt.

    A learner is taught the whole order: no step of it is passed over for want of candidates.
    """
    flow, bundle = load_kept(source, language)
    # 0 is a job the store never took
    new = replace(_job(flow, bundle, clock()), after=after or None, vehicle=vehicle, learner=learner)
    journal = Journal(store, new)
    await journal.append(_started(flow, new, present(), lasting_name(source)))
    walked = as_walked(flow, journal.events)
    recorder = await _complete(Recorder(journal, begin(walked), present(), clock))
    recorder.told = language_sentences(flow, language)
    return recorder


async def begin_draft(store: Store, draft: OpenDraft, events: Iterable[Event], clock: Clock) -> Recorder:
    """A job of a draft in a store that is not kept, standing where `events` of an earlier draft lead it."""
    new = _job(draft.flow, draft.bundle, clock())
    journal = Journal(store, new)
    for event in (_started(draft.flow, new, present()), *fitting(events, draft.flow)):
        await journal.append(event)
    return await _complete(Recorder(journal, draft.first, present(), clock))


def _job(flow: Flow, bundle: Bundle, now: datetime) -> NewJob:
    versions = present()
    return NewJob(
        flow=flow.name,
        title=flow.title,
        revision=flow.revision,
        bundle=StoredBundle(bundle.hash, bundle.main, bundle.files),
        program_version=versions.program,
        table_version=versions.tables,
        band_version=versions.bands,
        created=now,
    )


async def reopen_job(store: Store, job: int, clock: Clock, language: str) -> tuple[Recorder, bool]:
    """A stored job where it was left, and whether it is a learner's."""
    record, kept, events = store.job(job), store.bundle(job), store.events(job)
    flow = as_walked(load_bundle(kept.files, kept.main, language), events)
    if flow.hash != record.flow_hash:
        raise StoreDamaged(f"The flow files kept with job {job} are not those it was begun with.")
    versions = present()
    recorder = Recorder(Journal(store, job=job, events=events), begin(flow), versions, clock)
    told = [
        *version_sentences(record, versions),
        conclusion_sentence(stored_conclusion(events), recorder.walk),
        *language_sentences(flow, language),
    ]
    recorder.told = tuple(sentence for sentence in told if sentence)
    then = Versions(record.program_version, record.table_version, record.band_version)
    if then == versions:  # another version might conclude otherwise, and nobody has answered anything yet
        await _complete(recorder)
    return recorder, record.learner


async def _complete(recorder: Recorder) -> Recorder:
    journal = recorder.journal
    for event in missing_outcomes(recorder.walk, journal.events, recorder.clock(), recorder.versions):
        await journal.append(event)
    return recorder


def _started(flow: Flow, new: NewJob, versions: Versions, source: str = "") -> Event:
    detail = {
        "title": new.title,
        "revision": new.revision,
        "flow_hash": new.bundle.hash,
        "source": source,
        "versions": versions.plain(),
        "after": new.after,
        "vehicle": new.vehicle,
        "learner": new.learner,
        EVERY_STEP: new.learner,
    }
    return Event(STARTED, new.created, flow.name, detail=detail)
