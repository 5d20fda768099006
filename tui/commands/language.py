"""The language that a person chooses on the command line."""

from __future__ import annotations

from engine.flow.words.language import LANGUAGE
from tui.commands.refusal import Refusal

OWN_LANGUAGE = "own"
"""What stands for each flow's own language."""


def chosen_language(given: str | None) -> str | None:
    """The language asked for, empty for each flow's own, None if none was asked for. Raises Refusal."""
    if given is None or given == OWN_LANGUAGE:
        return given and ""
    if not LANGUAGE.fullmatch(given):
        raise Refusal(
            f"{given[:40]!r} is no language; give a tag such as xx or xx-YY, "
            f"or '{OWN_LANGUAGE}' for each flow's own."
        )
    return given
