"""The outcome of a replay in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from engine.flow.computed.names import find_computed
from engine.flow.model import INCONCLUSIVE, Flow
from engine.job.certainty import odds, percent
from engine.job.replay.result import path
from engine.job.replay.run import Replayed
from engine.job.replay.walker import unused
from engine.job.state import HANDED_OVER, SKIPPED_FOR, Conclusion, Spoken
from tui.commands.output import wrapped

_MOST_SIGNS = 4  # each way, as on the screen
_MOST_RIVALS = 4


def account(replayed: Replayed) -> Iterator[str]:
    """Lines: the finding, its evidence and rivals, what to do, the path taken, and what was not measured."""
    walk, conclusion = replayed.walk, replayed.walk.conclusion
    if conclusion is None:
        raise RuntimeError(f"the walk of {walk.flow.name} ended without a conclusion")
    flow = walk.flow
    first = walk.job_flow
    yield f"{replayed.file}: {first.title} ({first.name}, revision {first.revision})"
    yield from _finding(flow, conclusion)
    yield from _ranking(flow, conclusion)
    yield from _section(
        "Ruled out", (f"{_title(flow, o.finding)}: {o.because}" for o in conclusion.ruled_out)
    )
    yield from _open_ends(flow, conclusion)
    yield from _remedy(flow, conclusion.finding)
    yield from _section("Path", [" > ".join(path(walk))])
    skipped = (f"{entry.step}: {entry.because}" for entry in walk.trail if entry.how == SKIPPED_FOR)
    yield from _section("Steps not needed", skipped)
    handed = (f"{entry.step}: {entry.because}" for entry in walk.trail if entry.how == HANDED_OVER)
    yield from _section("Handed over to", handed)
    yield from _section("Not measured", _joined(_label(flow, name) for name in walk.unknown))
    yield from _section("Given, but never asked", _joined(unused(walk, replayed.given)))
    doubts = ((name, entry.implausible) for name, entry in replayed.given.entries.items())
    yield from _section("Accepted, but implausible", (f"{name}: {doubt}" for name, doubt in doubts if doubt))
    yield ""


def _finding(flow: Flow, conclusion: Conclusion) -> Iterator[str]:
    if conclusion.interrupted:
        yield "  A limit was reached and cut the procedure short; this rests on what was read until then."
    means = flow.findings[conclusion.finding].means if conclusion.finding in flow.findings else ""
    sure = ""
    if conclusion.proved_by:
        sure = f", proved by the step {conclusion.proved_by}"
    elif conclusion.ranked and conclusion.finding != INCONCLUSIVE:
        sure = f", {percent(conclusion.ranked[0].probability)}"
    yield from _section(
        "Finding", [f"{_title(flow, conclusion.finding)} ({conclusion.finding}){sure}", means]
    )
    if conclusion.also:
        yield from _section(
            "And a second one, for what the first leaves open",
            [_title(flow, conclusion.also), *map(_spoken, conclusion.also_for[:_MOST_SIGNS])],
        )

    if conclusion.held_back:
        held = conclusion.held_back
        yield from _section("Ranks first, and is not told", [f"{_title(flow, held.finding)}: {held.because}"])


def _ranking(flow: Flow, conclusion: Conclusion) -> Iterator[str]:
    if not conclusion.ranked:
        return
    best, *rivals = conclusion.ranked
    yield from _section(f"For {_title(flow, best.finding)}", map(_spoken, best.for_[:_MOST_SIGNS]))
    yield from _section("Against it", map(_spoken, best.against[:_MOST_SIGNS]))
    told = (f"{_title(flow, rival.finding)}, {percent(rival.probability)}" for rival in rivals[:_MOST_RIVALS])
    yield from _section("Rivals", told)


def _open_ends(flow: Flow, conclusion: Conclusion) -> Iterator[str]:
    if conclusion.outside:
        yield from _section(
            "The readings point beyond what was asked for", [_title(flow, conclusion.outside)]
        )
    missing = conclusion.next_measurement
    if missing:
        one, other = (_title(flow, finding) for finding in missing.separates)
        told = f"{_label(flow, missing.reading)}: it would part {one} from {other}"
        yield from _section("What to measure next", [told])


def _remedy(flow: Flow, finding: str) -> Iterator[str]:
    told = flow.findings.get(finding)
    if told is None:
        return
    yield from _section("Confirm", told.confirm)
    yield from _section("Repair", told.repair)
    yield from _section("Verify", told.verify)
    yield from _section("Note", [told.note])


def _section(title: str, lines: Iterable[str]) -> Iterator[str]:
    """A title and its lines, wrapped; a section that would say nothing is left out."""
    told = [line for line in lines if line]
    if told:
        yield f"  {title}:"
    for line in told:
        yield from wrapped(line, "    ", "      ")


def _joined(words: Iterable[str]) -> list[str]:
    return [", ".join(words)]


def _spoken(sign: Spoken) -> str:
    return f"{sign.says} ({odds(sign.odds)})"


def _title(flow: Flow, finding: str) -> str:
    return flow.findings[finding].title if finding in flow.findings else finding


def _label(flow: Flow, full_name: str) -> str:
    """`Low-side gauge (loaded.low_side)`."""
    name = full_name.rpartition(".")[2]
    reading, computed = flow.readings.get(name), find_computed(full_name)
    label = reading.label if reading else computed[0].label if computed else ""
    return f"{label} ({full_name})" if label else full_name
