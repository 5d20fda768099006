"""Which flows there are and where: shipped ones by name, a user's own by path or as `own:NAME`."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import flows
from engine.flow.suggest import did_you_mean, shown

MAIN_FLOW = "stroke_by_load"
"""The flow that is meant where none is named."""

OWN = "own:"
"""What a flow in the user's data folder is called by, before its name."""


class NoSuchFlow(Exception):
    """A flow that is not there; the message is one sentence with what to do."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a flow comes from. `name` is what a person calls it by."""

    name: str
    path: Path


def shipped() -> list[Source]:
    """The flows that come with the program, by name."""
    return [Source(path.stem, path) for path in sorted(_shipped_folder().glob("*.yaml"))]


def own(data_folder: Path) -> list[Source]:
    """The flows in `data_folder`/flows."""
    return [Source(OWN + path.stem, path) for path in sorted((data_folder / "flows").glob("*.yaml"))]


def find(name_or_path: str, data_folder: Path | None = None) -> Source:
    """The flow called so: `NAME` is shipped, `own:NAME` is in `data_folder`/flows, anything else a path.

    Raises NoSuchFlow.
    """
    if name_or_path.startswith(OWN):
        return _named(name_or_path, own(data_folder) if data_folder else [], f"{data_folder}/flows")
    path = Path(name_or_path)
    if path.suffix or len(path.parts) > 1:
        if _is_file(path):
            return Source(name_or_path, path)
        raise NoSuchFlow(f"There is no flow file {shown(name_or_path)}; check the path.")
    return _named(name_or_path, shipped(), "the program")


def _named(name: str, sources: list[Source], where: str) -> Source:
    for source in sources:
        if source.name == name:
            return source
    hint = did_you_mean(name, [source.name for source in sources]) or "name a file to use one of your own"
    end = "" if hint.endswith("?") else "."
    raise NoSuchFlow(f"There is no flow {shown(name)} in {where}; {hint}{end}")


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):  # a name too long for the system, or with a zero byte in it
        return False


def _shipped_folder() -> Path:
    return Path(flows.__file__).parent
