"""Reading a stored job again to look at it, with the flow files kept with it; nothing is written."""

from __future__ import annotations

from engine.flow.problem import FlowErrors
from engine.job.session import Session
from engine.job.store import Store, StoreError
from engine.job.walk import WalkError


class Unopened(Exception):
    """The job cannot be shown; the message is a sentence for the person."""


async def reopened(store: Store, job: int) -> Session:
    """The session of a stored job. Raises Unopened."""
    try:
        return await Session.resume(store, job)
    except FlowErrors as errors:
        first = errors.problems[0]
        raise Unopened(f"The flow kept with job {job} cannot be read by this version: {first}") from errors
    except (StoreError, WalkError, OSError, LookupError) as error:
        raise Unopened(f"Job {job} cannot be opened: {error}") from error
