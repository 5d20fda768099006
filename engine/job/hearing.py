"""What the signs of a flow said when last heard, so that only those whose readings changed are heard anew.

A walk asks at every `for:` which findings are left, and most signs have not changed since the last.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import compress

from engine.flow.model import Flow
from engine.job.depends import rests_on
from engine.job.facts import Facts
from engine.job.weigh import Heard, heard_of, truths


@dataclass(frozen=True, slots=True)
class Hearing:
    """Whether each sign of the flow is true of the facts, in its order; None where it cannot be told."""

    flow: Flow
    facts: Facts
    truths: tuple[bool | None, ...]
    rest_on: tuple[frozenset[str], ...]  # the readings that can change each

    @property
    def heard(self) -> tuple[Heard, ...]:
        """The signs that could be told."""
        return heard_of(self.flow.signs.values(), self.truths)


def listen(flow: Flow, facts: Facts, before: Hearing | None = None) -> Hearing:
    """All signs heard of the facts; what an earlier hearing of this flow told is kept where it still holds.

    The steps of one graded sign rest on the same readings, so they are kept or heard anew together.
    """
    signs = flow.signs.values()
    if before is None or before.flow is not flow:
        return Hearing(flow, facts, tuple(truths(signs, facts)), tuple(rests_on(one.when) for one in signs))
    changed = facts.changed_since(before.facts)
    anew = [not changed.isdisjoint(readings) for readings in before.rest_on]
    told = truths(compress(signs, anew), facts)
    now = [next(told) if moved else old for moved, old in zip(anew, before.truths, strict=True)]
    return Hearing(flow, facts, tuple(now), before.rest_on)
