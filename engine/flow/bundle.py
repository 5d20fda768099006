"""The files a flow is made of, read once: the main file and its parts, none from elsewhere."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import islice
from pathlib import Path, PurePosixPath
from typing import Protocol

from engine.flow.positions import Document, Node, read
from engine.flow.problem import Place, Problems
from engine.flow.suggest import did_you_mean, reason, shown
from engine.flow.text import LARGEST, LARGEST_TOGETHER
from engine.flow.words.language import LANGUAGE

MOST_PARTS = 30

MOST_LISTED = 500
"""Files of a folder that are looked at by name."""

ENDING = ".yaml"

_PART = re.compile(r"[A-Za-z0-9_-][A-Za-z0-9._-]*(/[A-Za-z0-9_-][A-Za-z0-9._-]*)*\.yaml")


@dataclass(frozen=True, slots=True)
class Bundle:
    """A flow's files by name relative to its folder, as bytes; `main` is the flow itself."""

    main: str
    files: Mapping[str, bytes]

    @property
    def hash(self) -> str:
        """sha256 over main's name and every file's name and bytes, in order of names."""
        digest = hashlib.sha256(self.main.encode())
        for name in sorted(self.files):
            digest.update(f"\0{name}\0{len(self.files[name])}\0".encode())
            digest.update(self.files[name])
        return digest.hexdigest()


class CannotRead(Exception):
    """A file that cannot be had: what, hint."""

    def __init__(self, what: str, hint: str = "") -> None:
        super().__init__(what)
        self.what, self.hint = what, hint


class Files(Protocol):
    """Where the files of one flow come from."""

    def read(self, name: str) -> bytes:
        """Raises CannotRead."""
        ...

    def flows(self) -> list[str]:
        """Names of flows that may be there, without ending; at most MOST_LISTED."""
        ...

    def sidecars(self, name: str) -> dict[str, str]:
        """Files of words beside the file of that name, by language."""
        ...


class MemoryFiles:
    """Files kept with a job."""

    def __init__(self, files: Mapping[str, bytes]) -> None:
        self._files = files

    def read(self, name: str) -> bytes:
        if name not in self._files:
            raise CannotRead(f"part {shown(name)} is not here", did_you_mean(name, self._files))
        return self._files[name]

    def flows(self) -> list[str]:
        stems = [name.removesuffix(ENDING) for name in self._files if "/" not in name]
        return [stem for stem in stems if "." not in stem][:MOST_LISTED]

    def sidecars(self, name: str) -> dict[str, str]:
        return _by_language(name, self._files)


class FolderFiles:
    """Files below one folder; a link that leads out of it is refused."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def read(self, name: str) -> bytes:
        path = self._folder / name
        try:
            if not path.resolve().is_relative_to(self._folder.resolve()):
                raise CannotRead(
                    f"{shown(name)} leads out of the flow's folder", "keep parts beside the flow"
                )
            if path.is_dir():
                raise CannotRead(f"{shown(name)} is a folder", "name a .yaml file")
            if not path.exists():
                raise CannotRead(f"there is no file {shown(name)}", _near(path))
            if not path.is_file():
                raise CannotRead(f"{shown(name)} is not a plain file", "name a .yaml file")
            with path.open("rb") as file:
                return file.read(LARGEST + 1)
        except (OSError, RuntimeError, ValueError) as error:  # RuntimeError: links in a circle
            raise CannotRead(
                f"{shown(name)} cannot be read ({reason(error)})", "check the file and its rights"
            ) from None

    def flows(self) -> list[str]:
        return [stem for stem in _stems(self._folder) if "." not in stem]

    def sidecars(self, name: str) -> dict[str, str]:
        parent = PurePosixPath(name).parent
        beside = [str(parent / (stem + ENDING)) for stem in _stems((self._folder / name).parent)]
        return _by_language(name, beside)


def _by_language(name: str, names: Iterable[str]) -> dict[str, str]:
    """Those of `names` that hold the words of the file `name`, by language."""
    before = name.removesuffix(ENDING) + "."
    found = {
        one.removeprefix(before).removesuffix(ENDING): one
        for one in names
        if one.startswith(before) and one.endswith(ENDING)
    }
    return {language: found[language] for language in sorted(found) if LANGUAGE.fullmatch(language)}


def _stems(folder: Path) -> list[str]:
    try:
        return [path.stem for path in islice(folder.glob(f"*{ENDING}"), MOST_LISTED)]
    except (OSError, RuntimeError, ValueError):  # links in a circle, a zero byte: reading it tells
        return []


def _near(path: Path) -> str:
    """A file of nearly that name in the same folder."""
    return did_you_mean(path.name, [stem + ENDING for stem in _stems(path.parent)])


@dataclass(frozen=True, slots=True)
class OpenedPart:
    """A part as read, and which entry of the flow's `use` names it."""

    name: str
    document: Document
    number: int


