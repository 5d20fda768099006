"""The outcome of a replay as the object that `loadstep replay --json` prints; `schema.json` describes it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from engine.flow.computed.names import COMPUTED, Computed
from engine.flow.model import Value
from engine.job.plain import conclusion_to_plain
from engine.job.replay.problem import ReplayErrors
from engine.job.replay.walker import Given, unused
from engine.job.state import CARRIED, SKIPPED_FOR, SPENT, Conclusion
from engine.job.walk import Walk
from engine.physics.quantity import SI_UNIT
from engine.version import program_version

FORMAT = 1

_FROM_CONCLUSION = ("finding", "proved_by", "ranked", "ruled_out", "also", "next_measurement")


def result(file: str, walk: Walk, given: Given) -> dict[str, Any]:
    """The object for a walk that `walker.replay` finished."""
    conclusion = walk.conclusion
    if conclusion is None:
        raise RuntimeError(f"the walk of {walk.flow.name} ended without a conclusion")
    return {
        "format": FORMAT,
        "file": file,
        "flow": walk.job_flow.name,
        "revision": walk.job_flow.revision,
        "flow_hash": walk.flow.hash,
        "version": program_version(),
        **_concluded(conclusion),
        "path": path(walk),
        "cautions": [{"step": shown.step, "ids": list(shown.ids)} for shown in walk.cautions],
        "derived": dict(_derived(walk)),
        "unanswered": list(walk.unknown),
        "unused": list(unused(walk, given)),
        "implausible": [name for name, entry in given.entries.items() if entry.implausible],
    }


def failure(file: str, errors: ReplayErrors) -> dict[str, Any]:
    """The object for a file that could not be walked: its first problem, with a word on how many follow."""
    first, *others = errors.problems
    hint = first.hint
    if others:
        hint += f"{'; ' if hint else ''}{len(others)} more: leave --json out to see them all"
    error = {"kind": first.kind, "where": first.where, "message": first.message, "hint": hint}
    return {"format": FORMAT, "file": file, "error": error}


def path(walk: Walk) -> list[str]:
    """The steps taken, in order, without those passed over: not needed, done often enough, known before."""
    return [entry.step for entry in walk.trail if entry.how not in (SKIPPED_FOR, SPENT, CARRIED)]


def _derived(walk: Walk) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every computed name that is known and was not entered, with its SI value and unit (None for words)."""
    entered = walk.asked & walk.facts.known().keys()
    for name, computed in _computed_names(walk):
        value = walk.facts.get(name)
        if value is not None and name not in entered:
            unit = SI_UNIT[computed.kind] if computed.kind else None
            yield name, {"value": _as_json(value), "unit": unit}


def _computed_names(walk: Walk) -> Iterator[tuple[str, Computed]]:
    for computed in COMPUTED.values():
        if computed.scope == "job":
            yield computed.name, computed
        else:
            for set_name in walk.flow.sets:
                yield f"{set_name}.{computed.name}", computed


def _as_json(value: Value) -> float | str | list[str]:
    return sorted(value) if isinstance(value, frozenset) else value


def _concluded(conclusion: Conclusion) -> dict[str, Any]:
    plain = conclusion_to_plain(conclusion)
    ended = "interrupted" if conclusion.interrupted else "concluded"
    return {"ended": ended, **{key: plain[key] for key in _FROM_CONCLUSION}}
