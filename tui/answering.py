"""What Enter and F2 mean at each prompt that nothing is typed at, as calls to the session."""

from __future__ import annotations

from datetime import datetime

from engine.flow.model import ITEM_BEGIN, ITEM_CAUTIONS, ITEM_DONE, ITEM_SETTLE
from engine.job.session import Session


class Refused(Exception):
    """The prompt cannot be answered like that; the text says why, as a sentence."""


async def accept(session: Session, now: datetime) -> None:
    """Cautions read, load set, settled, done. Raises Refused while the settle time still runs."""
    match _item(session):
        case str(item) if item == ITEM_CAUTIONS:
            await session.acknowledge()
        case str(item) if item == ITEM_BEGIN:
            await session.begin_set()
        case str(item) if item == ITEM_SETTLE:
            if session.settle_left(now) > 0:
                raise Refused("Not settled yet. F2 reads without waiting; the job notes it.")
            await _settle(session, now)
        case str(item) if item == ITEM_DONE:
            await session.done()


async def pass_over(session: Session, now: datetime) -> None:
    """Cannot measure, cannot do, cannot wait. Raises Refused where that would not be safe."""
    step, item = session.walk.step, _item(session)
    if item == ITEM_CAUTIONS or (item == ITEM_DONE and step is not None and step.end):
        raise Refused("This cannot be passed over. Press Enter when it is done.")
    if item in (ITEM_BEGIN, ITEM_DONE):
        await session.skip()
    elif item == ITEM_SETTLE:
        await _settle(session, now)
    elif item:
        await session.cannot_measure()


async def _settle(session: Session, now: datetime) -> None:
    step = session.walk.step
    total = (step.settle if step is not None else None) or 0.0
    left = session.settle_left(now)
    await session.settle(left <= 0, max(0.0, total - left))


def _item(session: Session) -> str:
    return session.walk.prompt.item if session.walk.prompt is not None else ""
