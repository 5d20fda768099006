"""Amounts written in a flow: `3 min`, `1500 1/min`, `-15 to 160 psi`."""

from __future__ import annotations

from typing import Any

from engine.flow.assemble.sections import Entry
from engine.flow.model import Range
from engine.physics.quantity import Kind, QuantityError, parse, units_of


def amount(entry: Entry[Any], key: str, text: str | None, kind: Kind) -> float | None:
    """The SI value of `text`, which must name its unit; None (and a problem) where it cannot be read."""
    if text is None:
        return None
    try:
        parsed = parse(text, kind, units_of(kind)[0])
    except QuantityError as error:
        entry.wrong(f"'{key}': {error}", "", key)
        return None
    if text[-1] in "0123456789.,":
        entry.wrong(f"'{key}': '{text}' needs its unit", f"write {text} {units_of(kind)[0]}", key)
    elif parsed.si <= 0:
        entry.wrong(f"'{key}': must be more than zero", "", key)
    return parsed.si


def span(entry: Entry[Any], key: str, text: str | None, kind: Kind, unit: str) -> Range | None:
    """`LOW to HIGH UNIT` in SI; a bare number takes the unit of the other end, else `unit`."""
    if text is None:
        return None
    low_text, to, high_text = text.partition(" to ")
    if not to:
        entry.wrong(f"'{key}': '{text}' is no range", f"write it as 0 to 100 {unit}", key)
        return None
    try:
        high = parse(high_text, kind, unit)
        low = parse(low_text, kind, high.unit)
    except QuantityError as error:
        entry.wrong(f"'{key}': {error}", "", key)
        return None
    if low.si >= high.si:
        entry.wrong(f"'{key}': the range '{text}' is empty", "write the lower value first", key)
        return None
    return Range(low.si, high.si)
