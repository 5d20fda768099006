"""Words and signs of a condition. A hyphen inside a word belongs to it; a minus stands between spaces."""

from __future__ import annotations

import re
from dataclasses import dataclass

from engine.flow.suggest import Hint, shown

_TOKEN = re.compile(r"\s*(?:(<=|>=|≤|≥|[<>()|])|([^\s<>=≤≥()|!&]+)|(\S{1,2}))")
_PLAIN = {"≤": "<=", "≥": ">="}
_MINUS = ("-", "\u2212")
_NUMBER = re.compile(r"[-+\u2212]?[.,]?[0-9]")
_STRAY_HINTS = {
    "=": "write 'NAME is WORD' for a choice, '<=' or '>=' for a number",
    "!": "write 'not NAME is WORD'",
    "&": "write 'and'",
}


class ConditionError(ValueError):
    """A condition that cannot be read. `offset` is the character it concerns, from 0.

    `secondary` marks one that comes only from another mistake elsewhere (a reading that is itself in error),
    `lacking` one that names what the flow does not have: no mistake in a part that serves other flows too.
    """

    def __init__(
        self,
        message: str,
        hint: Hint = "",
        offset: int = 0,
        *,
        secondary: bool = False,
        lacking: bool = False,
    ) -> None:
        super().__init__(message)
        self.message, self.offset, self.secondary, self.lacking = message, offset, secondary, lacking
        self._hint = hint

    @property
    def hint(self) -> str:
        """What to do about it, or nothing."""
        return self._hint if isinstance(self._hint, str) else self._hint()


@dataclass(frozen=True, slots=True)
class Token:
    """`kind` is `sign`, `word`, `number`, `minus` or `end`; `end` is the offset after it."""

    kind: str
    text: str
    start: int
    end: int


def tokens(text: str) -> list[Token]:
    """All tokens of a condition, the last of kind `end`. Raises ConditionError for a stray sign."""
    found: list[Token] = []
    spot, length = 0, len(text.rstrip())
    while spot < length:
        match = _TOKEN.match(text, spot)
        if match is None:  # only white space is left, which rstrip has taken away
            break
        sign, word, stray = match.groups()
        start, spot = match.start(match.lastindex or 0), match.end()
        if stray:
            raise ConditionError(f"{shown(stray)} has no meaning here", _STRAY_HINTS.get(stray[0], ""), start)
        found.append(Token("sign", _PLAIN.get(sign, sign), start, spot) if sign else _word(word, start, spot))
    found.append(Token("end", "", length, length))
    return found


def _word(word: str, start: int, end: int) -> Token:
    if word in _MINUS:
        return Token("minus", word, start, end)
    return Token("number" if _NUMBER.match(word) else "word", word, start, end)
