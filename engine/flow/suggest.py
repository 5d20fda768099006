"""Words for messages: the nearest known word or the list of them, words quoted, counts, and reasons."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from difflib import get_close_matches
from itertools import islice

Hint = str | Callable[[], str]
"""A hint, or how to find it: looking for near words is slow, so it is done for those shown only."""

_SHORT_LIST = 8
_MOST_COMPARED = 500
_LONGEST_SHOWN = 40


def did_you_mean(word: str, options: Iterable[str]) -> str:
    """`did you mean 'low_side'?`, or all options where they are few, or nothing.

    >>> did_you_mean("lowside", ["low_side", "high_side"])
    "did you mean 'low_side'?"
    """
    known = list(dict.fromkeys(options))
    near = nearest(word, known)
    if near is not None:
        return f"did you mean '{near}'?"
    if 0 < len(known) <= _SHORT_LIST:
        return f"use {listed(known)}"
    return ""


def nearest(word: str, options: Iterable[str]) -> str | None:
    """The option that is spelt most like `word`, capitals aside, or None if none is close."""
    short = word[:_LONGEST_SHOWN].lower()
    low, high = 0.4 * len(short), 2.4 * len(short)  # beyond, no two words are alike by 0.6
    alike = (option for option in options if low <= len(option) <= high)
    by_small = {option.lower(): option for option in islice(alike, _MOST_COMPARED)}
    close = get_close_matches(short, by_small, n=1, cutoff=0.6)
    return by_small[close[0]] if close else None


def listed(words: Iterable[str], joint: str = "or") -> str:
    """`a, b or c`."""
    every = list(words)
    return every[0] if len(every) == 1 else f"{', '.join(every[:-1])} {joint} {every[-1]}"


def shown(text: str) -> str:
    """A word from a file, quoted and cut so that it cannot flood a message.

    >>> shown("low_side")
    "'low_side'"
    """
    clean = "".join(c if c.isprintable() else "?" for c in text[: _LONGEST_SHOWN + 1])
    return f"'{clean[:_LONGEST_SHOWN]}…'" if len(text) > _LONGEST_SHOWN else f"'{clean}'"


def counted(number: int, word: str) -> str:
    """`1 step`, `2 steps`."""
    return f"{number:,} {word}" + ("" if number == 1 else "s")


def reason(error: Exception) -> str:
    """Why a file could not be read or written, in the system's words where it has some."""
    return getattr(error, "strerror", None) or str(error)
