"""All odds of the sign-by-finding table fitted together: multinomial logistic regression within bounds.

Counting each sign by itself counts twice what moves together; here the probabilities that the whole table
gives are fitted to what was true. A penalty pulls every weight to the flow's present one, so that what the
vehicles say little about stays as it was reasoned, or as it was fitted to others before; where a graded sign
only `rises` or `falls`, its steps are pulled to saying nothing, for that declares no more than a direction.

Needs SciPy (the extra `weigh`), whose L-BFGS-B solves it. The problem is convex but for findings that count
for one another.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from engine.vehicle.trial.weights.free import Free
from engine.vehicle.trial.weights.ramps import Floats
from engine.vehicle.trial.weights.samples import Samples
from engine.vehicle.trial.weights.table import Table

PENALTIES = (0.1, 0.5, 1.0, 3.0, 10.0)
"""Tried where none is given; the one that serves vehicles not fitted to best is taken. Our choice."""

MOST_STEPS = 300
"""Of the solver. Later ones change no odds by a written digit; our choice."""


def fit(table: Table, given: Samples, penalty: float) -> Floats:
    """The weights that serve the samples best, each within its bounds. `penalty` is above 0."""
    from scipy.optimize import minimize
    from scipy.sparse import csr_matrix

    free, sparse = Free(table), replace(given, heard=csr_matrix(given.heard))

    def of_numbers(numbers: Floats) -> tuple[float, Floats]:
        loss, slope = _objective(free.weights(numbers), table, sparse, penalty)
        return loss, free.slopes(slope)

    found = minimize(
        of_numbers,
        free.start(table.within(table.weights)),
        jac=True,
        method="L-BFGS-B",
        bounds=list(zip(free.low, free.high, strict=True)),
        options={"maxiter": MOST_STEPS},
    )
    # each step's number has its bound; the sum of several may lie beyond that of a weight
    return table.within(free.weights(found.x))


def _objective(weights: Floats, table: Table, given: Samples, penalty: float) -> tuple[float, Floats]:
    """Minus the log likelihood of what was right, plus the penalty; and its gradient."""
    chances, log_right, right = _chances(weights, given)
    pulled = weights - table.pulled_to
    loss = -float(log_right.sum()) + penalty / 2.0 * float((pulled * pulled).sum())
    return loss, given.heard.T @ (chances - right) + penalty * pulled


def _chances(weights: Floats, given: Samples) -> tuple[Floats, Floats, Floats]:
    """Probability of each finding; log probability that a right one is named; shares among the right ones."""
    logs = given.heard @ weights + given.offset
    return shared_out(np.where(given.open, logs, -np.inf), given.right)


def shared_out(logs: Floats, right: NDArray[np.bool_]) -> tuple[Floats, Floats, Floats]:
    """From logarithms of weights, a row a vehicle: the probability of each answer, the log probability that a
    right one is given, and each one's share among the right ones.
    """
    parts = np.exp(logs - logs.max(axis=1, keepdims=True))
    total = parts.sum(axis=1, keepdims=True)
    held = np.where(right, parts, 0.0)
    right_total = np.maximum(held.sum(axis=1, keepdims=True), 1e-300)
    return parts / total, np.log(right_total / total)[:, 0], held / right_total


def best_penalty(table: Table, given: Samples) -> float:
    """The penalty under which a fit to two thirds of the samples serves the last third best."""
    rows = np.arange(len(given.truth))
    fitted_to, kept = _rows(given, rows % 3 != 0), _rows(given, rows % 3 == 0)
    losses = {
        penalty: -float(_chances(fit(table, fitted_to, penalty), kept)[1].sum()) for penalty in PENALTIES
    }
    return min(losses, key=lambda penalty: losses[penalty])


def _rows(given: Samples, chosen: Floats) -> Samples:
    truth = tuple(name for name, taken in zip(given.truth, chosen, strict=True) if taken)
    return Samples(given.heard[chosen], given.open[chosen], given.right[chosen], given.offset, truth)
