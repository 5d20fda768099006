"""Runs of steps in parts: their exits led on to the flow's own steps, and their place among these.

A part with `steps` names one step where a walk comes in (`start`) and the names by which it leads on
(`exits`). A flow says behind which of its steps each exit stands. Names are bound, no text is copied: a
problem in such a step is told at its line in the part.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from engine.flow.assemble.references import check_target
from engine.flow.assemble.sections import Entry, Run, Sections
from engine.flow.schema import RulePart, StepPart, UsePart
from engine.flow.suggest import did_you_mean, listed, shown


def bound(part: StepPart, exits: Mapping[str, str]) -> StepPart:
    """The step with every exit replaced by the step behind it."""
    way = part.next
    lead = _lead(way, exits) if isinstance(way, str) else [_bound_rule(rule, exits) for rule in way or ()]
    return part.model_copy(
        update={
            "skip_to": _lead(part.skip_to, exits),
            "then": _lead(part.then, exits),
            "next": None if way is None else lead,
        }
    )


def _bound_rule(rule: RulePart, exits: Mapping[str, str]) -> RulePart:
    keys = ("go", "unknown", "otherwise")
    return rule.model_copy(update={key: _lead(getattr(rule, key), exits) for key in keys})


def _lead(target: str | None, exits: Mapping[str, str]) -> str | None:
    return target if target is None else exits.get(target, target)


def ways(part: StepPart) -> Iterator[str]:
    """The targets that a step names, in the order they are written."""
    rules = part.next if isinstance(part.next, list) else ()
    of_rules = (target for rule in rules for target in (rule.go, rule.unknown, rule.otherwise))
    plain = part.next if isinstance(part.next, str) else None
    for target in (part.skip_to, part.then, plain, *of_rules):
        if target is not None:
            yield target


def in_order(sections: Sections) -> dict[str, Entry[StepPart]]:
    """All steps: the flow's own as written, each run before the first step that it leads on to.

    A run that leads on to none ends the walk, and so stands last.
    """
    return _Order(sections).steps()


class _Order:
    def __init__(self, sections: Sections) -> None:
        self._entries: dict[str, Entry[StepPart]] = sections.entries["steps"]
        self._own = [name for name, entry in self._entries.items() if sections.is_own(entry)]
        self._waiting = list(sections.runs.values())
        self._ordered: dict[str, Entry[StepPart]] = {}

    def steps(self) -> dict[str, Entry[StepPart]]:
        for name in self._own:
            self._runs_before(name)
            self._ordered[name] = self._entries[name]
        return {**self._ordered, **self._entries}

    def _runs_before(self, target: str) -> None:
        for run in [run for run in self._waiting if target in run.exits.values()]:
            if run in self._waiting:  # not placed by one that leads to it, in a ring
                self._waiting.remove(run)
                self._runs_before(run.head.part.start)
                self._ordered.update((name, self._entries[name]) for name in run.steps)


def check_uses(sections: Sections) -> None:
    """Notes exits that lead nowhere, are not there, or are never taken."""
    for use in sections.uses.values():
        run = _run_of(use, sections)
        if run is not None:
            _check_start(run)
            _check_exits(use, run, sections)


def _run_of(use: Entry[UsePart], sections: Sections) -> Run | None:
    return next((run for run in sections.runs.values() if run.use is use), None)


def _check_start(run: Run) -> None:
    start = run.head.part.start
    if start not in run.steps:
        run.head.wrong(
            f"there is no step {shown(start)} in this part", did_you_mean(start, run.steps), "start"
        )


def _check_exits(use: Entry[UsePart], run: Run, sections: Sections) -> None:
    declared = run.head.part.exits
    taken = {target for name in run.steps for target in ways(sections.entries["steps"][name].part)}
    for name, words in declared.items():
        if name in run.steps:
            run.head.wrong(
                f"exit '{name}' is a step of this part, too", "rename one", "exits", name, key=True
            )
        elif run.exits[name] not in taken:
            hint = "lead a step to it, or delete it"
            run.head.wrong(f"no step leaves by exit '{name}'", hint, "exits", name, key=True)
        if name not in use.part.exits:
            what = f"exit '{name}' of {shown(use.part.part)} leads nowhere ({words.rstrip('.')})"
            use.wrong(what, f"add 'exits: {{{name}: STEP}}'")
    for name, target in use.part.exits.items():
        if name not in declared:
            hint = did_you_mean(name, declared) or "delete it"
            use.wrong(f"{shown(use.part.part)} has no exit {shown(name)}", hint, "exits", name, key=True)
        check_target(use, sections, target, "exits", name, resume=True)


def no_exits(use: Entry[UsePart]) -> None:
    """Notes exits of a part that has no steps."""
    if use.part.exits:
        what = f"{shown(use.part.part)} has no steps, so no exit {listed(map(shown, use.part.exits), 'and')}"
        use.wrong(what, "delete 'exits'", "exits", key=True)
