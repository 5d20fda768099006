"""Reading a replay file: YAML whose scalars are all text; `layout` says what is in it."""

from __future__ import annotations

import stat
from dataclasses import dataclass, replace
from pathlib import Path

from engine.flow.library import MAIN_FLOW
from engine.flow.positions import Document, read
from engine.flow.problem import Place, Problems
from engine.flow.text import LARGEST, decode
from engine.job.replay import problem
from engine.job.replay.expected import Expected
from engine.job.replay.layout import Fact, Variant, laid_out
from engine.job.replay.problem import ReplayErrors, ReplayProblem


@dataclass(frozen=True, slots=True)
class ReplayFile:
    """A walk of a file laid out as it should be; whether the flow knows its names is checked later.

    `walk` is its name where it is one of the file's `walks`, empty for that of the file's own facts; `walks`
    are the others of the same file.
    """

    file: str
    flow: str
    flow_place: Place
    facts: tuple[Fact, ...]
    expected: Expected | None = None
    walk: str = ""
    place: Place | None = None
    walks: tuple[ReplayFile, ...] = ()


def read_replay(file: str) -> ReplayFile:
    """The replay file at the path `file`. Raises ReplayErrors with all that is wrong with its layout."""
    document = _document(file)
    found: list[ReplayProblem] = []

    def note(kind: str, place: Place, what: str, hint: str = "") -> None:
        found.append(ReplayProblem(kind, str(place), what, hint))

    layout = laid_out(document, note)
    if found or layout is None:
        raise ReplayErrors(found)
    own = ReplayFile(file, layout.flow or MAIN_FLOW, layout.flow_place, layout.facts, layout.expected)
    return replace(own, walks=tuple(_variant(own, one) for one in layout.walks))


def _variant(own: ReplayFile, one: Variant) -> ReplayFile:
    """The walk with the file's facts and, over them, its own; `SET: unknown` takes the whole set away."""
    sets = {fact.set_name for fact in own.facts}
    gone = {
        fact.name for fact in one.facts if fact.set_name is None and fact.name in sets and fact.is_unknown
    }
    kept = [fact for fact in own.facts if fact.set_name not in gone]
    changed = [fact for fact in one.facts if fact.set_name is not None or fact.name not in gone]
    facts = {fact.full_name: fact for fact in (*kept, *changed)}
    return replace(own, facts=tuple(facts.values()), expected=one.expected, walk=one.name, place=one.place)


def _document(file: str) -> Document:
    data = _bytes(file)
    problems = Problems()
    kind = problem.FILE
    document = None
    if decode(data, file, problems) is not None:
        kind = problem.SYNTAX
        document = read(data, file, problems)
    if document is None or len(problems):
        raise ReplayErrors([ReplayProblem(kind, str(p.place), p.what, p.hint) for p in problems.sorted()])
    return document


def _bytes(file: str) -> bytes:
    """At most one byte more than allowed, whatever the file's size; never waits on a pipe or device."""
    try:
        path = Path(file)
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            raise _unreadable(file, "this is a folder", "name a file in it")
        if not stat.S_ISREG(mode):
            raise _unreadable(file, "this is not an ordinary file", "save it as a file first")
        with path.open("rb") as stream:
            return stream.read(LARGEST + 1)
    except FileNotFoundError:
        raise _unreadable(file, "there is no such file", "check the path") from None
    except PermissionError:
        raise _unreadable(file, "this file may not be read", "allow reading it") from None
    except ValueError:  # a NUL in the path
        raise _unreadable(file, "this is no path", "check the path") from None
    except OSError as error:
        raise _unreadable(file, f"this file cannot be read ({error.strerror})", "check the path") from None


def _unreadable(file: str, what: str, hint: str) -> ReplayErrors:
    return ReplayErrors([ReplayProblem(problem.FILE, file, what, hint)])