@dataclass(frozen=True, slots=True)
class Opened:
    """A flow's files as read: the bundle, a document for each file that could be parsed, and what was wrong.

    `whole` is false when a file is missing or unreadable. `label` is how problems call the main file.
    """

    bundle: Bundle
    main: Document | None
    parts: tuple[OpenedPart, ...]
    problems: Problems
    whole: bool
    label: str


def open_bundle(
    main: str, files: Files, label: str, problems: Problems, room: int = LARGEST_TOGETHER
) -> Opened:
    """Reads the main file and its parts, at most `room` bytes; every problem is noted, none raised."""
    read_files: dict[str, bytes] = {}
    problems.add_file(label)
    document = _take(main, files, Place(label), label, read_files, problems, room)
    parts: list[OpenedPart] = []
    whole = document is not None
    for name, (number, place) in _used(document, problems).items():
        beside = str(Path(label).parent / name)
        part = _take(name, files, place, beside, read_files, problems, room)
        whole = whole and part is not None
        if part is not None:
            parts.append(OpenedPart(name, part, number))
    return Opened(Bundle(main, read_files), document, tuple(parts), problems, whole, label)


def _take(
    name: str,
    files: Files,
    place: Place,
    label: str,
    read_files: dict[str, bytes],
    problems: Problems,
    room: int,
) -> Document | None:
    try:
        data = files.read(name)
    except CannotRead as error:
        problems.add(place, error.what, error.hint)
        return None
    if sum(map(len, read_files.values())) + len(data) > room:
        what = f"more than {LARGEST_TOGETHER // 1000} kB in all files together"
        problems.add(place, what, "use fewer parts, or hand over to fewer flows")
        return None
    read_files[name] = data
    return read(data, label, problems)


def _used(document: Document | None, problems: Problems) -> dict[str, tuple[int, Place]]:
    """Names of `use:` that may be followed, with number and place; its shape is checked with the rest."""
    top = document.root.value if document else None
    used = top.get("use") if isinstance(top, dict) else None
    if document is None or used is None or not isinstance(used.value, list):
        return {}
    found: dict[str, tuple[int, Place]] = {}
    for number, node in enumerate(used.value):
        name = _part_name(node)
        place = document.place("use", number, *([] if isinstance(node.value, str) else ["part"]))
        if not name:
            continue
        if not _PART.fullmatch(name):
            problems.add(
                place,
                f"{shown(name)} is no part of this flow",
                "a part is a .yaml file below the flow's folder",
            )
        elif name in found:
            problems.add(place, f"{shown(name)} is used twice", "delete one")
        elif len(found) == MOST_PARTS:
            problems.add(place, f"more than {MOST_PARTS} parts", "join some")
            break
        else:
            found[name] = number, place
    return found


def _part_name(node: Node) -> str:
    """The file that an entry of `use` names, as text or under `part`; empty if it names none."""
    named = node.value.get("part") if isinstance(node.value, dict) else node
    return named.value if named is not None and isinstance(named.value, str) else ""
