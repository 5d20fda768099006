"""The head of a flow file at a glance: enough to list it, without a parser.

What is found here is shown in lists and decides nothing; loading reads the file again, and properly.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

MOST_READ = 16_384
"""Bytes looked at; heads stand at the top."""

_KEY = re.compile(r"(flow|title|revision|about):(?:[ \t]+(.*))?$")
_FOLDED = re.compile(r"[>|][+-]?\d?[+-]?$")
_QUOTED = re.compile(r"""'((?:[^']|'')*)'|"((?:[^"\\]|\\.)*)\"""")
_REMARK = re.compile(r"(?:^|[ \t])#.*$")


@dataclass(frozen=True, slots=True)
class Glance:
    """What a person chooses a flow by, as far as it could be seen."""

    title: str
    revision: str
    about: str


def glance(path: Path) -> Glance | None:
    """The head of the flow in a file, or None if the file cannot be read or has no `flow:`."""
    try:
        with path.open("rb") as file:
            text = file.read(MOST_READ).decode("utf-8-sig", "replace")
    except OSError:
        return None
    found = _head(text.splitlines())
    if "flow" not in found:
        return None
    return Glance(found.get("title", path.stem), found.get("revision", "?"), found.get("about", ""))


def _head(lines: list[str]) -> dict[str, str]:
    found: dict[str, str] = {}
    for number, line in enumerate(lines):
        key = _KEY.match(line)
        if key is not None and key[1] not in found:
            found[key[1]] = _value(key[2] or "", lines[number + 1 :])
    return found


def _value(first: str, after: list[str]) -> str:
    """The text that begins behind a key and goes on in the indented lines below."""
    more = []
    for line in after:
        if line.strip() and not line.startswith((" ", "\t")):
            break
        more.append(line.strip())
    first = first.strip()
    quoted = _QUOTED.match(" ".join([first, *more]))
    if quoted is not None:
        return quoted[1].replace("''", "'") if quoted[1] is not None else quoted[2].replace('\\"', '"')
    first = "" if _FOLDED.match(first) else _REMARK.sub("", first)
    return " ".join(" ".join([first, *more]).split())
