"""Resuming a job of 500 events: the flow files kept with it, its events, and the walk they lead to."""

from __future__ import annotations

import asyncio
import tempfile
import time
from pathlib import Path

from engine.flow.library import MAIN_FLOW, find
from engine.flow.load import load_flow
from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE
from engine.job.session import Session
from engine.job.store import Store
from tests.bench.measure import Line

EVENTS = 500
ROUNDS = 5


def resume() -> Line:
    source = find(MAIN_FLOW)
    with tempfile.TemporaryDirectory() as home, Store.open(Path(home)) as store:
        job = asyncio.run(_long_job(store))
        spent, load = [], []
        for _ in range(ROUNDS):
            begun = time.perf_counter()
            asyncio.run(_resumed(store, job))
            resumed = time.perf_counter()
            load_flow(source)
            spent.append(resumed - begun)
            load.append(time.perf_counter() - resumed)
    what = f"resuming a job of {EVENTS} events"
    return Line(what, min(spent) * 1e3, "ms", min(load) * 1e3, "loading its flow", 300)


async def _long_job(store: Store) -> int:
    """A job in which nothing can be measured and much is typed and taken back, until it has enough events."""
    session = await Session.start(store, find(MAIN_FLOW))
    while len(session.events) < EVENTS:
        if session.walk.conclusion is not None or session.walk.prompt is None:
            await session.undo()
            await session.draft(f"half typed {len(session.events)}")
            continue
        await _pass(session)
    return session.job


async def _pass(session: Session) -> None:
    item = session.walk.prompt.item if session.walk.prompt else ""
    if item == ITEM_CAUTIONS:
        await session.acknowledge()
    elif item == ITEM_BEGIN:
        await session.begin_set()
    elif item == ITEM_SETTLE:
        await session.settle(True, 180.0)
    elif item == ITEM_DONE:
        await session.done()
    else:
        await session.cannot_measure()


async def _resumed(store: Store, job: int) -> None:
    session = await Session.resume(store, job)
    if len(session.events) < EVENTS:
        raise RuntimeError(f"job {job} has {len(session.events)} events")
