"""The flow's sign-by-finding table as arrays: present odds, allowed directions, and back.

Every sign has two weights a finding: one where it is true, one where it is false; unknown weighs nothing.
A weight is the natural logarithm of its odds. A step of a graded sign weighs only where it is true.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from math import floor, log, log10

import numpy as np
from numpy.typing import NDArray

from engine.flow.model import Flow, Sign
from engine.job.weigh import weighable
from engine.vehicle.trial.weights.ramps import FREE, Floats, Ramp, direction_of

__all__ = ["LARGEST", "Floats", "Table", "rounded", "table_of", "with_weights"]

LARGEST = log(100.0)
"""No fitted odds beyond 100 or 1/100: a simulated look errs less than a real one. Our choice."""

NEW_WORTH = log(1.5)
"""A new pair is proposed only from odds of 1.5 or 1/1.5. Our choice."""


@dataclass(frozen=True, slots=True)
class Table:
    """`weights`, `low` and `high` have 2 rows a sign (true, false) and a column a finding.

    `pulled_to` is what a penalty pulls to: the present weight, and nothing where the author of a graded sign
    gave a direction only. `ramps` are the graded signs.
    """

    signs: tuple[str, ...]
    findings: tuple[str, ...]
    weights: Floats
    low: Floats
    high: Floats
    present: NDArray[np.bool_]
    pulled_to: Floats
    ramps: tuple[Ramp, ...] = ()

    def within(self, weights: Floats) -> Floats:
        """The nearest weights that keep every declared direction."""
        kept = np.clip(weights, self.low, self.high)
        for ramp in self.ramps:
            ramp.keep(kept)
        return kept


def table_of(flow: Flow, *, propose: bool = False) -> Table:
    """The flow's table. With `propose`, pairs it says nothing about may take any weight, else none."""
    findings = weighable(flow, ())
    shape = (2 * len(flow.signs), len(findings))
    weights, low, high, pulled_to = (np.zeros(shape) for _ in range(4))
    present = np.zeros(shape, dtype=bool)
    for row, sign in enumerate(flow.signs.values()):
        for column, finding in enumerate(findings):
            pair = sign.weighs.get(finding)
            for half in (0, 1):
                at = 2 * row + half, column
                present[at] = pair is not None
                weights[at], low[at], high[at] = _range(sign, pair, half, propose)
                pulled_to[at] = 0.0 if finding in sign.directed else weights[at]
    ramps = tuple(_ramps(flow, findings))
    return Table(tuple(flow.signs), findings, weights, low, high, present, pulled_to, ramps)


def _ramps(flow: Flow, findings: tuple[str, ...]) -> Iterator[Ramp]:
    numbered = [(row, sign) for row, sign in enumerate(flow.signs.values()) if sign.graded]
    for _, group in groupby(numbered, key=lambda one: one[1].graded):
        steps = list(group)
        given = [tuple(sign.weighs.get(name, (1.0, 1.0))[0] for _, sign in steps) for name in findings]
        directions = np.array([direction_of(odds) for odds in given], dtype=np.int8)
        if (directions != FREE).any():
            yield Ramp(tuple(2 * row for row, _ in steps), directions)


def _range(
    sign: Sign, pair: tuple[float, float] | None, half: int, propose: bool
) -> tuple[float, float, float]:
    """The weight of a sign for one finding, where it is true (half 0) or false, and how far it may go."""
    odds = pair[half] if pair else 1.0
    if sign.reasoned:
        weight = log(odds) if odds > 0.0 else -LARGEST
        return weight, weight, weight
    return _bounds(odds, (half == 0 and pair is not None) if sign.graded else (pair is None and propose))


def _bounds(odds: float, free: bool) -> tuple[float, float, float]:
    """The weight and its range. Odds of 0 say "never" and odds of 1 say nothing: neither is fitted."""
    if odds == 0.0:
        return -LARGEST, -LARGEST, -LARGEST
    if free:
        return log(odds), -LARGEST, LARGEST
    weight = log(odds)
    if weight > 0.0:
        return min(weight, LARGEST), 0.0, LARGEST
    return max(weight, -LARGEST), (-LARGEST if weight < 0.0 else 0.0), 0.0


def rounded(odds: float) -> float:
    """To two digits: 12, 0.25, 130."""
    return round(odds, 1 - floor(log10(odds))) if odds > 0.0 else 0.0


def with_weights(flow: Flow, table: Table, fitted: Floats) -> Flow:
    """The flow with the fitted odds, rounded as they would be written. Odds of 0 stay 0."""
    signs = {
        name: replace(sign, weighs=_weighs(sign, table, fitted[2 * row : 2 * row + 2]))
        for row, (name, sign) in enumerate(flow.signs.items())
    }
    return replace(flow, signs=signs)


def _weighs(sign: Sign, table: Table, rows: Floats) -> dict[str, tuple[float, float]]:
    weighs = dict(sign.weighs)
    for column, finding in enumerate(table.findings):
        now = sign.weighs.get(finding)
        if now is None and np.abs(rows[:, column]).max() < NEW_WORTH:
            continue
        pair = now or (1.0, 1.0)
        weighs[finding] = (
            _odds(pair[0], float(rows[0, column])),
            _odds(pair[1], float(rows[1, column])),
        )
    return weighs


def _odds(now: float, weight: float) -> float:
    return 0.0 if now == 0.0 else rounded(float(np.exp(weight)))
