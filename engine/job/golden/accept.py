"""Rewriting what a golden walk expects: those values only, all else in the file stays as it is."""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path
from textwrap import wrap

import yaml

from engine.job.golden.checking import Checked, State
from engine.job.replay.file import read_replay
from engine.job.replay.problem import ReplayErrors

_WIDEST = 110


class NotAccepted(Exception):
    """The file was left as it was; the message is a sentence with what to do."""


def accept(checked: Checked) -> None:
    """Have the file expect what its walk came to. Raises NotAccepted, and OSError if it cannot be written.

    The file is replaced whole or not at all. ValueError for a walk that could not be walked.
    """
    if checked.state is State.BROKEN:
        raise ValueError(f"{checked.file} was not walked")
    path = Path(checked.file).resolve()
    text = path.read_bytes().decode("utf-8")
    newline = "\r\n" if "\r\n" in text else "\n"
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        part.write_bytes(_rewritten(text, checked, newline).encode("utf-8"))
        shutil.copymode(path, part)
        _make_sure(str(part), checked)
        part.replace(path)
    finally:
        with suppress(OSError):
            part.unlink()


def _rewritten(text: str, checked: Checked, newline: str) -> str:
    if checked.expected is None:
        end = "" if text.endswith("\n") else newline
        path = _path(checked.path, 2)
        added = f"expect:\n  finding: {checked.finding}\n  path{path}\n"
        return text + end + added.replace("\n", newline)
    for first, last, value in sorted(_values(text, checked), reverse=True):
        text = text[:first] + value.replace("\n", newline) + text[last:]
    return text


def _values(text: str, checked: Checked) -> list[tuple[int, int, str]]:
    """From where to where in the text a value stands, and what it is to be."""
    expect = dict(_pairs(yaml.compose(text, yaml.SafeLoader)))["expect"][1]
    found = []
    for name, (key, value) in _pairs(expect):
        if name == "finding" and value.value != checked.finding:
            found.append((value.start_mark.index, value.end_mark.index, checked.finding))
        if name == "path" and [step.value for step in value.value] != list(checked.path):
            block = isinstance(value, yaml.SequenceNode) and not value.flow_style
            last = value.value[-1] if block and value.value else value
            found.append(
                (key.end_mark.index, last.end_mark.index, _path(checked.path, key.start_mark.column))
            )
    return found


def _pairs(node: yaml.Node | None) -> list[tuple[str, tuple[yaml.Node, yaml.Node]]]:
    return [(key.value, (key, value)) for key, value in node.value] if node is not None else []


def _path(steps: tuple[str, ...], column: int) -> str:
    """`: [a, b]` after a key at `column`, in as many lines as it needs."""
    indent = " " * (column + 2)
    lines = wrap(", ".join(steps), _WIDEST - len(indent), break_long_words=False, break_on_hyphens=False)
    inner = "\n".join(f"{indent}{line}" for line in lines)
    one = f": [{', '.join(steps)}]"
    return one if len(lines) <= 1 else f": [\n{inner}\n{' ' * column}]"


def _make_sure(part: str, checked: Checked) -> None:
    """Raises NotAccepted unless the new text says what was meant (a file may be written in unusual ways)."""
    before = checked.expected
    meant = (
        checked.finding if before is None or before.finding is not None else None,
        checked.path if before is None or before.path is not None else None,
    )
    try:
        now = read_replay(part).expected
    except ReplayErrors:
        now = None
    if now is None or (now.finding, now.path) != meant:
        raise NotAccepted(
            f"{checked.file} is laid out in a way that cannot be rewritten; "
            "write expect: as a key of its own, in lines of its own."
        )
