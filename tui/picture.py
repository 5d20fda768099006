"""The picture in README.md, made by the app itself: in a checkout, `python -m tui.picture` writes it."""

from __future__ import annotations

import asyncio
import tempfile
from pathlib import Path

import flows
from engine.flow.library import MAIN_FLOW, find
from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE
from engine.job.replay.facts import read_facts
from engine.job.replay.file import read_replay
from engine.job.replay.walker import Given
from engine.job.session import Session
from engine.job.store import Store
from tui import themes
from tui.app import LoadstepApp

PICTURE = Path(__file__).parent / "screen.svg"
_FACTS = Path(flows.__file__).parent / "examples" / "commanded_but_weak.yaml"
_AT = ("raise-load", "vent_temperature")
"""Step and reading at which the picture is taken: the load was raised, two sets stand beside each other."""

_SIZE = (112, 34)


async def picture() -> str:
    """The walk screen in the middle of a made-up job, as SVG."""
    with tempfile.TemporaryDirectory() as folder, Store.open(Path(folder)) as store:
        job = await _half_a_job(store)
        app = LoadstepApp(store, job=job)
        app.theme = themes.DARK.name  # whatever the terminal of whoever makes it can show
        async with app.run_test(size=_SIZE) as pilot:
            await pilot.pause(1.0)
            return app.export_screenshot(title="loadstep")


async def _half_a_job(store: Store) -> int:
    session = await Session.start(store, find(MAIN_FLOW))
    given = read_facts(read_replay(str(_FACTS)), session.flow)
    while (prompt := session.walk.prompt) is not None and (prompt.step, prompt.item) != _AT:
        await _answer(session, prompt.item, given)
    return session.job


async def _answer(session: Session, item: str, given: Given) -> None:
    if item == ITEM_CAUTIONS:
        await session.acknowledge()
    elif item == ITEM_BEGIN:
        await session.begin_set()
    elif item == ITEM_SETTLE:
        await session.settle(True, 180.0)
    elif item == ITEM_DONE:
        await session.done()
    elif (entry := given.entries.get(session.walk.full_name(item))) is not None:
        await session.answer(entry.text, entry.unit)
    else:
        await session.cannot_measure()


def main() -> None:
    """Write the picture."""
    PICTURE.write_text(asyncio.run(picture()), encoding="utf-8")


if __name__ == "__main__":
    main()
