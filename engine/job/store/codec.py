"""Events to rows and back. Times are written as UTC text that sorts; the rest of an event as JSON."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any

from engine.job.events import Event
from engine.job.store.errors import StoreDamaged

Row = tuple[Any, ...]

COLUMNS = "format, kind, at, step, visit, item, body"
"""The columns of an event, in the order of `encode` and `decode`."""


def write_time(at: datetime) -> str:
    """Aware time -> `2026-11-25T09:00:00.000000+00:00`, always the same width."""
    if at.tzinfo is None:
        raise ValueError("a time in a job must carry its time zone")
    return at.astimezone(UTC).isoformat(timespec="microseconds")


def read_time(text: str) -> datetime:
    """What `write_time` wrote; StoreDamaged if it is anything else."""
    try:
        return datetime.fromisoformat(text)
    except (TypeError, ValueError) as error:
        raise StoreDamaged(f"The store holds a time that cannot be read: {text!r}.") from error


def encode(event: Event) -> Row:
    """The row of an event. NaN and infinity are refused (ValueError): no reading can hold them."""
    body = {
        "flow": event.flow,
        "text": event.text,
        "unit": event.unit,
        "value": event.value,
        "detail": event.detail,
    }
    # ASCII JSON carries even text that is no valid Unicode (a lone surrogate from a paste).
    written = json.dumps(body, allow_nan=False, separators=(",", ":"))
    return (event.format, event.kind, write_time(event.at), event.step, event.visit, event.item, written)


def decode(row: Row) -> Event:
    """The event of a row; StoreDamaged if the row cannot be read."""
    format_, kind, at, step, visit, item, body = row
    try:
        rest = json.loads(body)
        value = tuple(rest["value"]) if isinstance(rest["value"], list) else rest["value"]
        return Event(
            kind=kind,
            at=read_time(at),
            flow=rest["flow"],
            step=step,
            visit=visit,
            item=item,
            text=rest["text"],
            unit=rest["unit"],
            value=value,
            detail=rest["detail"],
            format=format_,
        )
    except (TypeError, KeyError, ValueError) as error:
        raise StoreDamaged(f"The store holds an event that cannot be read ({error!r}).") from error
