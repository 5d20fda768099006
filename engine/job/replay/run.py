"""One replay file from its path to its finished walk."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from engine.flow.library import NoSuchFlow, Source, find, is_by_place
from engine.flow.load import load_flow
from engine.flow.model import Flow
from engine.flow.problem import FlowErrors
from engine.flow.suggest import shown
from engine.job.replay import problem
from engine.job.replay.facts import read_facts
from engine.job.replay.file import ReplayFile, read_replay
from engine.job.replay.problem import ReplayErrors, ReplayProblem
from engine.job.replay.walker import Given, replay
from engine.job.store.place import default_folder
from engine.job.walk import Walk, WalkError


@dataclass(frozen=True, slots=True)
class Replayed:
    """A file that was walked to its end: its name as given, the finished walk, and what it gave."""

    file: str
    walk: Walk
    given: Given


def replay_file(file: str) -> Replayed:
    """Walk the replay file at the path `file`. Raises ReplayErrors with all that is wrong with it."""
    return replayed(read_replay(file))


def replayed(parsed: ReplayFile) -> Replayed:
    """The finished walk of a file that was read. Raises ReplayErrors."""
    flow = _flow(parsed)
    given = read_facts(parsed, flow)
    try:
        return Replayed(parsed.file, replay(flow, given), given)
    except WalkError as error:
        raise _flow_problem(parsed, str(error).rstrip("."), "mend the flow") from None


def _flow(file: ReplayFile) -> Flow:
    try:
        source = _source(file)
    except NoSuchFlow as missing:
        raise _flow_problem(file, str(missing).rstrip("."), "") from None
    flow = _load(source)
    if isinstance(flow, FlowErrors):
        what = f"the flow {shown(file.flow)} has problems, the first is {flow.problems[0]}"
        raise _flow_problem(file, what, f"`loadstep lint {source.name}` lists them")
    return flow


def _source(file: ReplayFile) -> Source:
    """A flow's file is looked for beside the replay file, where its author sees it."""
    name = file.flow
    if not is_by_place(name) and (Path(name).suffix or len(Path(name).parts) > 1):
        name = str(Path(file.file).parent / name)
    return find(name, default_folder())


@cache
def _load(source: Source) -> Flow | FlowErrors:
    """The flow or what is wrong with it, once, however many files replay it."""
    try:
        return load_flow(source)
    except FlowErrors as errors:
        return errors


def _flow_problem(file: ReplayFile, what: str, hint: str) -> ReplayErrors:
    return ReplayErrors([ReplayProblem(problem.FLOW, str(file.flow_place), what, hint)])
