"""How computed readings look typed ones up; None stays None."""

from __future__ import annotations

from engine.flow.model import Facts

SET_LOAD, SET_SPEED = "(load)", "(speed)"
"""What the flow declares for a set, as facts: `loaded.(load)`. No condition can name these."""


def number(facts: Facts, name: str) -> float | None:
    """The SI value of a quantity, or None if unknown."""
    value = facts.get(name)
    return float(value) if isinstance(value, (int, float)) else None


def word(facts: Facts, name: str) -> str | None:
    """The word of a choice, or None if unknown."""
    value = facts.get(name)
    return value if isinstance(value, str) else None


def words(facts: Facts, name: str) -> frozenset[str] | None:
    """The words of a choice of several, or None if unknown."""
    value = facts.get(name)
    return value if isinstance(value, frozenset) else None


def difference(facts: Facts, first: str, second: str) -> float | None:
    """First less second; None if either is unknown."""
    one, other = number(facts, first), number(facts, second)
    return None if one is None or other is None else one - other
