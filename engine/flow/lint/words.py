"""The list of words that a class does not want to read in its flows: one word or phrase a line."""

from __future__ import annotations

from pathlib import Path

FILE = "lint-words.txt"
"""Name of the list in the user's data folder."""

LARGEST = 100_000
MOST = 2000
LONGEST = 100


class WordsError(ValueError):
    """The list cannot be used; the message is a sentence."""


def read_words(path: Path) -> tuple[str, ...]:
    """The words in a file; empty lines and what follows a `#` count for nothing. Raises WordsError."""
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise WordsError(f"The list of words {path} cannot be read ({reason}); check the path.") from None
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
