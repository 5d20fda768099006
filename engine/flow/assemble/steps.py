"""Steps and watch rules from their entries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from engine.flow.assemble.conditions import condition
from engine.flow.assemble.quantities import amount
from engine.flow.assemble.references import (
    check_all_ranked,
    check_full_name,
    check_name,
    check_names,
    check_target,
    those_there,
)
from engine.flow.assemble.rules import build_next
from engine.flow.assemble.sections import NAMES, WAYS, Entry, Sections
from engine.flow.assemble.step_shape import check_conclusion, check_set, check_ways
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
        self._merges: dict[tuple[str, ...], tuple[str, ...]] = {}
        self._by_exposure: defaultdict[str, list[str]] = defaultdict(list)
        for caution in cautions.values():
            if caution.exposure is not None:
                self._by_exposure[caution.exposure].append(caution.id)

    def step(self, entry: Entry[StepPart]) -> Step:
        """One step, with its own problems noted."""
        part = entry.part
        self._check_shape(entry)
        self._check_references(entry)
        settle = amount(entry, "settle", part.settle, Kind.TIME)
        if (settle is None) is not (part.settle is None):
            self._sections.doubts.add(NAMES)
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
            for_=tuple(those_there(entry, self._sections, part.for_)),
            skip_to=part.skip_to,
            at_most=part.at_most,
            then=part.then,
            next=build_next(entry, self._sections, self._table),
            conclude=self._rankable if part.conclude == "all" else tuple(part.conclude or ()),
            proved=part.proved,
            measure_first=part.measure_first,
            ranks_only=part.ranks_only,
            end=part.end,
            resume=part.next == RESUME,
            hand_over=part.hand_over,
        )

    def _check_shape(self, entry: Entry[StepPart]) -> None:
        if check_ways(entry):
            self._sections.doubts.add(WAYS)
        check_set(entry)
        check_conclusion(entry)

    def _merged(self, part: StepPart) -> tuple[str, ...]:
        """The step's own cautions and those of its exposures, the gravest signal word first."""
        key = (*part.cautions, "", *part.exposure)
        if key not in self._merges:
            own = [name for name in part.cautions if name in self._cautions]
            of_exposure = [name for exposure in part.exposure for name in self._by_exposure[exposure]]
            every = dict.fromkeys([*own, *of_exposure])
            self._merges[key] = tuple(
                sorted(every, key=lambda name: SIGNALS.index(self._cautions[name].signal))
            )
        return self._merges[key]

    def _check_references(self, entry: Entry[StepPart]) -> None:
        part, sections = entry.part, self._sections
        check_names(entry, sections, "readings", part.ask, "ask")
        check_names(entry, sections, "readings", part.record, "record")
        check_names(entry, sections, "cautions", part.cautions, "cautions")
        self._check_exposure(entry)
        if part.set is not None:
            check_name(entry, sections, "sets", part.set, "set")
        check_all_ranked(entry, sections, those_there(entry, sections, part.for_), "for")
        if isinstance(part.conclude, list):
            check_all_ranked(entry, sections, part.conclude, "conclude")
        elif part.conclude == "all" and not self._rankable and sections.whole:
            entry.wrong("'conclude: all' without a finding that a sign weighs", "add signs", "conclude")
        if part.proved is not None:
            check_name(entry, sections, "findings", part.proved, "proved")
        if part.measure_first is not None:
            check_full_name(entry, self._table, part.measure_first, "measure_first")
        check_target(entry, sections, part.skip_to, "skip_to")
        check_target(entry, sections, part.then, "then")

    def _check_exposure(self, entry: Entry[StepPart]) -> None:
        """Each exposure must bring at least one caution; nobody meets a hazard without its words."""
        if not self._sections.whole or self._sections.broken["cautions"]:
            return
        for number, exposure in enumerate(entry.part.exposure):
            if not self._by_exposure[exposure]:
                known = [name for name, cautions in self._by_exposure.items() if cautions]
                hint = did_you_mean(exposure, known) or f"add a caution with 'exposure: {exposure}'"
                entry.wrong(f"no caution for exposure {shown(exposure)}", hint, "exposure", number)


def build_watch(entry: Entry[WatchPart], sections: Sections, table: NameTable) -> Watch:
    """One watch rule."""
    part = entry.part
    check_target(entry, sections, part.go, "go")
    check_target(entry, sections, part.again, "again")
    when = condition(entry, table, part.when, "when", in_set=True)
    return Watch(part.name, when, part.go, part.because, part.again)
