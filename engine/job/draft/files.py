"""The files a draft is made of: loading it with a list of those read, and seeing that one was saved."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from engine.flow.bundle import Files
from engine.flow.load import Loaded
from engine.flow.whole import load_whole, shelves_of

Mark = tuple[int, int, int]
"""What tells one version of a file from another without reading it: time, size, and which file it is."""

PATIENCE = 5
"""Looks that a missing file is waited for: an editor may delete it before it writes the new one."""


@dataclass(slots=True)
class Asked:
    """Files of one folder, with a list of the paths that were asked for, there or not."""

    files: Files
    folder: Path
    paths: set[Path]

    def read(self, name: str) -> bytes:
        self.paths.add(self.folder / name)
        return self.files.read(name)

    def flows(self) -> list[str]:
        return self.files.flows()

    def sidecars(self, name: str) -> dict[str, str]:
        return self.files.sidecars(name)


def load_draft(path: Path, paths: set[Path]) -> Loaded:
    """The flow in the file `path`; every file asked for on the way is added to `paths`. Raises FlowErrors."""
    shelves = [
        replace(shelf, files=Asked(shelf.files, Path(shelf.folder), paths)) for shelf in shelves_of(path)
    ]
    return load_whole(path.name, shelves)


def mark(path: Path) -> Mark | None:
    """The present version of a file, or None if there is none."""
    try:
        found = path.stat()
    except (OSError, ValueError):
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


@dataclass(slots=True)
class Watch:
    """Tells when files were saved, by being asked from time to time.

    A save counts once two looks in a row saw the same: an editor may be in the middle of writing. A file that
    is gone counts after PATIENCE looks. `mark` is replaced in tests.
    """

    mark: Callable[[Path], Mark | None] = mark
    _read: Mapping[Path, Mark | None] = field(default_factory=dict)
    _seen: Mapping[Path, Mark | None] = field(default_factory=dict)
    _looks: int = 0

    def marks(self, paths: Iterable[Path]) -> dict[Path, Mark | None]:
        """The files as they are now, and their folders: that is how a file that comes is noticed."""
        every = {*paths, *(path.parent for path in paths)}
        return {path: self.mark(path) for path in every}

    def begin(self, marks: Mapping[Path, Mark | None]) -> None:
        """From now on tell of changes against `marks`, taken before the files were read."""
        self._read, self._seen, self._looks = marks, marks, 0

    def saved(self) -> bool:
        """Whether something was saved since `begin`, and the saving is over."""
        now = {path: self.mark(path) for path in self._read}
        self._looks = self._looks + 1 if now == self._seen else 0
        self._seen = now
        gone = any(now[path] is None and old is not None for path, old in self._read.items())
        return now != self._read and self._looks >= (PATIENCE if gone else 1)
