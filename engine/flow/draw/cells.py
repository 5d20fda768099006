"""How wide text is on a terminal, and wrapping it to a width."""

from __future__ import annotations

import unicodedata

LEAST = 8
"""Text is never wrapped narrower than this; what still does not fit is cut by whoever shows it."""


def cells(text: str) -> int:
    """Columns that `text` takes: two for wide letters, none for marks that sit on the letter before."""
    return len(text) if text.isascii() else sum(map(_cells, text))


def wrapped(text: str, width: int) -> list[str]:
    """`text` in lines of at most `width` columns (at least LEAST), broken at blanks where there are any.

    >>> wrapped("the load is raised", 10)
    ['the load', 'is raised']
    """
    width = max(width, LEAST)
    if cells(text) <= width:
        return [text]
    lines: list[str] = []
    line, used = "", 0
    for word in text.split():
        room = cells(word)
        if line and used + 1 + room <= width:
            line, used = f"{line} {word}", used + 1 + room
            continue
        if line:
            lines.append(line)
        *full, line = _pieces(word, width) if room > width else [word]
        lines += full
        used = cells(line)
    return [*lines, line] if line or not lines else lines


def clipped(text: str, width: int) -> str:
    """`text`, or as much of it as fits into `width` columns with an ellipsis."""
    if cells(text) <= width:
        return text
    return f"{_pieces(text, max(width - 1, 2))[0].rstrip()}…"


def _pieces(word: str, width: int) -> list[str]:
    pieces: list[str] = []
    piece: list[str] = []
    used = 0
    for letter in word:
        room = _cells(letter)
        if piece and used + room > width:
            pieces.append("".join(piece))
            piece, used = [], 0
        piece.append(letter)
        used += room
    return [*pieces, "".join(piece)]


def _cells(letter: str) -> int:
    if letter.isascii():
        return 1
    if unicodedata.combining(letter) or unicodedata.category(letter) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in ("W", "F") else 1
