"""The list of words that a class does not want to read in its flows: one word or phrase a line."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from engine.flow.suggest import reason

FILE = "lint-words.txt"
"""Name of the list in the user's data folder."""

LARGEST = 100_000
MOST = 2000
LONGEST = 100

_WORD = re.compile(r"\w+")


class WordsError(ValueError):
    """The list cannot be used; the message is a sentence."""


class Unwanted:
    """Finds the words of a list in texts, as whole words whatever their capitals, by their first letters."""

    def __init__(self, words: Iterable[str]) -> None:
        by_first: dict[str, list[str]] = {}
        for word in sorted(words, key=len, reverse=True):
            first = _WORD.search(word)
            if first is not None:
                by_first.setdefault(first[0].lower(), []).append(word)
        self._by_first = {
            first: re.compile("|".join(rf"{_spaced(word)}(?!\w)" for word in those), re.IGNORECASE)
            for first, those in by_first.items()
        }

    def found(self, text: str) -> Iterator[str]:
        """Each unwanted word as it stands in the text, in order."""
        end = 0
        for start in _WORD.finditer(text):
            those = self._by_first.get(start[0].lower())
            match = those.match(text, start.start()) if those is not None and start.start() >= end else None
            if match is not None:
                end = match.end()
                yield match[0]


def _spaced(word: str) -> str:
    """A pattern for the word from its first letter on, any white space within it."""
    first = _WORD.search(word)
    parts = word[first.start() if first else 0 :].split()
    return r"\s+".join(re.escape(part) for part in parts)


def read_words(path: Path) -> tuple[str, ...]:
    """The words in a file; empty lines and what follows a `#` count for nothing. Raises WordsError."""
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        raise WordsError(
            f"The list of words {path} cannot be read ({reason(error)}); check the path."
        ) from None
    if len(data) > LARGEST:
        raise WordsError(f"The list of words {path} has more than {LARGEST // 1000} kB; shorten it.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise WordsError(f"The list of words {path} is not UTF-8 text; save it as UTF-8.") from None
    return _words(text, path)


def _words(text: str, path: Path) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for number, line in enumerate(text.splitlines(), 1):
        word = " ".join(line.partition("#")[0].split())
        if len(word) > LONGEST:
            raise WordsError(f"Line {number} of {path} is longer than {LONGEST} characters; one word a line.")
        if word:
            found[word] = None
    if len(found) > MOST:
        raise WordsError(f"The list of words {path} has more than {MOST} words; shorten it.")
    return tuple(found)
