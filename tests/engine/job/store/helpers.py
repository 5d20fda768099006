"""Jobs and events of a scenario we made up, and running a child program against a store."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

from engine.job.events import ANSWERED, Event
from engine.job.store import NewJob, StoredBundle

ROOT = Path(__file__).parents[4]
START = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)
BUNDLE = StoredBundle(
    "a1" * 32, "mild_day.yaml", {"mild_day.yaml": b"format: 1\n", "parts/x.yaml": b"\x00\xff"}
)


def new_job(**changes: object) -> NewJob:
    values: dict[str, object] = {
        "flow": "mild_day",
        "title": "A mild day",
        "revision": 3,
        "bundle": BUNDLE,
        "program_version": "0.1.0",
        "table_version": "t1",
        "band_version": "b1",
        "created": START,
        "vehicle": "blue estate, bay 2",
    }
    return NewJob(**{**values, **changes})  # type: ignore[arg-type]


def event(second: int = 0, kind: str = ANSWERED, **changes: object) -> Event:
    values: dict[str, object] = {
        "kind": kind,
        "at": START + timedelta(seconds=second),
        "flow": "mild_day",
        "step": "look",
        "item": "low_side",
        "text": "41 psi",
        "unit": "psi",
        "value": 282685.0,
    }
    return Event(**{**values, **changes})  # type: ignore[arg-type]


def child(*arguments: str, wrapped: tuple[str, ...] = ()) -> subprocess.Popen[str]:
    """Start `tests/engine/job/store/child.py` with these arguments; it speaks on stdout, a line a fact."""
    command = [*wrapped, sys.executable, "-m", "tests.engine.job.store.child", *arguments]
    # One pipe only: with two, `communicate` would leave out what `readline` has read ahead.
    return subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True)
