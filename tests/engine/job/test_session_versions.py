"""A job reopened by another version goes on with its own flow, and keeps both conclusions."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from engine.flow.library import Source
from engine.flow.problem import FlowErrors
from engine.job.events import CONCLUDED
from engine.job.session import Session, opening
from engine.job.session.told import version_sentences
from engine.job.session.versions import Versions, present
from engine.job.store import Store, StoreDamaged, StoreError
from tests.engine.job.made_up import HEALTHY, MILD_DAY, Clock, Player

OTHER = Versions("9.9.9", "other tables", "other bands")


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path / "home") as opened:
        yield opened


async def finished(store: Store, source: Source = MILD_DAY) -> Player:
    clock = Clock()
    player = Player(await Session.start(store, source, clock=clock), clock, HEALTHY)
    await player.finish()
    return player


def execute(store: Store, statement: str, *values: object) -> None:
    with closing(sqlite3.connect(store.file, isolation_level=None)) as connection:
        connection.execute(statement, values)


async def test_a_job_goes_on_with_the_files_it_was_begun_with(store: Store, tmp_path: Path) -> None:
    own = tmp_path / "mild_day.yaml"
    shutil.copy(MILD_DAY.path, own)
    clock = Clock()
    player = Player(await Session.start(store, Source("own", own), clock=clock), clock, HEALTHY)
    own.write_text(own.read_text().replace("title: Look first", "title: Look twice"))
    again = await Session.resume(store, 1, clock=clock)
    assert again.walk.step is not None
    assert again.walk.step.title == "Look first"
    own.unlink()
    await Player(again, clock, HEALTHY).finish()
    assert again.flow.hash == player.session.flow.hash


async def test_the_same_version_has_nothing_to_tell(store: Store) -> None:
    await finished(store)
    assert (await Session.resume(store, 1)).notices == []


async def test_another_version_is_told_and_nothing_is_written(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    player = await finished(store)
    monkeypatch.setattr(opening, "present", lambda: OTHER)
    again = await Session.resume(store, 1, clock=player.clock)
    was = present()
    assert again.notices == [
        f"This job was begun with loadstep {was.program}, tables {was.tables}, bands {was.bands}; "
        "this is loadstep 9.9.9, tables other tables, bands other bands: computed values may differ."
    ]
    assert store.events(1) == player.session.events


async def test_a_conclusion_that_differs_now_stands_beside_the_first(store: Store) -> None:
    player = await finished(store)
    # As an older version might have concluded: the finding as it was told to the customer then.
    body = 'replace(body, \'"finding":"healthy","step"\', \'"finding":"weak","step"\')'
    execute(store, f"UPDATE events SET body = {body} WHERE kind = 'concluded'")
    again = await Session.resume(store, 1, clock=player.clock)
    assert again.notices == [
        "The finding was: It does not answer to load. With this version the same answers give: "
        "It answers to load. Both are kept."
    ]
    assert again.conclusion is not None
    assert again.conclusion.finding == "weak"
    assert again.walk.conclusion is not None
    assert again.walk.conclusion.finding == "healthy"
    assert [one.kind for one in store.events(1)].count(CONCLUDED) == 1


async def test_another_version_writes_no_conclusion_by_being_looked_at(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    player = await finished(store)
    execute(store, "DELETE FROM events WHERE kind IN ('concluded', 'finished')")
    monkeypatch.setattr(opening, "present", lambda: OTHER)
    kept = len(store.events(1))
    again = await Session.resume(store, 1, clock=player.clock)
    assert len(store.events(1)) == kept
    assert again.conclusion == again.walk.conclusion


def test_a_flow_revised_since_is_told(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    from engine.flow.index import FlowTitle
    from engine.job.session import told
    from tests.engine.job.store.helpers import new_job

    job = store.job(store.create_job(new_job(flow="stroke_by_load", revision=3)))
    versions = Versions(job.program_version, job.table_version, job.band_version)
    monkeypatch.setattr(told, "titles", lambda: [FlowTitle("stroke_by_load", "", 5, "")])
    assert version_sentences(job, versions) == [
        "The flow stroke_by_load is at revision 5 now; "
        "this job goes on with revision 3, which it was begun with."
    ]


async def test_kept_files_that_are_not_the_ones_of_the_job_are_refused(store: Store) -> None:
    await finished(store)
    execute(
        store, "UPDATE bundle_files SET content = CAST(replace(content, 'Look first', 'Look later') AS BLOB)"
    )
    with pytest.raises(StoreDamaged, match="are not those it was begun with"):
        await Session.resume(store, 1)


async def test_kept_files_that_this_version_cannot_read_are_told_as_the_flow_s_errors(store: Store) -> None:
    await finished(store)
    execute(
        store, "UPDATE bundle_files SET content = CAST(replace(content, 'format: 1', 'format: 7') AS BLOB)"
    )
    with pytest.raises(FlowErrors):
        await Session.resume(store, 1)


async def test_a_job_that_is_not_there_is_named(store: Store) -> None:
    with pytest.raises(StoreError, match="There is no job 7 here"):
        await Session.resume(store, 7)


async def test_a_bad_flow_begins_no_job(store: Store, tmp_path: Path) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("format: 1\nflow: bad\n")
    with pytest.raises(FlowErrors):
        await Session.start(store, Source("bad", bad))
    assert store.jobs() == []


async def test_a_later_visit_is_linked_to_the_job_it_verifies(store: Store) -> None:
    await finished(store)
    linked = await Session.start(store, MILD_DAY, after=1)
    assert store.job(linked.job).after == 1
    unlinked = await Session.start(store, MILD_DAY, after=0)  # a job the store never took
    assert store.job(unlinked.job).after is None
