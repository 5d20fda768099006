"""Walking one golden walk and comparing what it comes to with what it says."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from engine.job.replay.expected import Expected
from engine.job.replay.file import ReplayFile, read_replay
from engine.job.replay.problem import ReplayErrors, ReplayProblem
from engine.job.replay.result import path
from engine.job.replay.run import replayed
from engine.job.walk import Walk

NOTHING = "(nothing)"
"""What stands for the finding of a walk that concluded nothing."""


class State(StrEnum):
    """How a golden walk stands to its flow."""

    HOLDS = "holds"
    DIFFERS = "differs"
    NEW = "new"  # it says nothing yet of what it must come to
    BROKEN = "broken"  # it cannot be walked: it, or its flow, has problems


@dataclass(frozen=True, slots=True)
class Checked:
    """One golden walk: what it says, what it came to, or why it could not be walked.

    `walk` is its name among the `walks` of its file, empty for the file's own facts; `place` is where it is.
    """

    file: str
    state: State
    walk: str = ""
    place: str = ""
    finding: str = ""
    path: tuple[str, ...] = ()
    expected: Expected | None = None
    problems: tuple[ReplayProblem, ...] = ()


def check(file: str) -> list[Checked]:
    """Walk the replay file at the path `file`: its own facts and each of its `walks`.

    The facts of a file with `walks` are a walk of their own only if the file says what they must come to.
    Where they are wrong themselves, that alone is told.
    """
    try:
        parsed = read_replay(file)
        own = _checked(parsed)
    except ReplayErrors as errors:
        return [Checked(file, State.BROKEN, problems=errors.problems)]
    first = [own] if own.expected is not None or not parsed.walks else []
    return [*first, *map(_check, parsed.walks)]


def _check(walk: ReplayFile) -> Checked:
    try:
        return _checked(walk)
    except ReplayErrors as errors:
        return Checked(walk.file, State.BROKEN, walk.walk, str(walk.place), problems=errors.problems)


def _checked(parsed: ReplayFile) -> Checked:
    """Raises ReplayErrors if it cannot be walked."""
    walk = replayed(parsed).walk
    expected, finding, steps = parsed.expected, _finding(walk), tuple(path(walk))
    if expected is None:
        state = State.NEW
    elif expected.finding in (None, finding) and expected.path in (None, steps):
        state = State.HOLDS
    else:
        state = State.DIFFERS
    place = str(expected.place if expected else parsed.place or parsed.file)
    return Checked(parsed.file, state, parsed.walk, place, finding, steps, expected)


def _finding(walk: Walk) -> str:
    return walk.conclusion.finding if walk.conclusion is not None else NOTHING
