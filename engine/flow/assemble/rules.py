"""The `next` of a step: rules in order, then `unknown` and `otherwise`."""

from __future__ import annotations

from collections.abc import Mapping

from engine.flow.assemble.conditions import condition
from engine.flow.assemble.references import check_all_ranked, check_target, those_there
from engine.flow.assemble.sections import WAYS, Entry, Sections
from engine.flow.model import RESUME, Next, Rule
from engine.flow.names import NameTable
from engine.flow.schema import RulePart, StepPart


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
        rule_out = those_there(self._entry, self._sections, part.rule_out)
        hold_back = those_there(self._entry, self._sections, part.hold_back)
        if (part.rule_out or part.hold_back) and not (rule_out or hold_back) and part.go is None:
            return None  # it speaks of what this flow does not have
        self._check_rule(number, part, {"rule_out": rule_out, "hold_back": hold_back})
        when = condition(self._entry, self._table, part.when, "next", number, "when")
        check_target(self._entry, self._sections, part.go, "next", number, "go", resume=True)
        return Rule(when, part.go, tuple(rule_out), part.because, tuple(hold_back))

    def _check_rule(self, number: int, part: RulePart, named: Mapping[str, list[str]]) -> None:
        wrong = self._entry.wrong
        if part.go is None and not part.rule_out and not part.hold_back:
            wrong(f"rule {number + 1} does nothing", "add 'go:' or 'rule_out:'", "next", number)
        for key, findings in named.items():
            if getattr(part, key) and not part.because:
                wrong(f"'{key}' without a reason", "add 'because:'", "next", number, key, key=True)
            check_all_ranked(self._entry, self._sections, findings, "next", number, key)

    def _default(self, number: int, part: RulePart) -> None:
        for key, target in (("unknown", part.unknown), ("otherwise", part.otherwise)):
            if target is None:
                continue
            if key in self._defaults:
                self._entry.wrong(f"'{key}' is here twice", "delete one", "next", number, key, key=True)
            self._defaults.setdefault(key, target)
            check_target(self._entry, self._sections, target, "next", number, key, resume=True)
        if part.when or part.go or part.rule_out or part.hold_back or part.because:
            hint = "write each as an entry of its own"
            self._entry.wrong("'when' and 'unknown' or 'otherwise' in one rule", hint, "next", number)

    def _check_defaults(self, decides: bool) -> None:
        if "otherwise" not in self._defaults or (decides and "unknown" not in self._defaults):
            self._sections.doubts.add(WAYS)
        if "otherwise" not in self._defaults:
            hint = "add '- otherwise: STEP'"
            self._entry.wrong("'next' does not say where to go if no rule is true", hint, "next", key=True)
        if decides and "unknown" not in self._defaults:
            hint = "add '- unknown: STEP'"
            what = "'next' does not say where to go if a reading is unknown"
            self._entry.wrong(what, hint, "next", key=True)
