"""A sheet as Markdown (CommonMark with tables), every text in it escaped."""

from __future__ import annotations

import re
from collections.abc import Iterator

from engine.job.sheet.blocks import Blanks, Block, Bullets, Lines, Sheet, Table, Text

_ALWAYS = re.compile(r"([\\`*_\[\]<>|~&!$@^=#])")
_AT_START = re.compile(r"^(\s*)([-+])")
_NUMBERED = re.compile(r"^(\s*\d+)([.)])(?=\s|$)")
_LINKS = re.compile(r"(?i)(://|www\.)")
"""What readers of Markdown take for markup or make into links on their own, wherever it stands."""

_LINE = "\\_" * 30


def to_markdown(sheet: Sheet) -> str:
    """The sheet as Markdown."""
    parts = [f"# {escaped(sheet.title)}", escaped(sheet.below)]
    for section in sheet.sections:
        parts.append(f"## {escaped(section.title)}")
        parts.extend(_drawn(block) for block in section.blocks)
    return "\n\n".join(parts) + "\n"


def escaped(text: str) -> str:
    """`text` on one line, so that a reader of Markdown shows it as it is."""
    line = " ".join(text.split())
    line = _ALWAYS.sub(r"\\\1", line)
    line = _LINKS.sub(lambda found: found.group(1).replace(":", "\\:").replace(".", "\\."), line)
    return _NUMBERED.sub(r"\1\\\2", _AT_START.sub(r"\1\\\2", line))


def _drawn(block: Block) -> str:
    match block:
        case Text():
            return f"**{escaped(block.text)}**" if block.strong else escaped(block.text)
        case Lines():
            return "\n".join(f"- **{escaped(label)}:** {escaped(text)}" for label, text in block.lines)
        case Bullets():
            title = [f"**{escaped(block.title)}**\n"] if block.title else []
            return "\n".join([*title, *(f"- {escaped(item)}" for item in block.items)])
        case Table():
            return "\n".join(_table(block))
        case Blanks():
            return "\n".join(f"- {escaped(label)}: {_LINE}" for label in block.labels)


def _table(table: Table) -> Iterator[str]:
    yield _row(table.head)
    yield _row(("---",) * len(table.head), raw=True)
    for row in table.rows:
        yield _row(row)


def _row(cells: tuple[str, ...], *, raw: bool = False) -> str:
    return "| " + " | ".join(cell if raw else escaped(cell) for cell in cells) + " |"
