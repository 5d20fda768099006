"""Steps and watch rules from their entries."""

from __future__ import annotations

from collections.abc import Mapping

from engine.flow.assemble.conditions import condition
from engine.flow.assemble.quantities import amount
from engine.flow.assemble.readings import check_names
from engine.flow.assemble.rules import build_next, check_finding, check_findings, check_target
from engine.flow.assemble.sections import Entry, Sections
from engine.flow.model import RESUME, SIGNALS, Caution, Step, Watch
from engine.flow.names import NameTable
from engine.flow.schema import StepPart, WatchPart
from engine.flow.suggest import did_you_mean, shown
from engine.physics.quantity import Kind


class StepBuilder:
    """Makes steps; what all of them share is given once."""

    def __init__(
        self,
        sections: Sections,
        table: NameTable,
        cautions: Mapping[str, Caution],
        rankable: tuple[str, ...],
        settled: str,
    ) -> None:
        self._sections, self._table, self._cautions = sections, table, cautions
        self._rankable, self._settled = rankable, settled

    def step(self, entry: Entry[StepPart]) -> Step:
        """One step, with its own problems noted."""
        part = entry.part
        check_shape(entry)
        self._check_references(entry)
        settle = amount(entry, "settle", part.settle, Kind.TIME)
        return Step(
            entry.name,
            part.title,
            do=part.do,
            why=part.why,
            how=tuple(part.how),
            exposure=tuple(part.exposure),
            cautions=self._merged(part),
            set=part.set,
            settle=settle,
            settled=(part.settled or self._settled) if settle else "",
            ask=tuple(part.ask),
            record=tuple(part.record),
            for_=tuple(part.for_),
            skip_to=part.skip_to,
            at_most=part.at_most,
            then=part.then,
            next=build_next(entry, self._sections, self._table),
            conclude=self._rankable if part.conclude == "all" else tuple(part.conclude or ()),
            proved=part.proved,
            end=part.end,
            resume=part.next == RESUME,
        )

    def _merged(self, part: StepPart) -> tuple[str, ...]:
        """The step's own cautions and those of its exposures, the gravest signal word first."""
        of_exposure = [c.id for c in self._cautions.values() if c.exposure in part.exposure]
        every = dict.fromkeys([*(c for c in part.cautions if c in self._cautions), *of_exposure])
        return tuple(sorted(every, key=lambda c: SIGNALS.index(self._cautions[c].signal)))

    def _check_references(self, entry: Entry[StepPart]) -> None:
        part, sections = entry.part, self._sections
        readings, whole = sections.names("readings"), sections.whole
        check_names(entry, "ask", part.ask, "reading", readings, whole)
        check_names(entry, "record", part.record, "reading", readings, whole)
        check_names(entry, "cautions", part.cautions, "caution", sections.names("cautions"), whole)
        self._check_exposure(entry)
        if part.set is not None and part.set not in sections.names("sets") and whole:
            entry.wrong(
                f"unknown set {shown(part.set)}", did_you_mean(part.set, sections.names("sets")), "set"
            )
        check_findings(entry, sections, part.for_, "for")
        if isinstance(part.conclude, list):
            check_findings(entry, sections, part.conclude, "conclude")
        elif part.conclude == "all" and not self._rankable and whole:
            entry.wrong("'conclude: all' without a finding that a sign weighs", "add signs", "conclude")
        if part.proved is not None:
            check_finding(entry, sections, part.proved, "proved")
        check_target(entry, sections, part.skip_to, "skip_to")
        check_target(entry, sections, part.then, "then")

    def _check_exposure(self, entry: Entry[StepPart]) -> None:
        """Each exposure must bring at least one caution; nobody meets a hazard without its words."""
        known = {c.exposure for c in self._cautions.values() if c.exposure}
        maybe = {e.part.exposure for e in self._sections.entries["cautions"].values()}
        for number, exposure in enumerate(entry.part.exposure):
            whole = self._sections.whole and not self._sections.broken["cautions"]
            if exposure not in known | maybe and whole:
                hint = did_you_mean(exposure, known) or f"add a caution with 'exposure: {exposure}'"
                what = f"no caution for exposure {shown(exposure)}"
                entry.wrong(what, hint, "exposure", number)


def check_shape(entry: Entry[StepPart]) -> None:
    """Keys of a step that need, or exclude, one another."""
    part, wrong = entry.part, entry.wrong
    if entry.name == RESUME:
        wrong("no step can be called 'resume'", "it means: back to what was interrupted; rename the step")
    _check_set(entry)
    for one, other in (("for_", "skip_to"), ("at_most", "then")):
        key, other_key = one.rstrip("_"), other
        if bool(getattr(part, one)) and getattr(part, other) is None:
            wrong(f"'{key}' needs '{other_key}'", f"add '{other_key}: STEP'", key, key=True)
        if getattr(part, other) is not None and not getattr(part, one):
            wrong(f"'{other_key}' needs '{key}'", f"add '{key}:', or delete it", other_key, key=True)
    if part.at_most == 0:
        wrong("'at_most' must be 1 or more", "", "at_most")
    _check_conclusion(entry)
    leads_on = part.next is not None or part.end or part.conclude or part.proved
    if not leads_on:
        hint = "add 'next:', 'conclude:', 'proved:' or 'end: true'"
        wrong(f"step '{entry.name}' leads nowhere", hint)
    if part.end and part.next is not None:
        wrong("'end' and 'next' in one step", "delete one", "end", key=True)


def _check_set(entry: Entry[StepPart]) -> None:
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


def _check_conclusion(entry: Entry[StepPart]) -> None:
    part, wrong = entry.part, entry.wrong
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


def build_watch(entry: Entry[WatchPart], sections: Sections, table: NameTable) -> Watch:
    """One watch rule."""
    part = entry.part
    for key in ("go", "again"):
        target = getattr(part, key)
        if target is not None and target not in sections.names("steps"):
            hint = did_you_mean(target, sections.names("steps"))
            entry.wrong(f"there is no step {shown(target)}", hint, key)
    when = condition(entry, table, part.when, "when", in_set=True)
    return Watch(part.name, when, part.go, part.because, part.again)
