"""One whole walk in the app, key by key: `python -m tests.bench.walk FILE` prints times and memory as JSON.

Run as a process of its own, so that the memory is that of the app and of nothing else.
"""

from __future__ import annotations

import asyncio
import json
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from textual.events import Key
from textual.pilot import Pilot

from engine.flow.library import MAIN_FLOW
from engine.flow.model import ITEM_SETTLE
from engine.job.replay.facts import read_facts
from engine.job.replay.file import read_replay
from engine.job.replay.walker import Given
from engine.job.session import Session
from engine.job.store import Store
from engine.job.walk import Walk
from tui.app import LoadstepApp
from tui.pauses import spare_pauses
from tui.screens.walk import WalkScreen
from tui.units import Units
from tui.widgets.walk_view import WalkView

SIZE = (100, 30)
BETWEEN = 0.03  # s between two keys: nobody presses faster, and what is left to draw is not the next key's
LONGEST_WAIT = 0.5  # s; an Enter after which the walk stays was for a page of cautions, a doubt or a dialog
STEP = 0.0005  # s between two looks whether the walk moved


@dataclass
class Times:
    """Seconds from a key to what it leads to being painted; an answer is on disk by then."""

    answers: list[float] = field(default_factory=list)  # the step that is asked next
    beside: list[float] = field(default_factory=list)  # board and trail too, which follow a frame later
    keys: list[float] = field(default_factory=list)


async def walk(file: str) -> tuple[Times, int]:
    """The times of the walk, and how many events it left on disk."""
    times = Times()
    spare_pauses()
    with Store.open() as store:
        app = LoadstepApp(store, flow=MAIN_FLOW)
        async with app.run_test(size=SIZE) as pilot:
            session = await _session(app, pilot)
            given = read_facts(read_replay(file), session.flow)
            while session.walk.prompt is not None:
                await _answer(app, session, given, times)
            job = session.job
            await pilot.pause(0.3)  # what says that the job is finished comes up now
        return times, len(store.events(job))


async def _session(app: LoadstepApp, pilot: Pilot[Any]) -> Session:
    while not (isinstance(app.screen, WalkScreen) and app.session is not None):
        await pilot.pause(0.02)
    await pilot.pause(0.2)
    return app.session


async def _answer(app: LoadstepApp, session: Session, given: Given, times: Times) -> None:
    """Everything a person presses at the present prompt; dialogs on the way are left by Enter."""
    if not isinstance(app.screen, WalkScreen):
        app.post_message(Key("enter", None))
        await asyncio.sleep(0.1)
        return
    prompt = session.walk.prompt
    assert prompt is not None
    key = "enter"
    if session.walk.reading is not None:
        entry = given.entries.get(session.walk.full_name(prompt.item))
        if entry is None:
            key = "f2"
        else:
            for letter in f"{entry.text} {entry.unit}" if entry.text.isdecimal() else entry.text:
                times.keys.append(await _press(app, letter, letter))
    elif prompt.item == ITEM_SETTLE:
        key = "f2"
    for _ in range(5):  # pages of cautions to read, an implausible value to confirm
        spent = await _press_until_moved(app, session, key)
        if spent is not None:
            times.answers.append(spent[0])
            times.beside.append(spent[1])
            return
        if not isinstance(app.screen, WalkScreen):
            return
    raise RuntimeError(f"{key} at {prompt} leads nowhere")


async def _press(app: LoadstepApp, key: str, character: str | None = None) -> float:
    await asyncio.sleep(BETWEEN)
    begun = time.perf_counter()
    app.post_message(Key({" ": "space"}.get(key, key), character))
    await _painted(app)
    return time.perf_counter() - begun


async def _press_until_moved(app: LoadstepApp, session: Session, key: str) -> tuple[float, float] | None:
    """Seconds until the next step is painted, and until board and trail are too; None if the walk stays."""
    await asyncio.sleep(BETWEEN)
    painted = _step_painted(app)
    before, begun = session.walk, time.perf_counter()
    app.post_message(Key(key, None))
    while session.walk is before:
        if time.perf_counter() - begun > LONGEST_WAIT or not isinstance(app.screen, WalkScreen):
            return None
        await asyncio.sleep(STEP)
    step_at = await painted
    await _painted(app)
    return step_at - begun, time.perf_counter() - begun


def _step_painted(app: LoadstepApp) -> asyncio.Future[float]:
    """When the step that is asked next has been painted: the view then turns to what stands beside it."""
    view = app.screen.query_one(WalkView)
    painted: asyncio.Future[float] = asyncio.get_running_loop().create_future()
    show_beside = WalkView.show_beside

    def told(walk: Walk, units: Units) -> None:
        if not painted.done():
            painted.set_result(time.perf_counter())
        show_beside(view, walk, units)

    view.show_beside = told  # type: ignore[method-assign]
    return painted


async def _painted(app: LoadstepApp) -> None:
    """Wait until all that is in the queue was done and drawn."""
    done = asyncio.Event()
    app.call_later(lambda: app.screen.call_after_refresh(done.set))
    await done.wait()


def memory() -> float:
    """Resident memory of this process in MiB."""
    for line in Path("/proc/self/status").read_text(encoding="ascii").splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1024
    raise RuntimeError("this system does not tell a process's memory in /proc")


def main() -> None:
    times, events = asyncio.run(walk(sys.argv[1]))
    print(
        json.dumps(
            {
                "answers": times.answers,
                "beside": times.beside,
                "keys": times.keys,
                "events": events,
                "memory": memory(),
            }
        )
    )


if __name__ == "__main__":
    main()
