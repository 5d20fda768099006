"""Reading a stored job again to look at it, with the flow files kept with it; nothing is written."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from engine.flow.library import OWN, own, shipped
from engine.flow.problem import FlowErrors
from engine.job.session import Session
from engine.job.session.session import utc_now
from engine.job.store import Store, StoreError
from engine.job.walk import WalkError


class Unopened(Exception):
    """The job cannot be shown; the message is a sentence for the person."""


async def reopened(store: Store, job: int, clock: Callable[[], datetime] = utc_now) -> Session:
    """The session of a stored job. Raises Unopened."""
    try:
        return await Session.resume(store, job, clock)
    except FlowErrors as errors:
        first = errors.problems[0]
        raise Unopened(f"The flow kept with job {job} cannot be read by this version: {first}") from errors
    except (StoreError, WalkError, OSError, LookupError) as error:
        raise Unopened(f"Job {job} cannot be opened: {error}") from error


def verifying_flow(session: Session, data_folder: Path) -> str:
    """What the flow is called that verifies a repair after this job: shipped, or one of the person's own.

    Raises Unopened if it is neither: a flow from elsewhere has to be named by its path.
    """
    name = session.flow.verification or session.flow.name
    if name in (source.name for source in shipped()):
        return name
    if OWN + name in (source.name for source in own(data_folder)):
        return OWN + name
    raise Unopened(
        f"The flow {name} is not among the shipped ones or your own. "
        f"Put it into {data_folder / 'flows'}, or begin it with: loadstep walk PATH"
    )
