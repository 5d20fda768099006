"""Odds of a second finding fitted to vehicles with two faults: the column `beside` of the signs.

After the first finding was told, the question is which other one is there too, or none. The answer is a
multinomial logistic regression on that first finding and the signs that were heard, in which "none" always
weighs 1 and one number, the odds before any sign, is common to all. Most weights are held at nothing by a
penalty on their size (lasso), so that a person can read those that are left. Where a sign `weighs` a finding,
its direction is kept; where it does not, a weight may go either way and has to be worth more.

Needs SciPy (the extra `weigh`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from itertools import groupby
from math import exp, log
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.flow.model import Flow, Sign
from engine.job.second import HEALTHY
from engine.vehicle.trial.job import Result
from engine.vehicle.trial.outcome import NO_NAME, accepted_names
from engine.vehicle.trial.together import unstopped
from engine.vehicle.trial.weights.fit import MOST_STEPS, shared_out
from engine.vehicle.trial.weights.proposal import REVIEW, TooFew
from engine.vehicle.trial.weights.samples import heard_of
from engine.vehicle.trial.weights.table import LARGEST, Floats, Table, rounded, table_of

DECLARED, NEW, FIRST, SQUARED = 2.0, 10.0, 2.0, 0.3
"""Penalty on the size of a sign's weight that the flow declares, of a new one, of what a first finding puts
on another, and on the square of all: tables that a person can read, within two points of the best for
vehicles not fitted to. Our choice."""

FALSE_SECONDS = 0.15
"""Share of ranked single faults that may be told a second one; it makes the `also` odds. Our choice."""

WORTH = log(1.1)
"""Weights under this are not written."""


@dataclass(frozen=True, slots=True)
class Seconds:
    """A row a vehicle whose first finding was ranked and names a fault.

    `known` has two columns a sign (heard as true, as false) and one a finding (told first); `open` and
    `right` a column a finding: it may be told as the second, and it is one of the vehicle's other faults.
    """

    known: Floats
    open: NDArray[np.bool_]
    right: NDArray[np.bool_]
    two: NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Beside:
    """The flow with the fitted odds and the `also` odds from which a second finding is told."""

    flow: Flow
    also: float
    vehicles: int


def seconds(results: Iterable[Result], findings: Sequence[str]) -> Seconds:
    """The rows of `results`, which were walked as a shop would, signs kept. Raises TooFew.

    What names the first fault once more (the cause of ice, say) is neither a second one nor a mistake.
    """
    rows = [one for one in results if _names_a_fault(one)]
    if not any(len(one.faults) == 2 for one in rows):
        raise TooFew("No vehicle with two faults came to a ranking that names a fault; use more.")
    named = _among(findings, (accepted_names(one.faults) for one in rows))
    right = _among(findings, (_others(one) for one in rows))
    told = _among(findings, ({one.told.finding} for one in rows))
    open_ = np.array([[_may_be_second(one, name) for name in findings] for one in rows], dtype=bool)
    open_ &= right | ~named
    two = np.array([len(one.faults) == 2 for one in rows], dtype=bool)
    return Seconds(np.hstack([heard_of(rows), told.astype(float)]), open_, right & open_, two)


def _among(findings: Sequence[str], names: Iterable[Set[str]]) -> NDArray[np.bool_]:
    """A row for each set of names, and in it which of the findings are there."""
    return np.array([[name in those for name in findings] for those in names], dtype=bool)


def _names_a_fault(one: Result) -> bool:
    return not one.told.proved and one.told.finding not in NO_NAME | {HEALTHY}


def _may_be_second(one: Result, name: str) -> bool:
    return name not in (one.told.finding, HEALTHY) and name not in one.ruled_out


def _others(one: Result) -> frozenset[str]:
    """What names a fault that the first finding does not name."""
    return accepted_names(fault for fault in one.faults if one.told.finding not in fault.names)


def fit_beside(flow: Flow, results: Iterable[Result], *, new_pairs: bool = False) -> Beside:
    """The column that serves these vehicles best, some with one fault and some with two. Raises TooFew.

    Only walks that no fault stopped are learned from: an early ranking has seen too little for a second one.
    """
    table = table_of(flow, propose=True)
    given = seconds(unstopped(flow, results), table.findings)
    weights = _fitted(_free(table, flow, new_pairs), given)
    weights = np.where(np.abs(weights) < WORTH, 0.0, weights)
    signs = {
        name: replace(sign, beside=_column(table, weights[2 * row : 2 * row + 2]))
        for row, (name, sign) in enumerate(flow.signs.items())
    }
    also = exp(max(_least(weights, given), 0.0))
    limits = replace(flow.limits, also=max(rounded(also), 1.0))
    of_first = dict(zip(table.findings, weights[2 * len(signs) :], strict=True))
    by_first = {first: made for first, row in of_first.items() if (made := _of_first(table, row))}
    proposed = replace(flow, signs=signs, beside=by_first, limits=limits)
    return Beside(proposed, limits.also, len(given.two))


@dataclass(frozen=True, slots=True)
class _Free:
    """Weights that may change from what they are: row, column, which way (+1, -1), how far, at what cost."""

    now: Floats
    row: NDArray[np.intp]
    column: NDArray[np.intp]
    way: Floats
    most: Floats
    cost: Floats

    def weights(self, changes: Floats) -> Floats:
        made = self.now.copy()
        np.add.at(made, (self.row, self.column), changes * self.way)
        return made


def _free(table: Table, flow: Flow, new_pairs: bool) -> _Free:
    now = _now(table, flow)
    lowest, highest = _range(table, flow, now, new_pairs)
    cost = np.vstack(
        [np.where(table.weights != 0.0, DECLARED, NEW), np.full((len(table.findings),) * 2, FIRST)]
    )
    room = np.stack([highest - now, now - lowest])
    side, row, column = np.nonzero(room > 0.0)
    way = np.where(side == 0, 1.0, -1.0)
    return _Free(now, row, column, way, room[side, row, column], cost[row, column])


def _range(table: Table, flow: Flow, now: Floats, new_pairs: bool) -> tuple[Floats, Floats]:
    """How far each weight may go down and up: a sign's in its declared direction, or back to saying nothing.

    What a first finding puts on another may go either way. A graded step is heard where it is true only;
    reasoned signs stay as they are, as no vehicle shows them.
    """
    fitted = [(not sign.reasoned, not sign.graded and not sign.reasoned) for sign in flow.signs.values()]
    rows = np.array(fitted).reshape(-1, 1)
    fresh = ~table.present if new_pairs else np.zeros_like(table.present)
    first = np.ones((len(table.findings),) * 2, dtype=bool)
    up = np.vstack([((table.weights > 0.0) | fresh) & rows, first])
    down = np.vstack([((table.weights < 0.0) | fresh) & rows, first])
    moves = np.vstack([np.broadcast_to(rows, fresh.shape), first])
    lowest = np.where(down, -LARGEST, np.minimum(now, 0.0))
    highest = np.where(up, LARGEST, np.maximum(now, 0.0))
    return np.where(moves, lowest, now), np.where(moves, highest, now)


def _now(table: Table, flow: Flow) -> Floats:
    """The logarithms of the present odds, in the rows and columns of the fitted ones."""
    pairs = [sign.beside.get(name, (1.0, 1.0)) for sign in flow.signs.values() for name in table.findings]
    of_signs = np.array(pairs).reshape(len(flow.signs), len(table.findings), 2).transpose(0, 2, 1)
    of_first = [
        [flow.beside.get(one, {}).get(name, 1.0) for name in table.findings] for one in table.findings
    ]
    now: Floats = np.log(np.vstack([of_signs.reshape(-1, len(table.findings)), np.array(of_first)]))
    return now


def _fitted(free: _Free, given: Seconds) -> Floats:
    """The weights; the last number beside them is the logarithm of the odds before any sign."""
    from scipy.optimize import minimize
    from scipy.sparse import csr_matrix

    sparse = csr_matrix(given.known)
    right = np.hstack([given.right, ~given.right.any(axis=1, keepdims=True)])
    open_ = np.hstack([given.open, np.ones((len(right), 1), dtype=bool)])

    def objective(numbers: Floats) -> tuple[float, Floats]:
        changes, base = numbers[:-1], numbers[-1]
        logs = np.hstack([sparse @ free.weights(changes) + base, np.zeros((len(right), 1))])
        chances, log_right, among_right = shared_out(np.where(open_, logs, -np.inf), right)
        slope = (chances - among_right)[:, :-1]
        by_weight = sparse.T @ slope
        loss = -float(log_right.sum()) + float(free.cost @ changes) + SQUARED / 2.0 * float(changes @ changes)
        by_size = by_weight[free.row, free.column] * free.way + free.cost + SQUARED * changes
        return loss, np.append(by_size, slope.sum())

    count = len(free.row)
    found = minimize(
        objective,
        np.append(np.zeros(count), -3.0),
        jac=True,
        method="L-BFGS-B",
        bounds=[*((0.0, most) for most in free.most), (None, None)],
        options={"maxiter": MOST_STEPS},
    )
    return free.weights(found.x[:-1])


def _least(weights: Floats, given: Seconds) -> float:
    """The product of odds (its logarithm) over which single faults are told a second as often as we allow."""
    clearest = np.where(given.open, given.known @ weights, -np.inf)[~given.two].max(axis=1)
    return float(np.quantile(clearest, 1.0 - FALSE_SECONDS)) if len(clearest) else 0.0


def _column(table: Table, rows: Floats) -> dict[str, tuple[float, float]]:
    true, false = np.exp(rows)
    return {
        name: (rounded(float(true[column])), rounded(float(false[column])))
        for column, name in enumerate(table.findings)
        if rows[:, column].any()
    }


def _of_first(table: Table, row: Floats) -> dict[str, float]:
    return {
        name: rounded(float(np.exp(weight)))
        for name, weight in zip(table.findings, row, strict=True)
        if weight
    }


def beside_lines(found: Beside, fleet: str, seed: int) -> Iterator[str]:
    """The odds as lines for the signs and the head of the flow."""
    yield f"# Odds of a second finding: fitted together to {found.vehicles} simulated vehicles whose first"
    yield f"# finding was ranked (fleet {fleet}, seed {seed}). Goes with `limits: {{also: {found.also:g}}}`."
    yield REVIEW
    for name, column in columns(found.flow):
        told = ", ".join(f"{finding}: {_written(odds)}" for finding, odds in column.items())
        yield f"{name}: {{beside: {{{told}}}}}"
    yield "beside:  # in the head of the flow"
    for first, others in found.flow.beside.items():
        yield f"  {first}: {{{', '.join(f'{name}: {odds:g}' for name, odds in others.items())}}}"


def beside_to_plain(found: Beside, fleet: str, seed: int) -> dict[str, Any]:
    """The odds as JSON types."""
    return {
        "training_seed": seed,
        "training_vehicles": found.vehicles,
        "fleet": fleet,
        "also": found.also,
        "beside_first": {first: dict(others) for first, others in found.flow.beside.items()},
        "beside": {
            name: {one: list(odds) for one, odds in column.items()} for name, column in columns(found.flow)
        },
    }


def columns(flow: Flow) -> Iterator[tuple[str, Mapping[str, tuple[float, ...]]]]:
    """Signs that have odds `beside`, as written: if true and if false, or of every step of a graded one."""
    for name, group in groupby(flow.signs.values(), key=lambda sign: sign.written_as):
        steps = list(group)
        findings = dict.fromkeys(finding for step in steps for finding in step.beside)
        if findings:
            yield name, {finding: _odds_of(steps, finding) for finding in findings}


def _odds_of(steps: Sequence[Sign], finding: str) -> tuple[float, ...]:
    pairs = [step.beside.get(finding, (1.0, 1.0)) for step in steps]
    return tuple(true for true, _ in pairs) if steps[0].graded else pairs[0]


def _written(odds: Sequence[float]) -> str:
    return f"[{', '.join(f'{one:g}' for one in odds)}]"
