"""Where flows live: shipped with the program, the person's own, and folders that are shared.

A flow is called by its place and name: `NAME` is shipped, `own:NAME` lies in the data folder's `flows`,
`shared:NAME` in a folder named by LOADSTEP_FLOWS or in the data folder's `flow-folders.txt`. So none of them
ever stands for another. Imports neither yaml nor pydantic: the start screen lists flows by a glance at each.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from engine.flow.glance import Glance, glance

OWN, SHARED = "own:", "shared:"
"""What a flow is called by, before its name, that is the person's own, or lies in a shared folder."""

FLOWS_VARIABLE = "LOADSTEP_FLOWS"
FOLDERS_FILE = "flow-folders.txt"

MOST_FILES = 200
"""Files of one folder that are listed."""


@dataclass(frozen=True, slots=True)
class Place:
    """A folder of flows, and how a flow in it is called: `prefix` before its name."""

    prefix: str
    folder: Path

    @property
    def words(self) -> str:
        """Whose it is, for a person."""
        return "your own" if self.prefix == OWN else "shared"


@dataclass(frozen=True, slots=True)
class Found:
    """A flow in a place. `name` is what it is called by there."""

    name: str
    path: Path
    place: Place


@dataclass(frozen=True, slots=True)
class Listed:
    """A flow as it is listed, by a glance at the head of its file."""

    found: Found
    head: Glance


def places(data_folder: Path | None) -> list[Place]:
    """The person's own folder, then those shared, in the order they are named."""
    own = [Place(OWN, data_folder / "flows")] if data_folder is not None else []
    return [*own, *(Place(SHARED, folder) for folder in shared_folders(data_folder))]


def shared_folders(data_folder: Path | None) -> list[Path]:
    """Folders named by LOADSTEP_FLOWS, then those of `flow-folders.txt`, each once."""
    named = os.environ.get(FLOWS_VARIABLE, "").split(os.pathsep)
    kept = kept_folders(data_folder) if data_folder is not None else []
    folders = [Path(name.strip()).expanduser().absolute() for name in named if name.strip()]
    return list(dict.fromkeys([*folders, *kept]))


def kept_folders(data_folder: Path) -> list[Path]:
    """Folders that `flow-folders.txt` names, one a line; a line that begins with # is a remark."""
    try:
        text = (data_folder / FOLDERS_FILE).read_text(encoding="utf-8")
    except (OSError, ValueError):
        return []
    lines = (line.strip() for line in text.splitlines())
    return [(data_folder / Path(line).expanduser()).absolute() for line in lines if line and line[0] != "#"]


def keep_folders(data_folder: Path, folders: list[Path]) -> None:
    """Write `flow-folders.txt`. Raises OSError."""
    file = data_folder / FOLDERS_FILE
    data_folder.mkdir(parents=True, exist_ok=True)
    unfinished = file.with_name(f".{FOLDERS_FILE}.tmp")
    unfinished.write_text("".join(f"{folder}\n" for folder in folders), encoding="utf-8")
    unfinished.replace(file)


def flows_in(place: Place) -> list[Found]:
    """The YAML files of a place, by name. Files that a link leads out of the folder to are not among them."""
    try:
        inside = place.folder.resolve()
        paths = sorted(islice(place.folder.glob("*.yaml"), MOST_FILES))
        return [
            Found(place.prefix + path.stem, path, place)
            for path in paths
            if "." not in path.stem and path.is_file() and path.resolve().is_relative_to(inside)
        ]
    except (OSError, RuntimeError):  # RuntimeError: links in a circle
        return []


def listed(place: Place) -> Iterator[Listed]:
    """The flows of a place; files that are no flows (parts, walks) are left out."""
    for found in flows_in(place):
        head = glance(found.path)
        if head is not None:
            yield Listed(found, head)
