"""Text from flows, files and people, made safe to show: it cannot move the cursor or turn a line round."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.content import Content

# C0 and C1 controls except newline, the bidirectional marks, embeddings, overrides and isolates, line and
# paragraph separators, and the byte order mark.
_CONTROLS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]")
_ESCAPE_SEQUENCE = re.compile("\x1b(?:\\[[0-?]*[ -/]*[@-~]|\\][^\x07\x1b]*(?:\x07|\x1b\\\\)?|[@-Z\\\\^_])")


def plain(text: str) -> str:
    """`text` without escape sequences, control characters and bidirectional overrides; newlines stay."""
    return _CONTROLS.sub("", _ESCAPE_SEQUENCE.sub("", text).replace("\t", " "))


def one_line(text: str) -> str:
    """`plain` text on one line, runs of white space made one blank."""
    return " ".join(plain(text).split())


def literal(text: str, style: str = "") -> Content:
    """`plain` text as content that is never read as markup; `style` may name theme colours."""
    # Imported here, because commands that draw nothing use this module too and must not wait for Textual.
    from textual.content import Content

    return Content.styled(plain(text), style) if style else Content(plain(text))
