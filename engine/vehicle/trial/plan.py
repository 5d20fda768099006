"""What a trial is asked to do, and which faults its vehicle number i has."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from random import Random

from engine.flow.model import Flow
from engine.job.second import HEALTHY
from engine.vehicle.finer import ANY_FAULT, FINER
from engine.vehicle.trial.case import Ask, Drawer, Fault, Range
from engine.vehicle.trial.concludable import concludable

SMALL = 0.4
"""Severities up to this are small; faults that are there or not have none and stay out of them."""

FIRST_TRAINING_SEED = 1_000_000
"""Seeds from here on are for fitting weights, those below for judging: no vehicle is ever in both."""


class PlanError(ValueError):
    """The plan cannot be carried out; the message is a sentence with the remedy."""


JUDGED = Range(0.4, 1.0)
"""Severities where nothing else is asked for."""


@dataclass(frozen=True)
class Plan:
    """A trial of `flow` over `vehicles` vehicles of each of `fleets`.

    Without `named`, every other vehicle is healthy and the rest have one fault each of those that the flow
    can conclude, in equal shares. `named` are the only findings drawn then, `no-fault` among them if health
    is wanted. With `pairs` every vehicle has two faults (at least one of `named`). Severities are spread
    evenly over `severity`.
    """

    flow: Flow
    drawer: Drawer
    fleets: tuple[str, ...]
    vehicles: int = 2000
    seed: int = 1
    named: tuple[str, ...] = ()
    severity: Range = JUDGED
    ambient: Range | None = None
    refrigerant: str | None = None
    pairs: bool = False
    skipped: float = 0.0
    flow_name: str = ""  # what the person called the flow

    def __post_init__(self) -> None:
        if not self._drawn:
            raise PlanError(
                "No two of these faults can be in one vehicle; name others."
                if self.pairs
                else "No fault can be drawn so: the flow concludes none that these vehicles can have. Name "
                f"faults, or let severities reach above {SMALL:g} for those that are there or not."
            )

    def ask(self, fleet: str, index: int) -> Ask:
        """The vehicle number `index` (from 0) of a fleet; how many vehicles there are does not matter."""
        faults = tuple(Fault(name, self._severity(name, index)) for name in self._faults(index))
        return Ask(fleet, self.seed, index, faults, self.ambient, self.refrigerant, self.skipped)

    def _faults(self, index: int) -> tuple[str, ...]:
        if self.named or self.pairs:
            return self._drawn[index % len(self._drawn)]
        return self._drawn[index // 2 % len(self._drawn)] if index % 2 else ()

    def _severity(self, name: str, index: int) -> float | None:
        if not self.drawer.faults()[name]:
            return None
        chance = Random(f"{self.seed}:{index}:severity:{name}")
        return chance.uniform(self.severity.low, self.severity.high)

    @cached_property
    def _drawn(self) -> tuple[tuple[str, ...], ...]:
        """The faults of one round, in an order that hangs on the seed so that no two columns ever align."""
        known = self.drawer.faults()
        wanted = [name for name in self.named if name != HEALTHY] or self._all_faults()
        if self.pairs:
            pairs = combinations(sorted(set(self._all_faults()) | set(wanted)), 2)
            found: list[tuple[str, ...]] = [
                (one, other)
                for one, other in pairs
                if (one in wanted or other in wanted) and self.drawer.together(one, other)
            ]
        else:
            healthy_only = bool(self.named) and all(name == HEALTHY for name in self.named)
            found = [] if healthy_only else [(name,) for name in wanted if name in known]
            if HEALTHY in self.named:
                found.append(())
        Random(f"{self.seed}:faults").shuffle(found)
        return tuple(found)

    def _all_faults(self) -> list[str]:
        """Those that the flow can conclude; faults that are there or not stay out of small severities."""
        small = self.severity.high <= SMALL
        names = concludable(self.flow)
        known = self.drawer.faults()
        if names & ANY_FAULT:  # once each, by the name of the fault itself
            names |= known.keys() - FINER.keys()
        return [name for name, graded in known.items() if name in names and (graded or not small)]
