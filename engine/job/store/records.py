"""What the store takes and gives besides events. Plain data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

OPEN, CONCLUDED, FINISHED = "open", "concluded", "finished"
"""Status of a job: still asking, concluded with closing steps left, done."""


@dataclass(frozen=True, slots=True)
class StoredBundle:
    """The flow files a job walks, as they were when it began, named by `hash`; `main` is the flow's own."""

    hash: str
    main: str
    files: Mapping[str, bytes]


@dataclass(frozen=True, slots=True)
class NewJob:
    """A job about to begin. `after` is the job this one verifies; `vehicle` is the person's own note."""

    flow: str
    title: str
    revision: int
    bundle: StoredBundle
    program_version: str
    table_version: str
    band_version: str
    created: datetime
    after: int | None = None
    vehicle: str = ""
    learner: bool = False


@dataclass(frozen=True, slots=True)
class Job:
    """A stored job without its events. `flow_hash` names its bundle; times are aware UTC."""

    id: int
    flow: str
    title: str
    revision: int
    flow_hash: str
    program_version: str
    table_version: str
    band_version: str
    created: datetime
    after: int | None
    vehicle: str
    learner: bool
    last: datetime
    status: str
    finding: str | None
    steps: int


@dataclass(frozen=True, slots=True)
class JobSummary:
    """One line of the list of jobs. `last`: time of the newest event; `steps`: step visits answered."""

    id: int
    title: str
    flow: str
    created: datetime
    last: datetime
    status: str
    finding: str | None
    vehicle: str
    steps: int
