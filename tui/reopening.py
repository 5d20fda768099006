"""Reading a stored job again to look at it, with the flow files kept with it; nothing is written."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from engine.flow.library import NoSuchFlow, beside, find, in_places, shipped
from engine.flow.problem import FlowErrors
from engine.job.events import STARTED
from engine.job.session import Session
from engine.job.session.session import utc_now
from engine.job.store import Store, StoreError
from engine.job.walk import WalkError


class Unopened(Exception):
    """The job cannot be shown; the message is a sentence for the person."""


async def reopened(
    store: Store, job: int, clock: Callable[[], datetime] = utc_now, language: str = ""
) -> Session:
    """The session of a stored job. Raises Unopened."""
    try:
        return await Session.resume(store, job, clock, language)
    except FlowErrors as errors:
        first = errors.problems[0]
        raise Unopened(f"The flow kept with job {job} cannot be read by this version: {first}") from errors
    except (StoreError, WalkError, OSError, LookupError) as error:
        raise Unopened(f"Job {job} cannot be opened: {error}") from error


def verifying_flow(session: Session, data_folder: Path) -> str:
    """What the flow is called that verifies a repair after this job.

    It is looked for where the job's own flow came from, then among the shipped ones. Raises Unopened if it is
    not there, or if the job is older than that note and one cannot be told from another by the same name.
    """
    name = session.flow.verification or session.flow.name
    source = next((event.detail.get("source") for event in session.events if event.kind == STARTED), None)
    if source:
        for called in (beside(str(source), name), name):
            with suppress(NoSuchFlow):
                return find(called, data_folder).name
    same = [one.name for one in (*shipped(), *in_places(data_folder)) if one.path.stem == name]
    if len(same) == 1:
        return same[0]
    if same:
        names = ", ".join(same)
        raise Unopened(
            f"There is more than one flow {name} ({names}). Begin the one meant: loadstep walk NAME"
        )
    raise Unopened(
        f"The flow {name} is not among the shipped ones, your own or the shared ones. "
        f"Put it into {data_folder / 'flows'}, or begin it with: loadstep walk PATH"
    )
