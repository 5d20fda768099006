"""Walking one golden walk and comparing what it comes to with what it says."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from engine.job.replay.file import read_replay
from engine.job.replay.layout import Expected
from engine.job.replay.problem import ReplayErrors, ReplayProblem
from engine.job.replay.result import path
from engine.job.replay.run import replay_file
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
    """One golden walk: what it says, what it came to, or why it could not be walked."""

    file: str
    state: State
    finding: str = ""
    path: tuple[str, ...] = ()
    expected: Expected | None = None
    problems: tuple[ReplayProblem, ...] = ()


def check(file: str) -> Checked:
    """Walk the replay file at the path `file`."""
    try:
        expected = read_replay(file).expected
        walk = replay_file(file).walk
    except ReplayErrors as errors:
        return Checked(file, State.BROKEN, problems=errors.problems)
    finding, steps = _finding(walk), tuple(path(walk))
    if expected is None:
        state = State.NEW
    elif expected.finding in (None, finding) and expected.path in (None, steps):
        state = State.HOLDS
    else:
        state = State.DIFFERS
    return Checked(file, state, finding, steps, expected)


def _finding(walk: Walk) -> str:
    return walk.conclusion.finding if walk.conclusion is not None else NOTHING
