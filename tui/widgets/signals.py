"""Cautions as lines of text: signal word, sign and text, with colour only on top."""

from __future__ import annotations

from collections.abc import Iterable

from textual.content import Content

from engine.flow.model import Caution
from tui.plain import one_line, plain
from tui.widgets.lines import hanging

STOP_STYLE = "bold $danger-text on $danger"

_STYLES = {
    "DANGER": "$danger-text on $danger",
    "WARNING": "$warning-sign-text on $warning-sign",
    "CAUTION": "$caution-text on $caution",
    "NOTICE": "$notice-text on $notice",
}
# ANSI Z535.4: the safety alert symbol stands before DANGER, WARNING and CAUTION; NOTICE, about damage to
# things only, goes without. A plain exclamation mark keeps it findable.
_SIGNS = {"NOTICE": "!"}


def badge(signal: str) -> Content:
    """The signal word with its sign on its colour: ` ▲ WARNING `."""
    return Content.styled(f" {_SIGNS.get(signal, '▲')} {signal} ", f"bold {_STYLES.get(signal, 'reverse')}")


def caution_lines(cautions: Iterable[Caution], width: int) -> list[Content]:
    """Each caution in full, a blank line between two."""
    lines: list[Content] = []
    for caution in cautions:
        if lines:
            lines.append(Content(""))
        lines.append(badge(caution.signal))
        for part in plain(caution.text).splitlines():
            lines += hanging(Content(part), width, "┃ ", "┃ ")
        if caution.source:
            source = Content.styled(f"Source: {one_line(caution.source)}", "$quiet")
            lines += hanging(source, width, "┃ ", "┃ ")
    return lines


def caution_words(cautions: Iterable[Caution], width: int) -> list[Content]:
    """Cautions already read, as a reminder on few lines: the signal word and what it is about."""
    lines: list[Content] = []
    for caution in cautions:
        about = one_line(caution.id.replace("-", " ").replace("_", " "))
        head = badge(caution.signal)
        text = hanging(Content.styled(about, "bold"), max(width - head.cell_length - 1, 1))
        lines.append(Content.assemble(head, " ", text[0]))
        lines += [Content(" " * (head.cell_length + 1)) + line for line in text[1:]]
    return lines
