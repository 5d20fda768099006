"""A value of a facts file as one would type it at the screen, whatever units are shown there."""

from __future__ import annotations

from engine.job.entry import Entry


def as_typed(entry: Entry) -> str:
    """The text of the file, with the unit it was read in where it names none itself."""
    text = entry.text.strip()
    says_unit = any(letter.isalpha() or letter == "%" for letter in text)
    return text if says_unit or not entry.unit else f"{text} {entry.unit}"
