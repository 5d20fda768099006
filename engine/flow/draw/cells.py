"""How wide text is on a terminal, and wrapping text to a width."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable
from functools import lru_cache

Measure = Callable[[str], float]
"""How wide a text is; the width of a text is that of its letters together."""

Piece = tuple[str, str]
"""A text with a tag that says what it is."""

JOINT = " · "

_ODD = re.compile("[^\x20-\x7e\xa0-\xac\xae-\u02ff\u2010-\u2027\u2190-\u2319\u2500-\u25fc]")
"""Letters that may take other than one column; those that drawings are made of do not."""

LEAST = 8
"""Text is never wrapped to fewer columns; what still does not fit is cut by whoever shows it."""


def cells(text: str) -> int:
    """Columns that `text` takes: two for wide letters, none for marks that sit on the letter before."""
    return sum(map(_cells, text)) if _ODD.search(text) else len(text)


def wrapped(text: str, width: int) -> list[str]:
    """`text` in lines of at most `width` columns (at least LEAST), broken at blanks where there are any.

    >>> wrapped("the load is raised", 10)
    ['the load', 'is raised']
    """
    return wrapped_by(cells, text, max(width, LEAST))


def wrapped_by(measure: Measure, text: str, width: float) -> list[str]:
    """`text` in lines no wider than `width` by `measure`; a word that is wider by itself is broken."""
    if measure(text) <= width:
        return [text]
    blank = measure(" ")
    lines: list[str] = []
    line, used = "", 0.0
    for word in text.split():
        room = measure(word)
        if line and used + blank + room <= width:
            line, used = f"{line} {word}", used + blank + room
            continue
        if line:
            lines.append(line)
        *full, line = _pieces(measure, word, width) if room > width else [word]
        lines += full
        used = measure(line)
    return [*lines, line]


def packed(pieces: Iterable[Piece], width: float, measure: Measure) -> list[list[Piece]]:
    """Short texts one after the other with JOINT between, as many on a line as fit; the tag goes along."""
    joint = measure(JOINT)
    lines: list[list[Piece]] = []
    used = 0.0
    for text, tag in pieces:
        for part in wrapped_by(measure, text, width):
            room = measure(part)
            if lines and used + joint + room <= width:
                lines[-1] += [(JOINT, ""), (part, tag)]
                used += joint + room
            else:
                lines.append([(part, tag)])
                used = room
    return lines


def clipped(text: str, width: int) -> str:
    """`text`, or as much of it as fits into `width` columns with an ellipsis."""
    if len(text) * 2 <= width or cells(text) <= width:
        return text
    return f"{_pieces(cells, text, max(width - 1, 2))[0].rstrip()}…"


def _pieces(measure: Measure, word: str, width: float) -> list[str]:
    """`word` cut to pieces of `width`, each of one letter at least."""
    pieces: list[str] = []
    piece: list[str] = []
    used = 0.0
    for letter in word:
        room = measure(letter)
        if piece and used + room > width:
            pieces.append("".join(piece))
            piece, used = [], 0.0
        piece.append(letter)
        used += room
    return [*pieces, "".join(piece)]


@lru_cache(maxsize=4096)
def _cells(letter: str) -> int:
    if unicodedata.category(letter) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in ("W", "F") else 1
