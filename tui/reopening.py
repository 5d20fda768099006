"""Reading a stored job again to look at it, with the flow files kept with it; nothing is written."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from engine.flow.bundle import ENDING
from engine.flow.library import in_places, shipped
from engine.flow.problem import FlowErrors
from engine.flow.whole import SHIPPED
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
    """What the flow is called that verifies a repair after this job: shipped, your own, or a shared one.

    Raises Unopened if there is none, or if one cannot be told from another by the same name.
    """
    name = session.flow.verification or session.flow.name
    same = [source for source in (*shipped(), *in_places(data_folder)) if source.path.stem == name]
    if len(same) > 1 and session.flow.verification is None:  # it was begun with one of these
        kept = session.store.bundle(session.job).files
        bytes_kept = {kept.get(f"{prefix}{name}{ENDING}") for prefix in ("", SHIPPED)}
        same = [source for source in same if source.path.read_bytes() in bytes_kept] or same
    if len(same) == 1:
        return same[0].name
    if same:
        names = ", ".join(source.name for source in same)
        raise Unopened(
            f"There is more than one flow {name} ({names}). Begin the one meant: loadstep walk NAME"
        )
    raise Unopened(
        f"The flow {name} is not among the shipped ones, your own or the shared ones. "
        f"Put it into {data_folder / 'flows'}, or begin it with: loadstep walk PATH"
    )
