"""Keys of a step that need, or exclude, one another."""

from __future__ import annotations

from engine.flow.assemble.sections import Entry
from engine.flow.model import RESUME
from engine.flow.schema import StepPart


def check_ways(entry: Entry[StepPart]) -> bool:
    """Notes what is wrong with where the step leads; true if something is."""
    part, wrong, before = entry.part, entry.wrong, len(entry.problems)
    if entry.name == RESUME:
        wrong("no step can be called 'resume'", "it means: back to what was interrupted; rename the step")
    _check_pair(entry, "for", part.for_, "skip_to", part.skip_to)
    _check_pair(entry, "at_most", part.at_most, "then", part.then)
    if part.at_most == 0:
        wrong("'at_most' must be 1 or more", "", "at_most")
    if not (part.next is not None or part.end or part.conclude or part.proved or part.hand_over):
        hint = "add 'next:', 'conclude:', 'proved:', 'hand_over:' or 'end: true'"
        wrong(f"step '{entry.name}' leads nowhere", hint)
    if part.end and part.next is not None:
        wrong("'end' and 'next' in one step", "delete one", "end", key=True)
    _check_hand_over(entry)
    return len(entry.problems) > before


def _check_pair(entry: Entry[StepPart], key: str, given: object, target_key: str, target: str | None) -> None:
    if given and target is None:
        entry.wrong(f"'{key}' needs '{target_key}'", f"add '{target_key}: STEP'", key, key=True)
    if target is not None and not given:
        entry.wrong(f"'{target_key}' needs '{key}'", f"add '{key}:', or delete it", target_key, key=True)


def _check_hand_over(entry: Entry[StepPart]) -> None:
    part = entry.part
    if part.carry and part.hand_over is None:
        entry.wrong("'carry' needs 'hand_over'", "add 'hand_over: FLOW', or delete it", "carry", key=True)
    for key in ("next", "conclude", "proved", "end") if part.hand_over else ():
        if getattr(part, key):
            what = f"'{key}' in a step that hands over"
            entry.wrong(
                what, "the other flow goes on; put it into a step before, or delete it", key, key=True
            )


def check_set(entry: Entry[StepPart]) -> None:
    """Notes what is wrong with what the step takes into its set."""
    part, wrong = entry.part, entry.wrong
    if part.record and part.set is None:
        wrong(
            "'record' needs 'set'",
            "add 'set: NAME', or use 'ask' for readings of the job",
            "record",
            key=True,
        )
    if part.settle is not None and part.set is None:
        wrong("'settle' needs 'set'", "add 'set: NAME'", "settle", key=True)
    if part.settle is not None and part.set is not None and not part.record:
        wrong("'settle' without 'record'", "add the readings to take once it has settled", "settle", key=True)
    if part.set is not None and not part.record:
        wrong("'set' without 'record'", "add the readings to take, or delete 'set'", "set", key=True)
    if part.settled is not None and part.settle is None:
        wrong("'settled' needs 'settle'", "add 'settle: 3 min' or delete it", "settled", key=True)
    for number, name in enumerate(part.record):
        if name in part.ask:
            hint = "a reading is asked for the job or recorded into the set"
            wrong(f"'{name}' is in 'ask' and in 'record'", hint, "record", number)


def check_conclusion(entry: Entry[StepPart]) -> None:
    """Notes keys that a concluding step cannot have."""
    part, wrong = entry.part, entry.wrong
    for name in ("measure_first", "ranks_only"):
        if getattr(part, name) and not part.conclude:
            wrong(f"'{name}' needs 'conclude'", "move it to the step that concludes", name, key=True)
    if not (part.conclude or part.proved):
        return
    key = "conclude" if part.conclude else "proved"
    if part.conclude and part.proved:
        wrong("'conclude' and 'proved' in one step", "delete one", "proved", key=True)
    for other in ("ask", "record", "at_most", "for_"):
        if getattr(part, other):
            name = other.rstrip("_")
            hint = "put it into a step before"
            wrong(f"'{name}' in a step that concludes", hint, name, key=True)
    if part.end:
        wrong(f"'end' is not needed beside '{key}'", "delete it", "end", key=True)
    if part.next == RESUME:
        wrong("a step that concludes cannot resume", "lead to the closing steps", "next")
