"""Where golden walks are: the replay files in a folder and below it, known by their first words."""

from __future__ import annotations

import re
from pathlib import Path

from engine.flow.text import LARGEST

_REPLAY = re.compile(rb"^(facts|expect|walks):", re.MULTILINE)
"""A key that only a replay file has at its top; one that is broken elsewhere is still known by it."""


def walks_in(place: Path) -> list[Path]:
    """The replay files at `place`: itself if it is a file, else all below it, by path, hidden ones left out.

    Raises OSError if there is nothing, or it may not be read.
    """
    if not place.is_dir():
        place.stat()
        return [place]
    files = (path for path in place.rglob("*.yaml") if not _is_hidden(path.relative_to(place)))
    return sorted(path for path in files if path.is_file() and _is_replay(path))


def _is_hidden(path: Path) -> bool:
    return any(part.startswith(".") for part in path.parts)


def _is_replay(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return _REPLAY.search(file.read(LARGEST)) is not None
    except OSError:
        return True  # to be reported when it is read as one
