"""A learner's job passes no step over, and goes on so when it is taken up again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from engine.flow.library import find
from engine.flow.load import load_bundle
from engine.flow.model import Flow
from engine.job.begun_with import EVERY_STEP, as_walked
from engine.job.events import STARTED
from engine.job.session import Session
from engine.job.store import Store
from tests.engine.job.made_up import Clock


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path) as opened:
        yield opened


def kept_flow(store: Store) -> Flow:
    kept = store.bundle(1)
    return load_bundle(kept.files, kept.main)


def gated(flow: Flow) -> set[str]:
    return {name for name, step in flow.steps.items() if step.for_}


@pytest.mark.parametrize("learner", [True, False])
async def test_every_step_is_asked_of_a_learner_only(store: Store, learner: bool) -> None:
    begun = await Session.start(store, find("stroke_by_load"), learner=learner, clock=Clock())
    again = await Session.resume(store, 1)
    for session in (begun, again):
        assert bool(gated(session.walk.flow)) is not learner
    assert bool(gated(as_walked(kept_flow(store), store.events(1)))) is not learner


async def test_a_job_begun_before_that_was_so_goes_on_as_it_was(store: Store) -> None:
    await Session.start(store, find("stroke_by_load"), learner=True, clock=Clock())
    events = store.events(1)
    old = {key: value for key, value in events[0].detail.items() if key != EVERY_STEP}
    assert events[0].kind == STARTED
    assert gated(as_walked(kept_flow(store), [replace(events[0], detail=old), *events[1:]]))
