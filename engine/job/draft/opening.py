"""Opening a draft: the flow as it is now, where the walk begins, what is known and what is offered."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from engine.flow.bundle import Bundle
from engine.flow.graph import edges
from engine.flow.model import Flow, Value
from engine.flow.problem import FlowErrors
from engine.flow.suggest import did_you_mean, shown
from engine.job.draft.files import load_draft
from engine.job.entry import Entry
from engine.job.replay.facts import read_fitting
from engine.job.replay.file import read_replay
from engine.job.replay.problem import ReplayErrors, ReplayProblem
from engine.job.replay.walker import Given
from engine.job.walk import Walk, WalkError, begin

_NOTHING = Given({})


@dataclass(frozen=True, slots=True)
class Draft:
    """What is to be tried: a flow's file, the step to begin at (or its start), a replay file (or none)."""

    flow: Path
    step: str = ""
    facts: str = ""


class DraftErrors(Exception):
    """A draft that cannot be walked; `lines` say what is wrong, each with its place and remedy."""

    def __init__(self, lines: tuple[str, ...]) -> None:
        super().__init__("\n".join(lines))
        self.lines = lines


@dataclass(frozen=True, slots=True)
class OpenDraft:
    """A draft that can be walked. `offered` are entries by full name; `stale` facts that no longer fit."""

    flow: Flow
    bundle: Bundle
    first: Walk
    offered: Mapping[str, Entry] = field(default_factory=dict)
    stale: tuple[ReplayProblem, ...] = ()

    def same_as(self, other: OpenDraft | None) -> bool:
        """Whether a walk of the other is a walk of this one: not a byte was changed, nor what is offered."""
        if other is None or self.bundle.hash != other.bundle.hash:
            return False
        return self.offered == other.offered and self.stale == other.stale


def open_draft(draft: Draft, paths: set[Path]) -> OpenDraft:
    """The draft as it is saved now; its files are added to `paths`. Raises DraftErrors."""
    if draft.facts:
        paths.add(Path(draft.facts))
    try:
        loaded = load_draft(draft.flow, paths)
    except FlowErrors as errors:
        raise DraftErrors(tuple(str(errors).splitlines())) from None
    flow, stale = loaded.flow, tuple[ReplayProblem, ...]()
    if draft.step and draft.step not in flow.steps:
        raise DraftErrors((no_such_step(draft, flow),))
    given = _NOTHING
    if draft.facts:
        given, stale = _given(draft.facts, flow)
    try:
        first = begin(flow, draft.step or None, dict(_known_before(flow, draft.step, given)))
    except WalkError as error:
        raise DraftErrors((f"{draft.flow}: {error}",)) from None
    return OpenDraft(flow, loaded.bundle, first, given.entries, stale)


def no_such_step(draft: Draft, flow: Flow) -> str:
    """What to say of a step to begin at that the flow does not have."""
    hint = did_you_mean(draft.step, flow.steps)
    return f"{draft.flow}: there is no step {shown(draft.step)} to begin at" + (f", {hint}" if hint else "")


def _given(file: str, flow: Flow) -> tuple[Given, tuple[ReplayProblem, ...]]:
    """What the replay file gives; facts that no longer fit the flow are told and left out."""
    try:
        parsed = read_replay(file)
    except ReplayErrors as errors:
        return _NOTHING, errors.problems
    given, problems = read_fitting(parsed, flow)
    return given, tuple(problems)


def _known_before(flow: Flow, step: str, given: Given) -> Iterator[tuple[str, Value]]:
    """The facts that a walk to `step` would have brought along: those asked for in steps that lead to it."""
    if not step:
        return
    before = [flow.steps[name] for name in _leading_to(flow, step)]
    asked = {name for one in before for name in one.ask}
    asked |= {f"{one.set}.{name}" for one in before for name in one.record}
    for name, entry in given.entries.items():
        if name in asked:
            yield name, entry.value
    for one in before:
        if (
            one.set
            and one.settle is not None
            and any(f"{one.set}.{name}" in given.entries for name in one.record)
        ):
            waited = given.waited.get(one.set, one.settle)
            yield f"{one.set}.settled", "yes" if waited >= one.settle else "no"


def _leading_to(flow: Flow, step: str) -> list[str]:
    """The steps from which `step` can be reached, itself left out."""
    into: dict[str, list[str]] = {}
    for name, ways in edges(flow).items():
        for way in ways:
            into.setdefault(way.target, []).append(name)
    seen, left = {step}, [step]
    while left:
        new = [name for name in into.get(left.pop(), ()) if name not in seen]
        seen.update(new)
        left += new
    return [name for name in flow.steps if name in seen and name != step]
