"""Reading the entries of all sections from the main file and its parts, each checked for its shape."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import islice
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from engine.flow.assemble.runs import bound, in_order, no_exits
from engine.flow.assemble.sections import MOST, OWN, SHARED, Entry, Run, Sections
from engine.flow.assemble.taken import used_sets
from engine.flow.bundle import Opened, OpenedPart
from engine.flow.positions import Document, PathPart
from engine.flow.problem import Problems
from engine.flow.scalars import valid_name
from engine.flow.schema import Head, RunPart, UsePart, Waived, WatchPart
from engine.flow.schema_words import keys_of, shape_errors
from engine.flow.suggest import did_you_mean, shown

_STRAY = {
    "watch": "only the flow itself watches",
    "start": "it goes with 'steps'",
    "exits": "it goes with 'steps'",
}

T = TypeVar("T", bound=BaseModel)


def gather(opened: Opened) -> Sections:
    """Reads the sections of all files; problems go to `opened.problems`."""
    sections = Sections(main=opened.main, whole=opened.whole)
    gathering = _Gathering(sections, opened.problems)
    top = gathering.top(opened.main) if opened.main else None
    if top is not None and opened.main is not None:
        gathering.uses(opened.main, top.get("use"))
    for part in opened.parts:
        gathering.part(part)
    if top is not None and opened.main is not None:
        gathering.main(opened.main, top)
    sections.entries["steps"] = in_order(sections)
    sections.entries["sets"] = used_sets(sections)
    return sections


class _Gathering:
    def __init__(self, sections: Sections, problems: Problems) -> None:
        self._sections, self._problems = sections, problems

    def uses(self, document: Document, used: Any) -> None:
        """What the flow asks of each part; an ill-shaped entry asks nothing, and is told with the head."""
        for number, value in enumerate(used if isinstance(used, list) else ()):
            fields = value if isinstance(value, dict) else {"part": value}
            try:
                use = UsePart.model_validate(fields)
            except ValidationError:
                self._sections.whole = False
                continue
            self._sections.uses[number] = Entry("", use, document, ("use", number), self._problems)

    def main(self, document: Document, top: dict[str, Any]) -> None:
        for section in OWN:
            if section in top:
                self._section(document, section, top.pop(section))
        if "watch" in top:
            self._watch(document, top.pop("watch"))
        options = [*keys_of(Head), *OWN, "watch"]
        if not options_hold(top, options):
            self._sections.whole = False  # one of them may be meant for a section
        self._sections.head = self._entry("", Head, document, (), top, options)
        self._keep_waivers(self._sections.head)

    def part(self, part: OpenedPart) -> None:
        document, use = part.document, self._sections.uses.get(part.number)
        top = self.top(document)
        if top is None or use is None:
            return
        if "steps" in top:
            self._run(document, use, top)
        else:
            no_exits(use)
        if "waive" in top:
            waived = {"waive": top.pop("waive")}
            self._keep_waivers(self._entry("", Waived, document, (), waived, keys_of(Waived)))
        self._check_only(use, top)
        for key, value in top.items():
            if key in SHARED:
                self._shared(document, key, value, use.part.only)
                continue
            hint = _STRAY.get(key) or did_you_mean(key, [*SHARED, "steps", "waive"])
            self._problems.add(document.place(key, key=True), f"unknown key {shown(key)} in a part", hint)

    def _run(self, document: Document, use: Entry[UsePart], top: dict[str, Any]) -> None:
        fields = {key: top.pop(key) for key in keys_of(RunPart) if key in top}
        head = self._entry("", RunPart, document, (), fields, keys_of(RunPart))
        self._section(document, "steps", top.pop("steps"))
        if head is None:
            self._sections.whole = False  # where its steps lead cannot be told
            return
        exits = {name: use.part.exits.get(name, name) for name in head.part.exits}
        steps: dict[str, Entry[Any]] = self._sections.entries["steps"]
        names = tuple(name for name, entry in steps.items() if entry.document is document)
        for name in names:
            steps[name] = replace(steps[name], part=bound(steps[name].part, exits))
        self._sections.runs[document.file] = Run(use, head, exits, names)

    def _shared(self, document: Document, section: str, value: Any, only: list[str]) -> None:
        """The entries of a part's section that the flow asks for: all, if it names none."""
        if only and value and isinstance(value, dict):
            left_out = {(section, name): document.file for name in value if name not in only}
            self._sections.left_out.update(left_out)
            value = {name: fields for name, fields in value.items() if name in only}
            if not value:
                return
        self._section(document, section, value)

    def _check_only(self, use: Entry[UsePart], top: dict[str, Any]) -> None:
        there = [name for key in SHARED if isinstance(top.get(key), dict) for name in top[key]]
        for number, name in enumerate(use.part.only):
            if name not in there:
                what = f"there is no {shown(name)} in {shown(use.part.part)}"
                use.wrong(what, did_you_mean(name, there), "only", number)

    def _keep_waivers(self, waived: Entry[Any] | None) -> None:
        if waived is None:
            return
        for number, part in enumerate(waived.part.waive):
            entry = Entry("", part, waived.document, ("waive", number), self._problems)
            self._sections.waivers.append(entry)

    def top(self, document: Document) -> dict[str, Any] | None:
        top = document.plain()
        if isinstance(top, dict):
            return top
        self._problems.add(
            document.place(), "this is no flow", "a flow begins with 'format: 1' and 'flow: NAME'"
        )
        self._sections.whole = False
        return None

    def _section(self, document: Document, section: str, value: Any) -> None:
        if not isinstance(value, dict) or not value:
            hint = "write entries below it, or delete the key"
            self._problems.add(document.place(section, key=True), f"'{section}' has no entries", hint)
            self._sections.whole = False
            return
        model = OWN[section]
        options = keys_of(model)
        if len(value) > MOST[section]:
            place = document.place(section, key=True)
            self._problems.add(place, f"more than {MOST[section]} {section}", "split the flow")
            self._sections.whole = False
        for name, fields in islice(value.items(), MOST[section]):
            path = (section, name)
            if not self._free(document, section, name):
                continue
            entry = self._entry(name, model, document, path, fields, options)
            if entry is None:
                self._sections.broken[section].add(name)
            else:
                self._sections.entries[section][name] = entry

    def _free(self, document: Document, section: str, name: str) -> bool:
        wrong = valid_name(name)
        if wrong:
            self._problems.add(document.place(section, name, key=True), *wrong)
        first = self._sections.entries[section].get(name)
        if first is None:
            return True
        hint = f"the first one is at {first.place(key=True)}"
        self._problems.add(
            document.place(section, name, key=True), f"{shown(name)} is in '{section}' twice", hint
        )
        return False

    def _watch(self, document: Document, value: Any) -> None:
        if not isinstance(value, list) or not value:
            hint = "write rules below it, each beginning with '- ', or delete the key"
            self._problems.add(document.place("watch", key=True), "'watch' is a list of rules", hint)
            self._sections.broken["watch"].add("")
            return
        options, seen = keys_of(WatchPart), set[str]()
        if len(value) > MOST["watch"]:
            place = document.place("watch", MOST["watch"])
            self._problems.add(place, f"more than {MOST['watch']} watch rules", "join some with 'or'")
            self._sections.whole = False
        for number, fields in enumerate(value[: MOST["watch"]]):
            entry = self._entry(str(number), WatchPart, document, ("watch", number), fields, options)
            if entry is None:
                self._sections.broken["watch"].add(str(number))
                continue
            if entry.part.name in seen:
                entry.wrong(f"'{entry.part.name}' is in 'watch' twice", "rename one", "name")
            seen.add(entry.part.name)
            self._sections.watch.append(entry)

    def _entry(
        self,
        name: str,
        model: type[T],
        document: Document,
        path: tuple[PathPart, ...],
        fields: Any,
        options: list[str],
    ) -> Entry[T] | None:
        try:
            return Entry(name, model.model_validate(fields), document, path, self._problems)
        except ValidationError as error:
            self._note_shape(error, document, path, options)
            return None

    def _note_shape(
        self,
        error: ValidationError,
        document: Document,
        path: tuple[PathPart, ...],
        options: Iterable[str],
    ) -> None:
        for wrong in shape_errors(error, list(options)):
            where = context(path, wrong.path)
            place = document.place(*path, *wrong.path, key=wrong.at_key)
            self._problems.add(place, f"{wrong.what}{where}", wrong.hint)


def options_hold(top: dict[str, Any], options: Iterable[str]) -> bool:
    """No key is unknown."""
    return not set(top).difference(options)


def context(path: tuple[PathPart, ...], below: tuple[PathPart, ...]) -> str:
    """` in step 'raise-load'`, ` in rule 2 of step 'raise-load'`, or nothing at the top of the file."""
    words = list(_context(path, below))
    return " in " + " of ".join(words) if words else ""


def _context(path: tuple[PathPart, ...], below: tuple[PathPart, ...]) -> Iterator[str]:
    if below[:1] == ("next",) and len(below) > 1 and isinstance(below[1], int):
        yield f"rule {below[1] + 1}"
    if below[:1] == ("limits",):
        yield "'limits'"
    if path[:1] == ("watch",):
        yield f"watch rule {int(path[1]) + 1}"
    elif path:
        yield f"{str(path[0]).removesuffix('s')} {shown(str(path[1]))}"
