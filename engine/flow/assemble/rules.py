"""The `next` of a step: rules in order, then `unknown` and `otherwise`."""

from __future__ import annotations

from typing import Any

from engine.flow.assemble.conditions import condition
from engine.flow.assemble.sections import Entry, Sections
from engine.flow.model import RESUME, Next, Rule
from engine.flow.names import NameTable
from engine.flow.positions import PathPart
from engine.flow.schema import RulePart, StepPart
from engine.flow.suggest import did_you_mean, shown


def check_target(
    entry: Entry[StepPart], sections: Sections, target: str | None, *below: PathPart, resume: bool = False
) -> None:
    """Notes a target that is no step; `resume` allows going back to what a watch rule interrupted."""
    if target is None or target in sections.entries["steps"] or target in sections.broken["steps"]:
        return
    if target == RESUME:
        if not resume:
            entry.wrong("'resume' cannot stand here", "it goes into 'next' only", *below)
        return
    hint = did_you_mean(target, [*sections.names("steps"), *([RESUME] if resume else [])])
    entry.wrong(f"there is no step {shown(target)}", hint, *below)


def build_next(entry: Entry[StepPart], sections: Sections, table: NameTable) -> Next | None:
    """The step's Next, or None where it leads nowhere or resumes."""
    given = entry.part.next
    if given is None:
        return None
    if isinstance(given, str):
        check_target(entry, sections, given, "next", resume=True)
        return None if given == RESUME else Next((), None, given)
    return _RuleList(entry, sections, table).build(given)


class _RuleList:
    def __init__(self, entry: Entry[StepPart], sections: Sections, table: NameTable) -> None:
        self._entry, self._sections, self._table = entry, sections, table
        self._defaults: dict[str, str] = {}

    def build(self, parts: list[RulePart]) -> Next:
        rules = [rule for number, part in enumerate(parts) if (rule := self._rule(number, part))]
        self._check_defaults(any(part.when and part.go for part in parts))
        return Next(tuple(rules), self._defaults.get("unknown"), self._defaults.get("otherwise"))

    def _rule(self, number: int, part: RulePart) -> Rule | None:
        if part.unknown is not None or part.otherwise is not None:
            self._default(number, part)
            return None
        if self._defaults:
            hint = "put 'unknown' and 'otherwise' last"
            self._entry.wrong(
                f"rule {number + 1} comes after the rules for everything else", hint, "next", number
            )
        if part.when is None:
            hint = "add 'when:', or write 'otherwise: STEP'"
            self._entry.wrong(f"rule {number + 1} has no 'when'", hint, "next", number)
            return None
        self._check_rule(number, part)
        when = condition(self._entry, self._table, part.when, "next", number, "when")
        check_target(self._entry, self._sections, part.go, "next", number, "go", resume=True)
        return Rule(when, part.go, tuple(part.rule_out), part.because)

    def _check_rule(self, number: int, part: RulePart) -> None:
        wrong = self._entry.wrong
        if part.go is None and not part.rule_out:
            wrong(f"rule {number + 1} does nothing", "add 'go:' or 'rule_out:'", "next", number)
        if part.rule_out and not part.because:
            wrong("'rule_out' without a reason", "add 'because:'", "next", number, "rule_out", key=True)
        check_findings(self._entry, self._sections, part.rule_out, "next", number, "rule_out")

    def _default(self, number: int, part: RulePart) -> None:
        for key, target in (("unknown", part.unknown), ("otherwise", part.otherwise)):
            if target is None:
                continue
            if key in self._defaults:
                self._entry.wrong(f"'{key}' is here twice", "delete one", "next", number, key, key=True)
            self._defaults.setdefault(key, target)
            check_target(self._entry, self._sections, target, "next", number, key, resume=True)
        if part.when or part.go or part.rule_out or part.because:
            hint = "write each as an entry of its own"
            self._entry.wrong("'when' and 'unknown' or 'otherwise' in one rule", hint, "next", number)

    def _check_defaults(self, decides: bool) -> None:
        if "otherwise" not in self._defaults:
            hint = "add '- otherwise: STEP'"
            self._entry.wrong("'next' does not say where to go if no rule is true", hint, "next", key=True)
        if decides and "unknown" not in self._defaults:
            hint = "add '- unknown: STEP'"
            what = "'next' does not say where to go if a reading is unknown"
            self._entry.wrong(what, hint, "next", key=True)


def check_findings(entry: Entry[Any], sections: Sections, given: list[str], *below: PathPart) -> None:
    """Notes names that are no finding, or one that is only another's second wording."""
    for number, name in enumerate(given):
        check_ranked(entry, sections, name, *below, number)
        if name in given[:number]:
            entry.wrong(f"finding {shown(name)} is listed twice", "delete one", *below, number)


def check_ranked(
    entry: Entry[Any], sections: Sections, name: str, *below: PathPart, key: bool = False
) -> None:
    """Notes a name that cannot be weighed: no finding, or told instead of another one."""
    check_finding(entry, sections, name, *below, key=key)
    found = sections.entries["findings"].get(name)
    if found is not None and found.part.same_as:
        hint = f"name '{found.part.same_as}', it is told in its place"
        entry.wrong(f"finding '{name}' is not weighed by itself", hint, *below, key=key)
    if found is not None and found.part.prior == 0:
        hint = "use 'proved:', or give it a prior"
        entry.wrong(f"finding '{name}' has prior 0 and can only be proved", hint, *below, key=key)


def check_finding(
    entry: Entry[Any], sections: Sections, name: str, *below: PathPart, key: bool = False
) -> None:
    """Notes a name that is no finding."""
    known = sections.names("findings")
    if name not in known and sections.whole:
        entry.wrong(f"unknown finding {shown(name)}", did_you_mean(name, known), *below, key=key)
