"""Text from flows, files and people, made safe to show: it cannot move the cursor or turn a line round."""

from __future__ import annotations

import re

# C0 and C1 controls except newline, the bidirectional marks, embeddings, overrides and isolates, line and
# paragraph separators, the byte order mark, and lone surrogates, which no encoding can write.
_CONTROLS = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ud800-\udfff]"
)
_ESCAPE_SEQUENCE = re.compile("\x1b(?:\\[[0-?]*[ -/]*[@-~]|\\][^\x07\x1b]*(?:\x07|\x1b\\\\)?|[@-Z\\\\^_])")


def plain(text: str) -> str:
    """`text` without escape sequences, control characters and bidirectional overrides; newlines stay."""
    if text.isprintable():  # nearly all texts, and far quicker than looking for what has to go
        return text
    return _CONTROLS.sub("", _ESCAPE_SEQUENCE.sub("", text).replace("\t", " "))


def one_line(text: str) -> str:
    """`plain` text on one line, runs of white space made one blank."""
    return " ".join(plain(text).split())
