"""Reading a replay file: YAML whose scalars are all text; `layout` says what is in it."""

from __future__ import annotations

import stat
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from engine.flow.library import MAIN_FLOW
from engine.flow.positions import Document, read
from engine.flow.problem import Place, Problems
from engine.flow.text import LARGEST, decode
from engine.job.replay import problem
from engine.job.replay.layout import Expected, Fact, Layout, laid_out
from engine.job.replay.problem import ReplayErrors, ReplayProblem


@dataclass(frozen=True, slots=True)
class ReplayFile:
    """A file laid out as it should be; whether the flow knows its names is checked later.

    `flow_file` is the file that names the flow, from whose folder a path to it counts.
    """

    file: str
    flow: str
    flow_file: str
    flow_place: Place
    facts: tuple[Fact, ...]
    expected: Expected | None = None


def read_replay(file: str) -> ReplayFile:
    """The replay file at the path `file`, with the facts of the file it is like.

    Raises ReplayErrors with all that is wrong with the layout.
    """
    own = _layout(file)
    base, base_file = _base(own, file)
    named, named_in = (own, file) if own.flow or base is None else (base, base_file)
    facts = _over(base.facts if base else (), own.facts)
    return ReplayFile(file, named.flow or MAIN_FLOW, named_in, named.flow_place, facts, own.expected)


def _base(own: Layout, file: str) -> tuple[Layout | None, str]:
    """The layout of the file that `own` is like, if any, and that file's path."""
    if own.like is None:
        return None, ""
    base_file = str(Path(file).parent / own.like)
    try:
        base = _layout(base_file)
    except ReplayErrors as errors:
        if errors.problems[0].where != base_file:
            raise
        first = errors.problems[0]  # there is nothing to read: the line that names it is to blame
        what = f"{base_file}: {first.message}"
        raise ReplayErrors([ReplayProblem(first.kind, str(own.like_place), what, first.hint)]) from None
    if base.like is not None:
        what = f"{base_file} is itself like another file"
        hint = "name that one here"
        raise ReplayErrors([ReplayProblem(problem.FORMAT, str(own.like_place), what, hint)])
    return base, base_file


def _over(under: Iterable[Fact], facts: Iterable[Fact]) -> tuple[Fact, ...]:
    """The facts of both files, those of the second where both give one."""
    return tuple({fact.full_name: fact for fact in (*under, *facts)}.values())


def _layout(file: str) -> Layout:
    document = _document(file)
    found: list[ReplayProblem] = []

    def note(kind: str, place: Place, what: str, hint: str = "") -> None:
        found.append(ReplayProblem(kind, str(place), what, hint))

    layout = laid_out(document, note)
    if found or layout is None:
        raise ReplayErrors(found)
    return layout


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
