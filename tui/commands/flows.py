"""`loadstep flows`: the flows there are and where each comes from; which folders are shared."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from engine.flow.index import titles
from engine.flow.places import Listed, keep_folders, kept_folders, listed, places
from engine.flow.plain import one_line
from engine.job.store.place import default_folder
from tui.commands.exit_codes import GOOD
from tui.commands.output import complain, say, wrapped
from tui.commands.refusal import Refusal

NAMESAKE = "A shipped flow has this name, too. They are kept apart: this one is called {name}."


def run(args: Namespace) -> int:
    folder = default_folder()
    if args.add or args.drop:
        _change(folder, args.add, args.drop)
    for title in titles():
        _say(title.name, str(title.revision), title.title, [title.about, "Shipped with loadstep."])
    shipped = {title.name for title in titles()}
    for place in places(folder):
        if not place.folder.is_dir():
            if place.words == "shared":
                complain(f"The shared folder {place.folder} is not there.")
            continue
        for one in listed(place):
            _say_listed(one, shipped)
    return GOOD


def _say_listed(one: Listed, shipped: set[str]) -> None:
    found = one.found
    whose = one_line(f"{found.place.words.capitalize()}: {found.path}")
    namesake = [NAMESAKE.format(name=one_line(found.name))] if found.path.stem in shipped else []
    _say(found.name, one.head.revision, one.head.title, [one.head.about, whose, *namesake])


def _say(name: str, revision: str, title: str, more: list[str]) -> None:
    say(f"{one_line(name)}  revision {one_line(revision)}  {one_line(title)}")
    for text in more:
        for line in wrapped(one_line(text), "    ", "    "):
            say(line)


def _change(folder: Path, add: str | None, drop: str | None) -> None:
    """Name a shared folder, or name it no longer."""
    kept = kept_folders(folder)
    if add is not None:
        added = Path(add).expanduser().absolute()
        if not added.is_dir():
            raise Refusal(f"there is no folder {add}; check the path.")
        kept = [*(one for one in kept if one != added), added]
    if drop is not None:
        dropped = Path(drop).expanduser().absolute()
        if dropped not in kept:
            known = ", ".join(map(str, kept)) or "none"
            raise Refusal(f"{drop} is not among the folders named ({known}).")
        kept.remove(dropped)
    try:
        keep_folders(folder, kept)
    except OSError as error:
        raise Refusal(f"the list of folders cannot be written ({error.strerror or error}).") from None
