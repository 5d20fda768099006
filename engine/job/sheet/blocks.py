"""What a sheet is made of. Every text is plain text: whoever draws it has to escape it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph. `strong` is what must not be overlooked."""

    text: str
    strong: bool = False
    is_text = True


@dataclass(frozen=True, slots=True)
class Lines:
    """Labels with what stands beside each."""

    lines: tuple[tuple[str, str], ...]
    is_lines = True


@dataclass(frozen=True, slots=True)
class Bullets:
    """A list, with a title of its own or without (empty). `short` items may stand in columns."""

    title: str
    items: tuple[str, ...]
    short: bool = False
    is_bullets = True


@dataclass(frozen=True, slots=True)
class Table:
    """A table; the first cell of each row names the row."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    is_table = True


@dataclass(frozen=True, slots=True)
class Blanks:
    """Lines to be filled in by hand."""

    labels: tuple[str, ...]
    is_blanks = True


Block = Text | Lines | Bullets | Table | Blanks


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with what belongs to it."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A job sheet: its title, a line below it, and its sections in order."""

    title: str
    below: str
    sections: tuple[Section, ...]
