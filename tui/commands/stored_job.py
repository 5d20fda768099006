"""A stored job as a command reads it: its number, and the store with what it has to say."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from engine.flow.problem import FlowErrors
from engine.job.store import Store, StoreError
from engine.job.walk import WalkError
from tui.commands.output import complain
from tui.commands.refusal import Refusal

_HIGHEST = 2**63 - 1  # what the store can count to


def job_number(text: str) -> int:
    """A job's number as a person types it; what cannot be one is told before the store is opened."""
    if text.isascii() and text.isdigit() and len(text) < 100 and 0 < int(text) <= _HIGHEST:
        return int(text)
    raise Refusal(f"there is no job {text[:40]!r}; `loadstep jobs` lists their numbers.")


@contextmanager
def store_to_read(job: int) -> Iterator[Store]:
    """The store, for reading `job` with its flow in the block; what goes wrong there is a Refusal."""
    with Store.open() as store:
        for notice in store.notices:
            complain(f"loadstep: {notice}")
        try:
            yield store
        except (StoreError, WalkError) as error:
            raise Refusal(str(error)) from None
        except FlowErrors as errors:
            first = errors.problems[0]
            raise Refusal(f"the flow kept with job {job} cannot be read by this version: {first}") from None
