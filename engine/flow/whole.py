"""A flow with all the flows it hands over to: found, loaded, checked, and their files in one bundle."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

import flows
from engine.flow.assemble.flow import build
from engine.flow.assemble.gather import gather
from engine.flow.assemble.sections import Entry, Sections
from engine.flow.bundle import ENDING, Bundle, Files, FolderFiles, MemoryFiles, Opened, open_bundle
from engine.flow.check.handing import carried
from engine.flow.check.paths import check_paths
from engine.flow.joined import within
from engine.flow.model import Flow
from engine.flow.problem import Problems
from engine.flow.schema import StepPart
from engine.flow.suggest import did_you_mean, shown
from engine.flow.text import LARGEST_TOGETHER
from engine.flow.words.beside import sidecars_of, words_in
from engine.flow.words.speak import spoken

MOST_FLOWS = 20
"""Flows that one job may come to."""

SHIPPED = "@shipped/"
"""Before the files of a shipped flow in the bundle of a flow from elsewhere; no part can be called so."""


@dataclass(frozen=True, slots=True)
class Loaded:
    """A flow without errors: its entries with their places, its files as read, and those of all its flows."""

    flow: Flow
    sections: Sections
    opened: Opened
    bundle: Bundle


@dataclass(frozen=True, slots=True)
class Shelf:
    """One place flows are taken from: its files, what they are called in the bundle, and in problems."""

    prefix: str
    files: Files
    folder: str = ""

    def label(self, main: str) -> str:
        return str(Path(self.folder) / main)


def shelves_of(path: Path) -> list[Shelf]:
    """The flow's own folder first, then the shipped flows."""
    shipped = Path(flows.__file__).parent
    own = Shelf("", FolderFiles(path.parent), str(path.parent))
    behind = [] if _is_same(path.parent, shipped) else [Shelf(SHIPPED, FolderFiles(shipped), str(shipped))]
    return [own, *behind]


def _is_same(folder: Path, other: Path) -> bool:
    try:
        return folder.resolve() == other.resolve()
    except (OSError, RuntimeError, ValueError):  # links in a circle, a zero byte: reading it tells
        return False


def shelves_kept(files: Mapping[str, bytes]) -> list[Shelf]:
    """The files kept with a job."""
    shipped = {name.removeprefix(SHIPPED): data for name, data in files.items() if name.startswith(SHIPPED)}
    own = {name: data for name, data in files.items() if not name.startswith(SHIPPED)}
    return [Shelf("", MemoryFiles(own)), Shelf(SHIPPED, MemoryFiles(shipped))]


def load_whole(main: str, shelves: list[Shelf], language: str = "") -> Loaded:
    """The flow in `main` of the first shelf, with every flow that it leads to. Raises FlowErrors.

    Texts are said in `language` as far as files of words beside the flow's say them; mistakes in these keep
    no flow from being walked, and are told by `engine.flow.words.problems`.
    """
    loading = _Loading(shelves, language)
    made = loading.flow(main, shelves[0], ())
    if len(loading.problems):
        raise loading.problems.errors()
    bundle = Bundle(main, loading.files)
    return Loaded(replace(made.said, hash=bundle.hash), made.sections, made.opened, bundle)


@dataclass(frozen=True, slots=True)
class _Made:
    """A flow in its own words, by which flows are held against one another, and in those asked for."""

    own: Flow
    said: Flow
    sections: Sections
    opened: Opened


class _Loading:
    def __init__(self, shelves: list[Shelf], language: str) -> None:
        self.problems = Problems()
        self.files: dict[str, bytes] = {}
        self._shelves, self._language = shelves, language
        self._loaded: dict[str, _Made] = {}

    def flow(self, main: str, shelf: Shelf, before: tuple[str, ...]) -> _Made:
        """The flow and those behind it; `before` are the flows that hand over to it, the first one first."""
        room = LARGEST_TOGETHER - sum(map(len, self.files.values()))
        opened = open_bundle(main, shelf.files, shelf.label(main), self.problems, room)
        self.files.update({shelf.prefix + name: data for name, data in opened.bundle.files.items()})
        sections = gather(opened)
        flow = build(sections, main, "")
        check_paths(flow, sections, self.problems)
        flow = self._with_targets(flow, sections, shelf, (*before, main.removesuffix(ENDING)))
        return _Made(flow, self._said(flow, sections, opened, shelf), sections, opened)

    def _said(self, flow: Flow, sections: Sections, opened: Opened, shelf: Shelf) -> Flow:
        """The flow in the language asked for; words in any language are kept with its files."""
        beside = sidecars_of(opened, shelf.files)
        kept = {shelf.prefix + one.name: one.data for one in beside}
        self.files.update(kept)
        if not self._language or len(self.problems):
            return flow
        settled = sections.head.part.settled if sections.head else ""
        words = words_in(self._language, beside, settled)
        return spoken(flow, words) if words is not None else flow

    def _with_targets(self, flow: Flow, sections: Sections, shelf: Shelf, way: tuple[str, ...]) -> Flow:
        entries: dict[str, Entry[StepPart]] = sections.entries["steps"]
        handing = {name: entry for name, entry in entries.items() if entry.part.hand_over is not None}
        targets, steps = dict[str, _Made](), dict(flow.steps)
        for name, entry in handing.items():
            target = self._target(entry, str(entry.part.hand_over), shelf, way)
            if target is not None:
                targets[target.own.name] = target
                steps[name] = replace(steps[name], carry=carried(entry, flow, target.own))
        if len(self.problems):  # it will not be used
            return flow
        return replace(
            flow, steps=steps, hand_overs={name: within(one.said, name) for name, one in targets.items()}
        )

    def _target(self, entry: Entry[StepPart], name: str, shelf: Shelf, way: tuple[str, ...]) -> _Made | None:
        if name in way:
            ring = " > ".join((*way[way.index(name) :], name))
            entry.wrong(f"hand-overs go in a ring: {ring}", "let one of them end the job", "hand_over")
            return None
        if name not in self._loaded:
            found = self._find(entry, name, shelf)
            if found is None:
                return None
            self._loaded[name] = self.flow(name + ENDING, found, way)
        return self._loaded[name]

    def _find(self, entry: Entry[StepPart], name: str, shelf: Shelf) -> Shelf | None:
        """Where the flow is, from a flow of `shelf`: beside it, or among those behind that shelf."""
        reach = self._shelves[self._shelves.index(shelf) :]
        there = [one for one in reach if name in one.files.flows()]
        if len(there) > 1:
            what = f"flow {shown(name)} is beside this one and among the shipped ones"
            entry.wrong(what, "give yours another name", "hand_over")
            return None
        if not there:
            known = [flow for one in reach for flow in one.files.flows()]
            what = f"there is no flow {shown(name)} beside this one or among the shipped ones"
            entry.wrong(what, did_you_mean(name, known), "hand_over")
            return None
        if len(self._loaded) >= MOST_FLOWS:
            entry.wrong(f"more than {MOST_FLOWS} flows hand over to one another", "split them", "hand_over")
            return None
        return there[0]
