"""Rewriting what golden walks expect: those values only, all else in the file stays as it is."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from textwrap import wrap

import yaml

from engine.job.golden.checking import Checked, State
from engine.job.replay.file import ReplayFile, read_replay
from engine.job.replay.problem import ReplayErrors

_WIDEST = 110

Piece = tuple[int, int, str]
"""From where to where in the text, and what is to stand there."""


class NotAccepted(Exception):
    """The file was left as it was; the message is a sentence with what to do."""


def accept(walks: Sequence[Checked]) -> None:
    """Have a file expect what `walks`, all of them of that file, came to.

    Raises NotAccepted, and OSError if it cannot be written; the file is replaced whole or not at all.
    ValueError for a walk that could not be walked.
    """
    if any(walk.state is State.BROKEN for walk in walks):
        raise ValueError(f"{walks[0].file} was not walked")
    path = Path(walks[0].file).resolve()
    text = path.read_bytes().decode("utf-8")
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        part.write_bytes(_rewritten(text, walks).encode("utf-8"))
        shutil.copymode(path, part)
        _make_sure(str(part), walks)
        part.replace(path)
    finally:
        with suppress(OSError):
            part.unlink()


def _rewritten(text: str, walks: Sequence[Checked]) -> str:
    newline = "\r\n" if "\r\n" in text else "\n"
    root = dict(_pairs(yaml.compose(text, yaml.SafeLoader)))
    pieces = [piece for walk in walks for piece in _pieces(text, root, walk)]
    for first, last, value in sorted(pieces, reverse=True):
        text = text[:first] + value.replace("\n", newline) + text[last:]
    return text


Pair = tuple[yaml.Node, yaml.Node]


def _pieces(text: str, root: dict[str, Pair], walk: Checked) -> Iterator[Piece]:
    around = dict(_pairs(root["walks"][1]))[walk.walk][1] if walk.walk else None
    keys = root if around is None else dict(_pairs(around))
    if "expect" in keys:
        yield from _values(keys["expect"][1], walk)
    elif around is None:
        end = "" if text.endswith("\n") else "\n"
        yield len(text), len(text), end + _block(walk, 0)
    elif around.flow_style:  # type: ignore[attr-defined]
        start = around.start_mark.index + 1
        yield start, start, f"expect: {{finding: {walk.finding}, path{_path(walk.path, 4)}}}, "
    else:
        column = around.start_mark.column
        yield around.start_mark.index, around.start_mark.index, _block(walk, column) + " " * column


def _block(walk: Checked, column: int) -> str:
    indent = " " * (column + 2)
    path = _path(walk.path, column + 2)
    return f"expect:\n{indent}finding: {walk.finding}\n{indent}path{path}\n"


def _values(expect: yaml.Node, walk: Checked) -> Iterator[Piece]:
    """The values in an `expect` that differ."""
    for name, (key, value) in _pairs(expect):
        if name == "finding" and value.value != walk.finding:
            yield value.start_mark.index, value.end_mark.index, walk.finding
        if name == "path" and [step.value for step in value.value] != list(walk.path):
            block = isinstance(value, yaml.SequenceNode) and not value.flow_style
            last = value.value[-1] if block and value.value else value
            yield key.end_mark.index, last.end_mark.index, _path(walk.path, key.start_mark.column)


def _pairs(node: yaml.Node | None) -> list[tuple[str, Pair]]:
    return [(key.value, (key, value)) for key, value in node.value] if node is not None else []


def _path(steps: tuple[str, ...], column: int) -> str:
    """`: [a, b]` after a key at `column`, in as many lines as it needs."""
    indent = " " * (column + 2)
    lines = wrap(", ".join(steps), _WIDEST - len(indent), break_long_words=False, break_on_hyphens=False)
    inner = "\n".join(f"{indent}{line}" for line in lines)
    one = f": [{', '.join(steps)}]"
    return one if len(lines) <= 1 else f": [\n{inner}\n{' ' * column}]"


def _make_sure(part: str, walks: Sequence[Checked]) -> None:
    """Raises NotAccepted unless the new text says what was meant (a file may be written in unusual ways)."""
    try:
        now = read_replay(part)
    except ReplayErrors:
        now = None
    if now is None or not all(_says(now, walk) for walk in walks):
        raise NotAccepted(
            f"{walks[0].file} is laid out in a way that cannot be rewritten; "
            "write each expect: as a key of its own, in lines of its own."
        )


def _says(now: ReplayFile, walk: Checked) -> bool:
    own = next((one for one in now.walks if one.walk == walk.walk), now) if walk.walk else now
    before, expected = walk.expected, own.expected
    if expected is None or own.walk != walk.walk:
        return False
    finding = walk.finding if before is None or before.finding is not None else None
    path = walk.path if before is None or before.path is not None else None
    return (expected.finding, expected.path) == (finding, path)
