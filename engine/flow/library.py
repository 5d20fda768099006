"""Finding a flow by what a person calls it: `NAME`, `own:NAME`, `shared:NAME` (see `places`), or a path."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import flows
from engine.flow.places import OWN, SHARED, Found, flows_in, places
from engine.flow.suggest import did_you_mean, shown

MAIN_FLOW = "stroke_by_load"
"""The flow that is meant where none is named."""


class NoSuchFlow(Exception):
    """A flow that is not there; the message is one sentence with what to do."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a flow comes from. `name` is what a person calls it by."""

    name: str
    path: Path


def shipped() -> list[Source]:
    """The flows that come with the program, by name."""
    paths = sorted(_shipped_folder().glob("*.yaml"))
    return [Source(path.stem, path) for path in paths if "." not in path.stem]  # a dot: words beside a flow


def own(data_folder: Path) -> list[Source]:
    """The flows in `data_folder`/flows."""
    return [Source(found.name, found.path) for found in _of(OWN, data_folder)]


def in_places(data_folder: Path | None) -> list[Source]:
    """The flows in `data_folder`/flows and in every shared folder."""
    return [Source(found.name, found.path) for prefix in (OWN, SHARED) for found in _of(prefix, data_folder)]


def lasting_name(source: Source) -> str:
    """What the flow can be found by later, from any folder: its name by place, or its whole path."""
    path = Path(source.name)
    is_path = not is_by_place(source.name) and (bool(path.suffix) or len(path.parts) > 1)
    return str(source.path.absolute()) if is_path else source.name


def beside(name: str, flow: str) -> str:
    """What flow `flow` is called that lies in the same place as the flow called `name`."""
    if is_by_place(name):
        return name.partition(":")[0] + ":" + flow
    path = Path(name)
    return str(path.with_name(flow + ".yaml")) if path.suffix or len(path.parts) > 1 else flow


def is_by_place(name: str) -> bool:
    """The name tells the place: such a flow is never looked for as a path."""
    return name.startswith((OWN, SHARED))


def _of(prefix: str, data_folder: Path | None) -> list[Found]:
    return [found for place in places(data_folder) if place.prefix == prefix for found in flows_in(place)]


def find(name_or_path: str, data_folder: Path | None = None) -> Source:
    """The flow called so: `NAME` is shipped, `own:NAME` is in `data_folder`/flows, `shared:NAME` in a shared
    folder, anything else a path.

    Raises NoSuchFlow.
    """
    if name_or_path.startswith(OWN):
        return _named(name_or_path, own(data_folder) if data_folder else [], f"{data_folder}/flows")
    if name_or_path.startswith(SHARED):
        return _shared(name_or_path, data_folder)
    path = Path(name_or_path)
    if path.suffix or len(path.parts) > 1:
        if _is_file(path):
            return Source(name_or_path, path)
        raise NoSuchFlow(f"There is no flow file {shown(name_or_path)}; check the path.")
    return _named(name_or_path, shipped(), "the program")


def _shared(name: str, data_folder: Path | None) -> Source:
    """The flow of a shared folder; of two by one name neither, since nobody could tell which is meant."""
    every = [Source(found.name, found.path) for found in _of(SHARED, data_folder)]
    same = [source for source in every if source.name == name]
    if len(same) > 1:
        where = " and ".join(str(source.path) for source in same)
        raise NoSuchFlow(f"There is more than one flow {shown(name)}: {where}; name the file you mean.")
    return _named(name, every, "the shared folders")


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
